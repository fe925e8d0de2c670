package window

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pullbook/app/studio"
	"pullbook/app/window/look"
	"pullbook/catalog"
	"pullbook/catalog/store"
)

// opened is the window on a folder, in the toolkit's test driver.
type opened struct {
	t   *testing.T
	w   *houseWindow
	q   *posts
	log *strings.Builder
}

func openWindow(t *testing.T, dir string) *opened {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	o := &opened{t: t, q: &posts{}, log: &strings.Builder{}}
	o.w = newHouseWindow(test.NewTempApp(t), Options{Dir: dir, Post: o.q.post, Log: o.log})
	t.Cleanup(func() {
		if err := o.w.close(); err != nil {
			t.Error(err)
		}
		o.q.run()
	})
	return o
}

// await runs what is posted until the log has a line.
func (o *opened) await(line string) {
	o.t.Helper()
	for end := time.Now().Add(20 * time.Second); !strings.Contains(o.log.String(), line); time.Sleep(10 * time.Millisecond) {
		o.q.run()
		if time.Now().After(end) {
			o.t.Fatalf("%q did not come; the log:\n%s", line, o.log)
		}
	}
}

// tap taps the first button of these words in the window.
func (o *opened) tap(text string) {
	o.t.Helper()
	var found *look.Button
	var walk func(fyne.CanvasObject)
	walk = func(x fyne.CanvasObject) {
		if b, ok := x.(*look.Button); ok && b.Text == text && found == nil {
			found = b
		}
		switch x := x.(type) {
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c)
			}
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c)
			}
		}
	}
	walk(o.w.win.Content())
	if found == nil {
		o.t.Fatalf("there is no button %q", text)
	}
	test.Tap(found)
}

// damaged makes a catalogue with one plate and a backup, and then damages it.
func damaged(t *testing.T, damage func(db string)) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "estuary.pullbook")
	s, err := studio.Create(dir, studio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	p := &catalog.Plate{Number: catalog.Number{N: 1}, Titles: []catalog.Title{{Text: "Sandbar"}}, Standing: catalog.Accepted}
	if err := s.Save(ctx, "enter", p); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Store().Backup(ctx); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	damage(filepath.Join(dir, store.DatabaseFile))
	return dir
}

// A database cut short does not open; the older copy offered puts it right, and
// the damaged one is kept.
func TestOlderCopyIsPutBack(t *testing.T) {
	dir := damaged(t, func(db string) {
		if err := os.Truncate(db, 0); err != nil {
			t.Fatal(err)
		}
	})
	o := openWindow(t, dir)
	o.await("rescue offered: 1 copies")
	o.tap("Put it back")
	o.await("catalogue shown: 1 plates")
	kept, err := filepath.Glob(filepath.Join(dir, store.BackupsDir, "set-aside-*"))
	if err != nil || len(kept) != 1 {
		t.Errorf("the damaged database is not kept: %v %v", kept, err)
	}
}

// What can be read of a damaged catalogue is brought over into a new one
// beside it, which opens and says what was brought.
func TestWhatCanBeReadIsBroughtOver(t *testing.T) {
	dir := damaged(t, func(db string) {
		f, err := os.OpenFile(db, os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		info, err := f.Stat()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.WriteAt(make([]byte, 4096), info.Size()-4096); err != nil { // its last page
			t.Fatal(err)
		}
	})
	to := besideName(dir)
	o := openWindow(t, t.TempDir()) // no catalogue there: the sentence, no rescue
	o.await("welcome")
	if strings.Contains(o.log.String(), "rescue") {
		t.Error("a folder without a catalogue was offered a rescue")
	}
	o.w.bringOver(dir)
	o.await("catalogue shown: 1 plates")
	if o.w.open.Dir() != to {
		t.Errorf("brought over into %s, not %s", o.w.open.Dir(), to)
	}
	if again := besideName(dir); again == to {
		t.Error("a second time would write into the same folder")
	}
}

// A second window reads only and follows what the first one changes.
func TestSecondWindowFollows(t *testing.T) {
	dir := damaged(t, func(string) {})
	first, err := studio.Open(dir, studio.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	o := openWindow(t, dir)
	o.await("catalogue shown: 1 plates")
	p := &catalog.Plate{Number: catalog.Number{N: 2}, Titles: []catalog.Title{{Text: "Sluice"}}, Standing: catalog.Accepted}
	if err := first.Save(context.Background(), "enter", p); err != nil {
		t.Fatal(err)
	}
	o.await("catalogue shown: 2 plates")
	if !o.w.open.ReadOnly() {
		t.Error("two windows can write")
	}
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	o.w.again(dir)
	o.await("catalogue shown: 2 plates, 0 impressions")
	for end := time.Now().Add(10 * time.Second); o.w.open == nil || o.w.open.ReadOnly(); time.Sleep(10 * time.Millisecond) {
		o.q.run()
		if time.Now().After(end) {
			t.Fatal("opened again it still can only be read")
		}
	}
}
