package main

import (
	"bufio"
	"encoding/json"
	"io"
	"regexp"
	"strconv"
	"strings"
)

// event is one line of go test -json ('go doc test2json'), and of the messages
// of the compiler beside it ('go help buildjson').
type event struct {
	Action, Package, Test, Output, ImportPath string
	Elapsed                                   float64 // seconds
}

// tested is one package, or one test in it when it has a name.
type tested struct {
	pkg, name string
	outcome   string // pass, fail, skip, "" when it never ended
	seconds   float64
	coverage  float64 // of the package's statements in per cent, -1 untold
	passed    int
	failed    int
	skipped   int
	log       []string
}

// results are the packages and their tests in the order of their beginnings.
type results struct {
	packages, tests []*tested
	compiler        []string
	known           map[[2]string]*tested
}

var covered = regexp.MustCompile(`coverage: ([0-9.]+)% of statements`)

// read reads events; lines that are none are the compiler's.
func read(in io.Reader) (*results, error) {
	r := &results{known: map[[2]string]*tested{}}
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, 16<<20)
	for lines.Scan() {
		var e event
		if err := json.Unmarshal(lines.Bytes(), &e); err != nil {
			r.compiler = append(r.compiler, lines.Text())
			continue
		}
		r.add(&e)
	}
	return r, lines.Err()
}

// of gives the record of a package or test, new at its first event.
func (r *results) of(pkg, name string) *tested {
	key := [2]string{pkg, name}
	t := r.known[key]
	if t == nil {
		t = &tested{pkg: pkg, name: name, coverage: -1}
		r.known[key] = t
		if name == "" {
			r.packages = append(r.packages, t)
		} else {
			r.tests = append(r.tests, t)
		}
	}
	return t
}

func (r *results) add(e *event) {
	if e.Package == "" {
		if e.Action == "build-output" {
			r.compiler = append(r.compiler, strings.TrimRight(e.Output, "\n"))
		}
		return
	}
	pkg := r.of(e.Package, "")
	t := r.of(e.Package, e.Test)
	switch e.Action {
	case "output":
		t.log = append(t.log, strings.TrimRight(e.Output, "\n"))
		if m := covered.FindStringSubmatch(e.Output); m != nil && e.Test == "" {
			pkg.coverage, _ = strconv.ParseFloat(m[1], 64)
		}
	case "pass", "fail", "skip":
		t.outcome, t.seconds = e.Action, e.Elapsed
		if e.Test == "" {
			return
		}
		switch e.Action {
		case "pass":
			pkg.passed++
		case "fail":
			pkg.failed++
		case "skip":
			pkg.skipped++
		}
	}
}

// place is where in a file a test logged a line.
var place = regexp.MustCompile(`^\s*[A-Za-z0-9_]+\.go:[0-9]+: `)

// said are the lines that a test logged itself, without where.
func (t *tested) said() []string {
	var lines []string
	for _, l := range t.log {
		if at := place.FindString(l); at != "" {
			lines = append(lines, strings.TrimSpace(l[len(at):]))
		} else if strings.HasPrefix(l, "        ") {
			lines = append(lines, strings.TrimSpace(l)) // goes on
		}
	}
	return lines
}

// figure matches the lines that are shown of tests that passed.
var figure = regexp.MustCompile(`\bowed\b|\blimit\b|\bof [0-9,]+ right\b|^\|.*\|$`)

func (t *tested) figures() []string {
	var lines []string
	for _, l := range t.said() {
		if figure.MatchString(l) {
			lines = append(lines, l)
		}
	}
	return lines
}
