package iiif

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"pullbook/catalog/exchange/internal/specimen"
)

// modules is the folder node_modules named by PULLBOOK_NODE, with the packages
// @iiif/presentation-3 (types of Presentation 3.0 for TypeScript, 2.2.3 when
// this was written), @iiif/parser (2.2.10) and typescript (5.9.3).
func modules(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("PULLBOOK_NODE")
	if dir == "" {
		t.Skip("PULLBOOK_NODE names no folder node_modules, so the manifests were not tried with published types and a published reader")
	}
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("Node.js is not here, so the manifests were not tried with published types and a published reader")
	}
	for _, name := range []string{"@iiif/presentation-3", "@iiif/parser", "typescript"} {
		b, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name), "package.json"))
		if err != nil {
			t.Fatal(err)
		}
		var p struct{ Version string }
		if err := json.Unmarshal(b, &p); err != nil {
			t.Fatal(err)
		}
		t.Logf("%s %s", name, p.Version)
	}
	return dir
}

// published are the manifests and the collection of the specimen, and those of
// the folder that PULLBOOK_IIIF names, an export of any catalogue.
func published(t *testing.T) (manifests, collections []string) {
	t.Helper()
	dir, _ := write(t, specimen.Snapshot())
	dirs := []string{dir}
	if more := os.Getenv("PULLBOOK_IIIF"); more != "" {
		dirs = append(dirs, more)
	}
	for _, d := range dirs {
		found, err := filepath.Glob(filepath.Join(d, "plates", "*", "manifest.json"))
		if err != nil || len(found) == 0 {
			t.Fatalf("%s holds no manifest, %v", d, err)
		}
		manifests = append(manifests, found...)
		collections = append(collections, filepath.Join(d, "collection.json"))
	}
	t.Logf("%d manifests", len(manifests))
	return manifests, collections
}

// compile has the TypeScript compiler hold values to the published types and
// returns the messages for each; types are Manifest or Collection.
func compile(t *testing.T, dir string, types []string, values [][]byte) map[int][]string {
	t.Helper()
	work := t.TempDir()
	if err := os.Symlink(dir, filepath.Join(work, "node_modules")); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	var starts []int
	line := func() int { return 1 + bytes.Count(b.Bytes(), []byte("\n")) }
	b.WriteString("import type { Manifest, Collection } from \"@iiif/presentation-3\";\n")
	for i, v := range values {
		starts = append(starts, line())
		fmt.Fprintf(&b, "export const v%d: %s = %s;\n", i, types[i], bytes.TrimSpace(v))
	}
	if err := os.WriteFile(filepath.Join(work, "all.ts"), b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", filepath.Join(dir, "typescript", "lib", "tsc.js"), "--noEmit", "--strict", "--skipLibCheck", "--module", "esnext",
		"--moduleResolution", "bundler", "--target", "es2022", "--pretty", "false", "all.ts")
	cmd.Dir = work
	out, err := cmd.CombinedOutput()
	found := map[int][]string{}
	for _, m := range regexp.MustCompile(`(?m)^all\.ts\((\d+),\d+\): (.*)$`).FindAllStringSubmatch(string(out), -1) {
		at, atoiErr := strconv.Atoi(m[1])
		if atoiErr != nil {
			t.Fatal(atoiErr)
		}
		i := sort.SearchInts(starts, at+1) - 1
		found[i] = append(found[i], m[2])
	}
	if (err != nil) != (len(found) > 0) {
		t.Fatalf("the compiler ended with %v:\n%.2000s", err, out)
	}
	return found
}

