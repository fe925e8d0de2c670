package window

import (
	"os"
	"path/filepath"
	"testing"
)

func TestMemoryOutlivesTheProgram(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a", "window.json")
	m := remembered(path)
	m.SetString("last catalogue", "/plates/estuary.pullbook")
	m.SetInt("place", 2)
	m.SetFloat("window width", 1440)
	m.SetBool("dark", true)
	n := remembered(path)
	if n.String("last catalogue") != "/plates/estuary.pullbook" || n.IntWithFallback("place", 0) != 2 || n.FloatWithFallback("window width", 1) != 1440 || !n.Bool("dark") {
		t.Errorf("remembered %v", n.vals)
	}
	if n.FloatWithFallback("text scale", 1) != 1 {
		t.Error("what was never kept is remembered")
	}
}

func TestDamagedMemoryIsEmpty(t *testing.T) {
	path := filepath.Join(t.TempDir(), "window.json")
	for _, bad := range []string{"", "{", "null", `{"place":"two"}`} {
		if err := os.WriteFile(path, []byte(bad), 0o644); err != nil {
			t.Fatal(err)
		}
		m := remembered(path)
		if m.IntWithFallback("place", 3) != 3 {
			t.Errorf("%q is remembered as place %d", bad, m.IntWithFallback("place", 3))
		}
		m.SetInt("place", 1)
		if remembered(path).IntWithFallback("place", 3) != 1 {
			t.Errorf("after %q nothing can be kept", bad)
		}
	}
}
