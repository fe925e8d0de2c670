package batch

import (
	"fmt"
	"io"
	"strings"
)

// commands in the order of a working day.
var commands []*command

func init() {
	commands = []*command{
		&sampleCommand, &scoreCommand, &changesCommand, &placeCommand, &sameCommand, &repeatCommand, &sessionCommand, &fileCommand, &takeInCommand, &lifeCommand,
		&layOutCommand, &recordCommand, &labelsCommand, &daySheetCommand, &exportCommand, &verifyCommand, &packCommand, &unpackCommand,
	}
}

func find(name string) *command {
	for _, c := range commands {
		if c.name == name {
			return c
		}
	}
	return nil
}

// overview is what 'pullbook help' prints.
func overview() string {
	var b strings.Builder
	b.WriteString(`Pullbook keeps the catalogue of a printmaker's plates and measures the impressions.

    pullbook                 open the window
    pullbook CATALOGUE       open the window on a catalogue: its folder, or the
                             file it is packed in, which is unpacked beside it

Without the window:

`)
	for _, c := range commands {
		fmt.Fprintf(&b, "    %-9s %s\n", c.name, c.summary)
	}
	b.WriteString(`
'pullbook help COMMAND' says more. --json, where there is one, writes one JSON
document to standard output. Exit codes: 0 done; 1 something could not be
measured or was refused, and the output says why; 2 wrong usage. Sizes are
height x width, in millimetres.
`)
	return b.String()
}

// page is the help of one command.
func (c *command) page() string {
	return fmt.Sprintf("pullbook %s %s\n\n%s\n", c.name, c.line, strings.TrimSpace(c.help))
}

func help(args []string, stdout, stderr io.Writer) int {
	if len(args) == 0 {
		fmt.Fprint(stdout, overview())
		return exitDone
	}
	c := find(args[0])
	if c == nil {
		fmt.Fprintf(stderr, "pullbook: there is no command %q; 'pullbook help' lists the commands.\n", args[0])
		return exitUsage
	}
	fmt.Fprint(stdout, c.page())
	return exitDone
}
