package studio

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"pullbook/catalog"
	"pullbook/imaging"
	"pullbook/imaging/decode"
)

// TestWholeSheetsAreNothingElse looks at real prints and at simulated
// photographs by another hand, all of whole sheets or whole plates: none is said
// to show a detail, or to be lit by a raking lamp or from behind. Where that
// cannot be told it is asked for. Nothing was tuned on them.
func TestWholeSheetsAreNothingElse(t *testing.T) {
	ctx := context.Background()
	shared := filepath.Join("..", "..", "..", "shared")
	told, asked := map[string]int{}, map[string]int{}
	for _, set := range []struct{ name, pattern string }{
		{"real prints, scanned", "prints/*.jpg"},
		{"real prints, photographed in simulation", "prints/photographs/*.jpg"},
		{"simulated sheets of the shared set", "photos/*.jpg"},
		{"the same, awkward", "photos/awkward/*"},
	} {
		paths, err := filepath.Glob(filepath.Join(shared, set.pattern))
		must(t, err)
		for _, path := range paths {
			name := filepath.Base(path)
			pic, err := decode.Read(ctx, path)
			if err != nil {
				continue // to be refused, as another test sees
			}
			img, err := pic.Proxy(ctx, 1200) // the light is read at nine hundred
			must(t, err)
			photo := imaging.FromImage(img)
			seen := &recognised{}
			size := imaging.Size{Height: 100, Width: 140}
			if strings.HasPrefix(name, "grove") {
				size = imaging.Size{Height: 95, Width: 120}
			}
			if strings.HasPrefix(set.pattern, "photos") {
				if mark, err := imaging.FindPlate(ctx, photo, size); err == nil {
					seen.mark = &mark
				}
			}
			view, ask, err := viewOf(ctx, photo, seen)
			must(t, err)
			switch {
			case view == catalog.ViewWhole:
				told[set.name]++
			case view == "" && ask != "":
				asked[set.name]++
			default:
				t.Errorf("%s is said to show %q", name, view)
			}
		}
		if len(paths) == 0 {
			t.Skip("the shared prints and photographs are not here; nothing was checked")
		}
		t.Logf("%s: %d told to be whole, %d asked for, of %d", set.name, told[set.name], asked[set.name], len(paths))
	}
}
