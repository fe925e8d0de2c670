package iiif

import (
	"context"
	"encoding/json"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/internal/specimen"
)

// example is a published shape, valid against the Presentation 3.0 validator's
// schema (testdata/SOURCES.md).
func example(t *testing.T) map[string]any {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "exchange-shapes", "iiif_manifest.json"))
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func check(t *testing.T, v map[string]any) []string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return Check(b)
}

func TestCheckAcceptsExample(t *testing.T) {
	if found := check(t, example(t)); len(found) > 0 {
		t.Errorf("a valid manifest is refused: %q", found)
	}
}

// The negative cases of STANDARDS.md 6.4, each one error in the validator of
// the specification, and some more of its rules.
func TestCheckRefuses(t *testing.T) {
	canvas := func(v map[string]any) map[string]any { return v["items"].([]any)[0].(map[string]any) }
	for name, change := range map[string]func(map[string]any){
		"no label":            func(v map[string]any) { delete(v, "label") },
		"no items":            func(v map[string]any) { delete(v, "items") },
		"no id":               func(v map[string]any) { delete(v, "id") },
		"no canvas height":    func(v map[string]any) { delete(canvas(v), "height") },
		"label as text":       func(v map[string]any) { v["label"] = "The Weir" },
		"lower-case type":     func(v map[string]any) { v["type"] = "manifest" },
		"no context":          func(v map[string]any) { delete(v, "@context") },
		"relative id":         func(v map[string]any) { v["id"] = "manifest.json" },
		"rights as words":     func(v map[string]any) { v["rights"] = "all reserved" },
		"HTML in a label":     func(v map[string]any) { v["label"] = map[string]any{"en": []any{"<b>Weir</b>"}} },
		"property of its own": func(v map[string]any) { v["edition"] = "7/30" },
		"half a pixel":        func(v map[string]any) { canvas(v)["height"] = 1200.5 },
		"no height, no width": func(v map[string]any) { delete(canvas(v), "height"); delete(canvas(v), "width") },
		"metadata as object":  func(v map[string]any) { v["metadata"] = map[string]any{} },
		"value without label": func(v map[string]any) {
			v["metadata"] = []any{map[string]any{"value": map[string]any{"en": []any{"x"}}}}
		},
		"no language":      func(v map[string]any) { v["label"] = map[string]any{"": []any{"The Weir"}} },
		"text, no list":    func(v map[string]any) { v["label"] = map[string]any{"en": "The Weir"} },
		"odd behavior":     func(v map[string]any) { v["behavior"] = []any{"sideways"} },
		"behavior as text": func(v map[string]any) { v["behavior"] = "paged" },
		"thumbnail no list": func(v map[string]any) {
			v["thumbnail"] = map[string]any{"id": "https://example.org/x.jpg", "type": "Image"}
		},
		"thumbnail no type": func(v map[string]any) { v["thumbnail"] = []any{map[string]any{"id": "https://example.org/x.jpg"}} },
		"service unnamed":   func(v map[string]any) { canvas(v)["service"] = []any{map[string]any{"profile": "level0"}} },
		"service twice named": func(v map[string]any) {
			canvas(v)["service"] = []any{map[string]any{"id": "https://example.org/s", "type": "S", "@id": "https://example.org/s", "@type": "S"}}
		},
		"provider a person": func(v map[string]any) {
			v["provider"] = []any{map[string]any{"id": "https://example.org/p", "type": "Person", "label": map[string]any{"en": []any{"x"}}}}
		},
		"rendering no id": func(v map[string]any) { v["rendering"] = []any{map[string]any{"type": "Text"}} },
		"odd format": func(v map[string]any) {
			v["rendering"] = []any{map[string]any{"id": "https://example.org/x.pdf", "type": "Text", "format": "PDF"}}
		},
		"page without items": func(v map[string]any) { delete(canvas(v)["items"].([]any)[0].(map[string]any), "items") },
		"page with more":     func(v map[string]any) { canvas(v)["items"].([]any)[0].(map[string]any)["motivation"] = "painting" },
		"foreign canvas in a range": func(v map[string]any) {
			v["structures"] = []any{map[string]any{"id": "https://example.org/r", "type": "Range", "label": map[string]any{"en": []any{"state I"}}, "items": []any{map[string]any{"id": "https://example.org/none", "type": "Canvas"}}}}
		},
		"id used twice": func(v map[string]any) {
			canvas(v)["id"] = v["id"]
			canvas(v)["items"].([]any)[0].(map[string]any)["items"].([]any)[0].(map[string]any)["target"] = v["id"]
		},
		"wrong target": func(v map[string]any) {
			canvas(v)["items"].([]any)[0].(map[string]any)["items"].([]any)[0].(map[string]any)["target"] = "http://example.org/x"
		},
	} {
		v := example(t)
		change(v)
		if found := check(t, v); len(found) != 1 {
			t.Errorf("%s: findings %q, want one", name, found)
		}
	}
}

