// Pullbook builds a printmaker's catalogue raisonné: in a window, or by batch
// commands where there is none.
package main

import (
	"fmt"
	"os"

	"fyne.io/fyne/v2/app"

	"pullbook/app/batch"
	_ "pullbook/app/locale" // before the window's library looks for a language
	"pullbook/app/window"
)

// id is what the window's memory is kept under; FyneApp.toml names the same.
const id = "press.pullbook.catalogue"

func main() {
	args := os.Args[1:]
	if batch.Is(args) {
		os.Exit(batch.Run(args, os.Stdout, os.Stderr))
	}
	if trouble := noDisplay(os.Getenv); trouble != "" {
		fmt.Fprintln(os.Stderr, "pullbook:", trouble)
		os.Exit(1)
	}
	var o window.Options
	if len(args) > 0 {
		o.Dir, o.Take = args[0], args[1:]
	}
	if err := window.Run(app.NewWithID(id), o); err != nil {
		fmt.Fprintln(os.Stderr, "pullbook:", err)
		os.Exit(1)
	}
}
