// Pullbook builds a printmaker's catalogue raisonné: in a window, or by batch
// commands where there is none.
package main

import (
	"os"

	"pullbook/app/batch"
)

func main() {
	os.Exit(batch.Run(os.Args[1:], os.Stdout, os.Stderr))
}
