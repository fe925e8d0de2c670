// Package batch is Pullbook without a window: commands that measure, file, lay
// out, export and verify, for scripts and for machines without a display.
//
// Every command ends with 0 when it did what was asked, 1 when something could
// not be measured or was refused (the reason is in the output), 2 when it was
// called wrongly. With --json exactly one JSON document is written to standard
// output and nothing else; messages always go to standard error.
package batch

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"pullbook/app/studio"
)

// Exit codes.
const (
	exitDone  = 0
	exitShort = 1 // something was refused or could not be measured
	exitUsage = 2
)

// usageError is a wrong call: the sentence says what is wrong.
type usageError struct{ sentence string }

func (e *usageError) Error() string { return e.sentence }

func usage(format string, a ...any) error {
	return &usageError{fmt.Sprintf(format, a...)}
}

// errShort ends a command whose output already says what fell short.
var errShort = errors.New("something could not be done")

// call is one command being carried out.
type call struct {
	ctx      context.Context
	out, err io.Writer
	flags    *flag.FlagSet
	args     []string // what is not a flag
}

// command is one of the program's commands.
type command struct {
	name    string
	line    string // its arguments
	summary string
	help    string
	run     func(*call) error
}

// Is reports whether the arguments ask for a batch command rather than for
// the window: everything but nothing at all and a catalogue, in its folder or
// packed, which photographs to take in may follow.
func Is(args []string) bool {
	if len(args) == 0 {
		return false
	}
	if find(args[0]) != nil || strings.HasPrefix(args[0], "-") || args[0] == "help" {
		return true
	}
	info, err := os.Stat(args[0])
	return err != nil || !info.IsDir() && !studio.IsPacked(args[0])
}

// Run carries out one command and returns the exit code. An interrupt stops
// the command soon; what was recorded until then stays.
func Run(args []string, stdout, stderr io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	return RunContext(ctx, args, stdout, stderr)
}

// RunContext is [Run] that can be stopped by a context.
func RunContext(ctx context.Context, args []string, stdout, stderr io.Writer) (code int) {
	defer func() {
		// A fault of ours must not look like a verdict on a photograph.
		if v := recover(); v != nil {
			fmt.Fprintf(stderr, "pullbook: something went wrong inside the program: %v. Nothing recorded before was lost.\n%s", v, debug.Stack())
			code = exitShort
		}
	}()
	if len(args) == 0 {
		fmt.Fprint(stderr, overview())
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		return help(args[1:], stdout, stderr)
	case "version", "-version", "--version":
		fmt.Fprint(stdout, version())
		return exitDone
	}
	cmd := find(args[0])
	if cmd == nil {
		fmt.Fprintf(stderr, "pullbook: there is no command %q and no catalogue folder of that name; 'pullbook help' lists the commands.\n", args[0])
		return exitUsage
	}
	err := cmd.run(&call{ctx: ctx, out: stdout, err: stderr, args: args[1:]})
	if err != nil && !errors.Is(err, errShort) && ctx.Err() != nil {
		err = ctx.Err() // whatever it looks like, it came of being stopped
	}
	return finish(cmd, err, stdout, stderr)
}

func finish(cmd *command, err error, stdout, stderr io.Writer) int {
	var wrong *usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprint(stdout, cmd.page())
		return exitDone
	case errors.As(err, &wrong):
		fmt.Fprintf(stderr, "pullbook %s: %s\nUsage: pullbook %s %s\n", cmd.name, wrong.sentence, cmd.name, cmd.line)
		return exitUsage
	case errors.Is(err, errShort):
		return exitShort
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		fmt.Fprintf(stderr, "pullbook %s: stopped. What was recorded before stays; call it again to go on.\n", cmd.name)
		return exitShort
	}
	fmt.Fprintf(stderr, "pullbook %s: %s\n", cmd.name, closed(err.Error()))
	return exitShort
}

// closed ends a sentence with a full stop.
func closed(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}

// parse reads flags and arguments in any order; after "--" all are arguments.
func (c *call) parse(define func(*flag.FlagSet)) error {
	c.flags = flag.NewFlagSet("", flag.ContinueOnError)
	c.flags.SetOutput(io.Discard)
	c.flags.Usage = func() {}
	define(c.flags)
	rest := c.args
	c.args = nil
	for len(rest) > 0 {
		if err := c.flags.Parse(rest); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return err
			}
			return usage("%s", closed(err.Error()))
		}
		left := c.flags.Args()
		// Parse swallowed a "--" if that is what stopped it.
		if n := len(rest) - len(left); n > 0 && rest[n-1] == "--" {
			c.args = append(c.args, left...)
			return nil
		}
		if len(left) == 0 {
			return nil
		}
		c.args = append(c.args, left[0])
		rest = left[1:]
	}
	return nil
}

// writeJSON writes the one document of a --json command.
func (c *call) writeJSON(v any) error {
	e := json.NewEncoder(c.out)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return studio.Refuse("The result could not be written: %v.", err)
	}
	return nil
}

// answer writes what a command found, as JSON or in lines; short says that
// something in it was refused.
func (c *call) answer(doc interface{ print(*call) }, asJSON, short bool) error {
	if asJSON {
		if err := c.writeJSON(doc); err != nil {
			return err
		}
	} else {
		doc.print(c)
	}
	if short {
		return errShort
	}
	return nil
}

// say writes a line for people to standard output.
func (c *call) say(format string, a ...any) { fmt.Fprintf(c.out, format+"\n", a...) }

// note writes a message to standard error.
func (c *call) note(format string, a ...any) { fmt.Fprintf(c.err, format+"\n", a...) }
