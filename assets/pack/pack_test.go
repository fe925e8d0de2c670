package main

import (
	"archive/tar"
	"bytes"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"os"
	"strings"
	"testing"
	"time"
)

// packing and its tests stand in the top folder.
func top(t *testing.T) app {
	t.Helper()
	t.Chdir("../..")
	a, err := readApp("FyneApp.toml")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// One version everywhere: FyneApp.toml, the news, the program.
func TestOneVersion(t *testing.T) {
	a := top(t)
	for path, want := range map[string]string{
		"assets/pack/changelog": a.command() + " (" + a.Version + ") ",
		"app/batch/version.go":  fmt.Sprintf("const Version = %q\n", a.Version),
	} {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), want) {
			t.Errorf("%s does not say %q, and FyneApp.toml does", path, want)
		}
	}
}

// The entry has the keys that the Desktop Entry Specification 1.1 requires of
// an application, and main categories from the Desktop Menu Specification 1.1,
// appendix A.
func TestDesktopEntry(t *testing.T) {
	a := top(t)
	entry := string(a.fill(desktopEntry))
	if !strings.HasPrefix(entry, "[Desktop Entry]\n") {
		t.Fatalf("begins with %.40q", entry)
	}
	keys := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(entry), "\n")[1:] {
		k, v, ok := strings.Cut(line, "=")
		if !ok || v == "" {
			t.Errorf("%q is no key with a value", line)
		}
		keys[k] = v
	}
	if keys["Type"] != "Application" || keys["Name"] != "Pullbook" || keys["Exec"] != "pullbook %f" {
		t.Errorf("type, name or command are wrong: %v", keys)
	}
	for _, k := range []string{"Categories", "Keywords", "MimeType"} {
		if !strings.HasSuffix(keys[k], ";") {
			t.Errorf("the list %s does not end in a semicolon: %q", k, keys[k])
		}
	}
	main := " AudioVideo Audio Video Development Education Game Graphics Network Office Science Settings System Utility "
	for _, c := range strings.Split(strings.TrimSuffix(keys["Categories"], ";"), ";") {
		if !strings.Contains(main, " "+c+" ") {
			t.Errorf("%q is no main category", c)
		}
	}
}

// The type's file is well-formed and knows the ending that the program gives.
func TestMIMEType(t *testing.T) {
	a := top(t)
	var f struct {
		Type struct {
			Name string `xml:"type,attr"`
			Glob struct {
				Pattern string `xml:"pattern,attr"`
			} `xml:"glob"`
		} `xml:"mime-type"`
	}
	if err := xml.Unmarshal(a.fill(mimeType), &f); err != nil {
		t.Fatal(err)
	}
	store, err := os.ReadFile("catalog/store/store.go")
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("PackedSuffix = %q", strings.TrimPrefix(f.Type.Glob.Pattern, "*")); f.Type.Name != packedType || !strings.Contains(string(store), want) {
		t.Errorf("the type is %+v; catalog/store does not say %s", f.Type, want)
	}
}

// Every size of icon is a picture of that size with something in it.
func TestIcons(t *testing.T) {
	r := &release{app: top(t)}
	files, err := r.icons()
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, f := range files {
		var size int
		if n, _ := fmt.Sscanf(f.path, "share/icons/hicolor/%dx", &size); n == 0 {
			continue
		}
		found++
		p, err := png.Decode(bytes.NewReader(f.data))
		if err != nil {
			t.Fatalf("%s: %v", f.path, err)
		}
		if b := p.Bounds(); b.Dx() != size || b.Dy() != size {
			t.Errorf("%s is %v", f.path, b)
		}
		if _, _, _, alpha := p.At(size/2, size/2).RGBA(); alpha == 0 {
			t.Errorf("%s has nothing in its middle", f.path)
		}
	}
	if found != len(iconSizes) {
		t.Errorf("%d icons, want %d", found, len(iconSizes))
	}
}

func TestLicenceNames(t *testing.T) {
	for name, want := range map[string]bool{
		"LICENSE": true, "LICENSE.md": true, "LICENSE_Inter.txt": true, "Boost-LICENSE": true, "COPYING.txt": true, "NOTICE": true,
		"OFL.txt": true, "PATENTS": true, "LICENCE-reader": true,
		"README.md": false, "licensed.go": false, "copyingtest": false,
	} {
		if got := licenceName.MatchString(name); got != want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// The typefaces and patterns bring their licences.
func TestOwnNotices(t *testing.T) {
	top(t)
	all, err := ownNotices()
	if err != nil {
		t.Fatal(err)
	}
	text := string(joined(all))
	for _, want := range []string{"typefaces, ebgaramond/OFL.txt", "typefaces, lato/OFL.txt", "typefaces, liberation/OFL.txt",
		"patterns, de-1996.pat", "patterns, en-gb.pat", "patterns, fr.pat", "SIL OPEN FONT LICENSE", "Permission is hereby granted"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
}

// A hyphen is not broken on, and no line is taken for an order (groff_man(7)).
func TestTroff(t *testing.T) {
	for in, want := range map[string]string{
		"--json":     `\-\-json`,
		".nf\n'sp x": "\\&.nf\n\\&'sp x",
		`a\b`:        `a\eb`,
	} {
		if got := troff(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

func TestWrapped(t *testing.T) {
	if got, want := wrapped("one two three four", 9), "one two\n three\n four"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A tarball holds what the tree holds, all under one folder, and its bytes
// depend on nothing else.
func TestTarball(t *testing.T) {
	tree := []file{{"bin/x", 0o755, []byte("program")}, {"share/doc/x/copyright", 0o644, []byte("ours")}}
	made := time.Unix(1_700_000_000, 0)
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := writeTar(w, "x-1/", tree, made); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same tree gives other bytes")
	}
	in := tar.NewReader(&a)
	for _, f := range tree {
		h, err := in.Next()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(in)
		if err != nil || string(data) != string(f.data) || h.Name != "x-1/"+f.path || h.Mode != int64(f.mode) || !h.ModTime.Equal(made) {
			t.Errorf("%+v holds %q (%v), want %+v", h, data, err, f)
		}
	}
	if _, err := in.Next(); err != io.EOF {
		t.Errorf("something follows: %v", err)
	}
}
