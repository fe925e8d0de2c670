package main

import (
	"fmt"
	"regexp"
	"strings"
)

// commandLine is a command with its summary in what 'pullbook help' prints.
var commandLine = regexp.MustCompile(`(?m)^    ([a-z][a-z-]*) +\S.*$`)

// manual is the man page, in the words of the program's own help.
func (r *release) manual() ([]byte, error) {
	overview, err := output(r.program, "help")
	if err != nil {
		return nil, err
	}
	_, listed, _ := strings.Cut(overview, "Without the window:")
	names := commandLine.FindAllStringSubmatch(listed, -1)
	if len(names) == 0 {
		return nil, fmt.Errorf("no command is found in what '%s help' prints", r.command())
	}
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s 1 %s \"%s %s\"\n", strings.ToUpper(r.command()), r.made.Format("2006-01-02"), r.Name, r.Version)
	fmt.Fprintf(&b, ".SH NAME\n%s \\- %s\n", r.command(), troff(strings.ToLower(r.GenericName)))
	fmt.Fprintf(&b, ".SH SYNOPSIS\n.B %[1]s\n[\\fIcatalogue\\fR [\\fIphotograph\\fR...]]\n.br\n.B %[1]s\n\\fIcommand\\fR [\\fIargument\\fR...]\n", r.command())
	fmt.Fprintf(&b, ".SH DESCRIPTION\n%s.\n.PP\n%s\n.SH COMMANDS\n", troff(r.Comment), asIs(overview))
	for _, n := range names {
		page, err := output(r.program, "help", n[1])
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, ".SS %s\n%s\n", troff(n[1]), asIs(page))
	}
	b.WriteString(".SH FILES\nA catalogue is a folder whose name ends in .pullbook; packed into one file, its name ends in .pullbook.zip.\n")
	return []byte(b.String()), nil
}

// asIs sets text line by line as it stands.
func asIs(text string) string { return ".nf\n" + troff(text) + "\n.fi" }

// troff escapes what would mean something to the typesetter of man pages.
func troff(text string) string {
	lines := strings.Split(strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text), "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}