func TestCheckCollection(t *testing.T) {
	dir, _ := write(t, specimen.Snapshot())
	b, err := os.ReadFile(filepath.Join(dir, "collection.json"))
	if err != nil {
		t.Fatal(err)
	}
	if found := CheckCollection(b); len(found) > 0 {
		t.Errorf("the collection is refused: %q", found)
	}
	member := func(v map[string]any) map[string]any { return v["items"].([]any)[0].(map[string]any) }
	for name, change := range map[string]func(map[string]any){
		"no label":           func(v map[string]any) { delete(v, "label") },
		"no items":           func(v map[string]any) { delete(v, "items") },
		"lower-case type":    func(v map[string]any) { v["type"] = "collection" },
		"member no label":    func(v map[string]any) { delete(member(v), "label") },
		"member no id":       func(v map[string]any) { delete(member(v), "id") },
		"member a canvas":    func(v map[string]any) { member(v)["type"] = "Canvas" },
		"member with canvas": func(v map[string]any) { member(v)["items"] = []any{} },
		"member twice":       func(v map[string]any) { v["items"] = append(v["items"].([]any), member(v)) },
	} {
		var v map[string]any
		if err := json.Unmarshal(b, &v); err != nil {
			t.Fatal(err)
		}
		change(v)
		changed, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if found := CheckCollection(changed); len(found) != 1 {
			t.Errorf("%s: findings %q, want one", name, found)
		}
	}
}

func write(t *testing.T, snap *catalog.Snapshot) (dir string, pics *specimen.Pictures) {
	t.Helper()
	dir, pics = t.TempDir(), &specimen.Pictures{}
	if err := Write(context.Background(), dir, entry.New(snap), pics, Options{Base: "https://example.org/saltgate/"}); err != nil {
		t.Fatal(err)
	}
	return dir, pics
}

func TestWrite(t *testing.T) {
	dir, _ := write(t, specimen.Snapshot())
	names, err := filepath.Glob(filepath.Join(dir, "plates", "*", "manifest.json"))
	if err != nil || len(names) != 2 { // the lost plate has no photograph
		t.Fatalf("manifests %v, %v", names, err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range Check(b) {
			t.Errorf("%s: %s", filepath.Base(filepath.Dir(n)), f)
		}
		if strings.Contains(string(b), "Nobody") {
			t.Error("a private holder is given away")
		}
	}
	b, err := os.ReadFile(filepath.Join(dir, "plates", "plate0weir", "manifest.json"))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Provider []struct {
			Type  string
			Label map[string][]string
		}
		Items []struct {
			Label   map[string][]string
			Height  int
			Service []struct {
				PhysicalScale float64
				PhysicalUnits string
			}
		}
		Structures []struct{ Items []any }
	}
	if err := json.Unmarshal(b, &m); err != nil {
		t.Fatal(err)
	}
	if len(m.Provider) != 1 || m.Provider[0].Type != "Agent" || m.Provider[0].Label["en"][0] != "Saltgate Press" {
		t.Errorf("provided by %+v", m.Provider)
	}
	var labels []string
	for _, c := range m.Items {
		labels = append(labels, c.Label["en"][0])
	}
	// State I first; within state II pull 4 before pull 9.
	if got := strings.Join(labels, " | "); got != "I/II, trial proof | II/II, bon à tirer | II/II, bon à tirer, detail | II/II, 7/30" {
		t.Errorf("canvases are %s", got)
	}
	if len(m.Structures) != 2 || len(m.Structures[1].Items) != 3 {
		t.Errorf("ranges are %+v", m.Structures)
	}
	// Mark 600 x 900 px on a plate of 100 x 150 mm.
	if s := m.Items[0].Service; len(s) != 1 || s[0].PhysicalUnits != "mm" || math.Abs(s[0].PhysicalScale-1.0/6) > 1e-5 {
		t.Errorf("scale is %+v", s)
	}
}

