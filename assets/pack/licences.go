package main

import (
	"bytes"
	"debug/buildinfo"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// notice is the licence of one thing that is in the program.
type notice struct{ of, text string }

// licenceName matches the names under which modules keep their licences.
var licenceName = regexp.MustCompile(`(?i)^(.*-)?(licen[cs]e|copying|notice|patents|ofl)([-_.].*)?$`)

// noticesFile holds the licences of all that is built in.
const noticesFile = "notices.gz"

// copyright is the file that Debian Policy 12.5 asks for: the program's own
// licence, and what else is built in.
func (r *release) copyright(own []byte, notices []notice) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s is under this licence:\n\n%s\n", r.Name, r.Version, own)
	fmt.Fprintf(&b, "Built into it are the following. Their licences stand in full in %s beside\n"+
		"this file; on Debian that of Apache 2.0 also in /usr/share/common-licenses.\n"+
		"SQLite, in the module github.com/mattn/go-sqlite3, is in the public domain\n"+
		"(sqlite.org/copyright.html).\n\n", noticesFile)
	for _, n := range notices {
		fmt.Fprintf(&b, "  %s\n", n.of)
	}
	return []byte(b.String())
}

// joined sets notices one after another, each under its name.
func joined(notices []notice) []byte {
	var b strings.Builder
	rule := strings.Repeat("-", 76)
	for _, n := range notices {
		fmt.Fprintf(&b, "%s\n%s\n%s\n\n%s\n\n", rule, n.of, rule, strings.TrimSpace(n.text))
	}
	return []byte(strings.ReplaceAll(b.String(), "\r\n", "\n"))
}

// notices are those of Go, of every module in the program, and of the typefaces
// and hyphenation patterns under assets.
func (r *release) notices() ([]notice, error) {
	info, err := buildinfo.ReadFile(r.program)
	if err != nil {
		return nil, err
	}
	root, err := output("go", "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	text, err := os.ReadFile(filepath.Join(root, "LICENSE"))
	if err != nil {
		return nil, err
	}
	all := []notice{{"Go " + strings.TrimPrefix(info.GoVersion, "go") + ", library and run-time", string(text)}}
	list := []string{"list", "-m", "-f", "{{.Path}} {{.Version}}\t{{.Dir}}"}
	for _, m := range info.Deps {
		list = append(list, m.Path)
	}
	modules, err := output("go", list...)
	if err != nil {
		return nil, err
	}
	for line := range strings.Lines(modules) {
		of, dir, _ := strings.Cut(strings.TrimSpace(line), "\t")
		found, err := noticesIn(dir, of)
		if err != nil {
			return nil, err
		}
		if len(found) == 0 {
			return nil, fmt.Errorf("no licence is found in the module %s", of)
		}
		all = append(all, found...)
	}
	own, err := ownNotices()
	return append(all, own...), err
}

// noticesIn are the licences in a folder and below, each text once.
func noticesIn(dir, of string) ([]notice, error) {
	var all []notice
	err := filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && (e.Name() == "testdata" || e.Name() == "cmd"):
			return filepath.SkipDir
		case e.IsDir() || !licenceName.MatchString(e.Name()) || filepath.Ext(p) == ".go":
			return nil
		}
		text, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(all, func(n notice) bool { return n.text == string(text) }) {
			return nil
		}
		rel, err := filepath.Rel(dir, p)
		if err == nil {
			all = append(all, notice{of + ", " + filepath.ToSlash(rel), string(text)})
		}
		return err
	})
	return all, err
}

// ownNotices are those of the typefaces and of the hyphenation patterns, whose
// licences stand in lines of comment at their heads.
func ownNotices() ([]notice, error) {
	all, err := noticesIn(filepath.Join("assets", "fonts"), "typefaces")
	if err != nil {
		return nil, err
	}
	patterns, err := filepath.Glob(filepath.Join("assets", "hyphen", "*.pat"))
	if err != nil {
		return nil, err
	}
	for _, p := range patterns {
		data, err := os.ReadFile(p)
		if err != nil {
			return nil, err
		}
		var head []byte
		for line := range bytes.Lines(data) {
			if !bytes.HasPrefix(line, []byte("%")) {
				break
			}
			head = append(head, bytes.TrimLeft(line, "% ")...)
		}
		all = append(all, notice{"hyphenation patterns, " + filepath.Base(p), string(head)})
	}
	return all, nil
}
