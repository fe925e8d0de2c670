package main

import (
	"fmt"
	"io"
	"strings"
)

// print writes the summary; size is that of the program in bytes, 0 untold.
func (r *results) print(w io.Writer, size int64) {
	r.printFailures(w)
	r.printSkipped(w)
	r.printPackages(w)
	r.printFigures(w)
	if size > 0 {
		fmt.Fprintf(w, "\n== the program\n%.1f MB\n", float64(size)/1e6)
	}
	var sum tested
	for _, p := range r.packages {
		sum.passed += p.passed
		sum.failed += p.failed
		sum.skipped += p.skipped
	}
	fmt.Fprintf(w, "\n%d passed, %d failed, %d skipped\n", sum.passed, sum.failed, sum.skipped)
}

// bad reports whether a test failed or never ended.
func (t *tested) bad() bool { return t.outcome == "fail" || t.outcome == "" }

// printFailures writes the whole output of what failed: the tests, and their
// packages, where a panic outside of any test stands.
func (r *results) printFailures(w io.Writer) {
	lines := r.compiler
	for _, list := range [][]*tested{r.tests, r.packages} {
		for _, t := range list {
			if t.bad() {
				lines = append(lines, fmt.Sprintf("-- %s %s", short(t.pkg), t.name))
				lines = append(lines, t.log...)
			}
		}
	}
	section(w, "failed", lines)
}

func (r *results) printSkipped(w io.Writer) {
	var lines []string
	for _, t := range r.tests {
		if t.outcome == "skip" {
			lines = append(lines, fmt.Sprintf("%s %s: %s", short(t.pkg), t.name, strings.Join(t.said(), " ")))
		}
	}
	section(w, "skipped", lines)
}

func (r *results) printPackages(w io.Writer) {
	var lines []string
	for _, p := range r.packages {
		if p.passed+p.failed+p.skipped == 0 && !p.bad() {
			continue // has no tests
		}
		coverage := "-"
		if p.coverage >= 0 {
			coverage = fmt.Sprintf("%.1f %%", p.coverage)
		}
		lines = append(lines, fmt.Sprintf("%-36s %5d %5d %5d %8.1f s %8s", short(p.pkg), p.passed, p.failed, p.skipped, p.seconds, coverage))
	}
	if len(lines) > 0 {
		lines = append([]string{fmt.Sprintf("%-36s %5s %5s %5s %10s %8s", "", "pass", "fail", "skip", "time", "coverage")}, lines...)
	}
	section(w, "packages", lines)
}

// printFigures writes what tests measured; subtests stand under their own names.
func (r *results) printFigures(w io.Writer) {
	var lines []string
	for _, t := range r.tests {
		found := t.figures()
		if t.outcome != "pass" || len(found) == 0 {
			continue
		}
		lines = append(lines, fmt.Sprintf("-- %s %s", short(t.pkg), t.name))
		lines = append(lines, found...)
	}
	section(w, "measured by tests", lines)
}

// short is a package's path within the module.
func short(pkg string) string {
	_, path, ok := strings.Cut(pkg, "/")
	if !ok {
		return pkg
	}
	return path
}

func section(w io.Writer, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(w, "\n== %s\n", title)
	for _, l := range lines {
		fmt.Fprintln(w, l)
	}
}