// withoutScales takes the services that say the scale out of a manifest, since
// the published types know only the services they list and this one is of an
// annex; it must be what the annex asks for.
func withoutScales(t *testing.T, doc []byte) []byte {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal(doc, &v); err != nil {
		t.Fatal(err)
	}
	for _, item := range v["items"].([]any) {
		c := item.(map[string]any)
		services, _ := c["service"].([]any)
		if len(services) > 1 {
			t.Fatalf("a canvas has %d services", len(services))
		}
		for _, s := range services {
			if m := s.(map[string]any); m["profile"] != "http://iiif.io/api/annex/services/physdim" || m["physicalUnits"] != "mm" || !(m["physicalScale"].(float64) > 0) {
				t.Fatalf("a canvas has the service %v", m)
			}
		}
		delete(c, "service")
	}
	out, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// withMembers gives each member of a collection the items that the published
// type of a whole manifest has; a collection refers to manifests without them
// (Presentation 3.0, 5.1).
func withMembers(t *testing.T, doc []byte) []byte {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal(doc, &v); err != nil {
		t.Fatal(err)
	}
	for _, m := range v["items"].([]any) {
		m.(map[string]any)["items"] = []any{}
	}
	out, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Every manifest and collection is of the published types. The negative cases
// of STANDARDS.md 6.4 are not, but for a canvas with one of its sides, which
// types cannot tell.
func TestPublishedTypes(t *testing.T) {
	dir := modules(t)
	manifests, collections := published(t)
	var values [][]byte
	var types, names []string
	add := func(name, typ string, value []byte) {
		names, types, values = append(names, name), append(types, typ), append(values, value)
	}
	for _, list := range [][]string{manifests, collections} {
		for _, name := range list {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if filepath.Base(name) == "collection.json" {
				add(name, "Collection", withMembers(t, b))
			} else {
				add(name, "Manifest", withoutScales(t, b))
			}
		}
	}
	good := len(values)
	canvas := func(v map[string]any) map[string]any { return v["items"].([]any)[0].(map[string]any) }
	for name, change := range map[string]func(map[string]any){
		"no label":              func(v map[string]any) { delete(v, "label") },
		"no items":              func(v map[string]any) { delete(v, "items") },
		"no id":                 func(v map[string]any) { delete(v, "id") },
		"label as text":         func(v map[string]any) { v["label"] = "The Weir" },
		"lower-case type":       func(v map[string]any) { v["type"] = "manifest" },
		"height as text":        func(v map[string]any) { canvas(v)["height"] = "1200" },
		"a property of our own": func(v map[string]any) { v["edition"] = "7/30" },
		"canvas without id":     func(v map[string]any) { delete(canvas(v), "id") },
	} {
		v := example(t)
		delete(canvas(v), "service")
		change(v)
		b, err := json.MarshalIndent(v, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		add(name, "Manifest", b)
	}
	found := compile(t, dir, types, values)
	for i, name := range names {
		switch {
		case i < good && len(found[i]) > 0:
			t.Errorf("%s is not of the type %s: %q", name, types[i], found[i])
		case i >= good && len(found[i]) == 0:
			t.Errorf("%s: the types let it pass", name)
		}
	}
}

// loaded is what testdata/load.mjs says of a manifest.
type loaded struct {
	Canvases    []string
	Annotations int
	Images      []bool
	Level0      int
	Warnings    []string
	Same        bool
	Error       string
}

// A published reader finds every canvas, painting and image service of each
// manifest, and its strict mode has nothing to warn of and nothing to mend; of
// manifests spoiled it has.
func TestPublishedReader(t *testing.T) {
	dir := modules(t)
	manifests, _ := published(t)
	good := len(manifests)
	spoiled := map[string]func(map[string]any){
		"label as text": func(v map[string]any) { v["label"] = "The Weir" },
		"thumbnail no list": func(v map[string]any) {
			v["thumbnail"] = map[string]any{"id": "https://example.org/x.jpg", "type": "Image"}
		},
		"metadata as object": func(v map[string]any) { v["metadata"] = map[string]any{"label": "State", "value": "II"} },
	}
	for name, change := range spoiled {
		v := example(t)
		change(v)
		b, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(to, b, 0o600); err != nil {
			t.Fatal(err)
		}
		manifests = append(manifests, to)
	}
	script, err := filepath.Abs(filepath.Join("testdata", "load.mjs"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", script, dir)
	cmd.Stdin = strings.NewReader(strings.Join(manifests, "\n"))
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, complaints.String())
	}
	var all []loaded
	if err := json.Unmarshal(out, &all); err != nil || len(all) != len(manifests) {
		t.Fatalf("%d of %d manifests read, %v", len(all), len(manifests), err)
	}
	for i, l := range all {
		name := manifests[i]
		if i >= good {
			if l.Error == "" && l.Same && len(l.Warnings) == 0 {
				t.Errorf("%s: the reader takes it as it is", filepath.Base(name))
			}
			continue
		}
		var m struct {
			Items []struct{ ID string }
		}
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(b, &m); err != nil {
			t.Fatal(err)
		}
		var want []string
		for _, c := range m.Items {
			want = append(want, c.ID)
		}
		if strings.Join(l.Canvases, "\n") != strings.Join(want, "\n") {
			t.Errorf("%s: the reader finds the canvases %q, want %q", name, l.Canvases, want)
		}
		if l.Annotations != len(want) || len(l.Images) != len(want) || l.Level0 != len(want) || l.Error != "" || len(l.Warnings) > 0 || !l.Same {
			t.Errorf("%s: of %d canvases the reader says %+v", name, len(want), l)
		}
	}
}
