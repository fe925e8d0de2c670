package batch

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

func TestDaySheet(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "sample.pullbook")
	if _, stderr, code := run("sample", dir); code != exitDone {
		t.Fatalf("sample: exit %d: %s", code, stderr)
	}
	to := filepath.Join(t.TempDir(), "day.pdf")
	out, stderr, code := run("day-sheet", "--catalogue", dir, "--plate", "2", "--day", "2026-03-14", "--pulls", "7", "--to", to)
	if code != exitDone || !strings.Contains(out, "pages") {
		t.Fatalf("exit %d: %s%s", code, out, stderr)
	}
	b, err := os.ReadFile(to)
	if err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Fatalf("%v, %d bytes", err, len(b))
	}
	if tool, err := exec.LookPath("pdftotext"); err == nil {
		text, err := exec.Command(tool, "-layout", to, "-").Output()
		if err != nil || !strings.Contains(string(text), "The Boatyard, Tide Out") || !strings.Contains(string(text), "14 March 2026") {
			t.Errorf("the sheet (%v) says:\n%s", err, text)
		}
	}
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--plate", "99"}, exitShort, "no plate with the number 99"},
		{[]string{"--plate", "2", "--state", "9"}, exitShort, "Plate 2 has no state 9"},
		{[]string{"--plate", "2", "--day", "tomorrow"}, exitUsage, "is no day"},
		{nil, exitUsage, "the plate is missing"},
	} {
		out, stderr, code := run(append([]string{"day-sheet", "--catalogue", dir, "--to", to}, c.args...)...)
		if code != c.code || !strings.Contains(out+stderr, c.want) {
			t.Errorf("%v: exit %d, want %d with %q: %s%s", c.args, code, c.code, c.want, out, stderr)
		}
	}
}