// A level 0 image answers exactly what its info.json promises: every tile at
// every scale factor, every size, and the whole (Image API 3.0, 5 and the
// compliance page for level 0).
func TestTiles(t *testing.T) {
	dir, pics := write(t, specimen.Snapshot())
	if pics.Made == 0 {
		t.Fatal("no pictures were made")
	}
	at := filepath.Join(dir, "images", "photo0weir1")
	b, err := os.ReadFile(filepath.Join(at, "info.json"))
	if err != nil {
		t.Fatal(err)
	}
	var info imageInfo
	if err := json.Unmarshal(b, &info); err != nil {
		t.Fatal(err)
	}
	if info.ID != "https://example.org/saltgate/images/photo0weir1" || info.Type != "ImageService3" || info.Profile != "level0" || info.Width != 900 || info.Height != 1200 {
		t.Errorf("info is %+v", info)
	}
	for _, p := range planImage("", info.Width, info.Height).pieces() {
		f, err := os.Open(filepath.Join(at, p.Path))
		if err != nil {
			t.Errorf("a promised file is missing: %v", err)
			continue
		}
		c, err := jpeg.DecodeConfig(f)
		f.Close()
		if err != nil || c.Width != p.Width || c.Height != p.Height {
			t.Errorf("%s is %dx%d, want %dx%d, %v", p.Path, c.Width, c.Height, p.Width, p.Height, err)
		}
	}
	for _, want := range []string{"full/max", "0,0,512,512/512,512", "512,1024,388,176/388,176", "0,0,900,1024/450,512", "full/225,300", "full/150,200"} {
		if _, err := os.Stat(filepath.Join(at, want, "0", "default.jpg")); err != nil {
			t.Errorf("%v", err)
		}
	}
	if whole, err := os.ReadFile(filepath.Join(at, "full", "max", "0", "default.jpg")); err != nil || !strings.Contains(string(whole), "Ada Marrin") {
		t.Errorf("the whole picture does not say what it shows, %v", err)
	}
	// Turned by EXIF: width and height change places.
	if b, err = os.ReadFile(filepath.Join(dir, "images", "photo0ebb1", "info.json")); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &info); err != nil || info.Width != 1200 || info.Height != 900 {
		t.Errorf("turned picture is %dx%d, %v", info.Width, info.Height, err)
	}
}

func TestTilesCoverEveryPixel(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {512, 512}, {513, 512}, {900, 1200}, {4000, 6000}, {6000, 4000}} {
		im := planImage("", size[0], size[1])
		for _, f := range im.factors {
			area := 0
			for _, p := range im.pieces() {
				if p.W > 0 && ceil(p.W, f) == p.Width && ceil(p.H, f) == p.Height && p.X%(tileSize*f) == 0 && p.Y%(tileSize*f) == 0 && p.W <= tileSize*f && p.H <= tileSize*f &&
					(p.W == tileSize*f || p.X+p.W == size[0]) && (p.H == tileSize*f || p.Y+p.H == size[1]) {
					area += p.W * p.H
				}
			}
			if area < size[0]*size[1] {
				t.Errorf("%v at 1/%d covers %d of %d pixels", size, f, area, size[0]*size[1])
			}
		}
	}
}

func TestWriteRefusesOtherAddresses(t *testing.T) {
	if err := Write(context.Background(), t.TempDir(), entry.New(specimen.Snapshot()), nil, Options{Base: "ftp://x"}); err == nil {
		t.Error("an address that is not http is accepted")
	}
}
