package store

import (
	"bufio"
	"crypto/rand"
	"errors"
	"flag"
	"fmt"
	mathrand "math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
)

var (
	kills  = flag.Int("kills", 5, "how many times the child is killed")
	faults = flag.Int("faults", 5, "how many faults of the database's system calls are made in each way, 0 all")
)

// childMain runs this test program as a child of itself, when asked to.
func childMain() {
	dir := os.Getenv("PULLBOOK_CHILD_DIR")
	switch os.Getenv("PULLBOOK_CHILD") {
	case "":
		return
	case "work":
		childWork(dir, 1<<30)
	case "faults":
		childWork(dir, 14)
	case "read":
		childRead(dir)
	case "migrate":
		childMigrate(dir)
	}
	os.Exit(0)
}

// childWork does mixed work on a catalogue and says on standard output what it
// begins and what is done. Action n puts an ink, a paper and a photograph, all
// called n, so that half an action would show.
func childWork(dir string, most int) {
	s, err := Open(dir, Options{Who: "child"})
	if err != nil {
		fmt.Println("not opened:", err)
		return
	}
	next, _ := strconv.Atoi(os.Getenv("PULLBOOK_CHILD_FIRST"))
	r := mathrand.New(mathrand.NewPCG(uint64(next), 99))
	fmt.Println("opened")
	for i := 0; i < most; i++ {
		step := r.IntN(10)
		if most < 100 {
			step = []int{2, 3, 0, 1, 4, 9}[i%6] // each kind of work, in the same order every time
		}
		switch step {
		case 0, 1:
			kind, f := "undone", s.Undo
			if step == 1 {
				kind, f = "redone", s.Redo
			}
			fmt.Println("begin")
			if label, err := f(ctx); err == nil {
				fmt.Println(kind, label)
			} else {
				fmt.Println("failed", errors.Is(err, ErrNothing), err)
			}
		case 9:
			if _, err := s.Backup(ctx); err != nil {
				fmt.Println("no backup:", err)
			}
		default:
			next++
			name := strconv.Itoa(next)
			fmt.Println("begin")
			if err := childAction(s, name); err == nil {
				fmt.Println("did", name)
			} else {
				fmt.Println("failed", err)
			}
		}
	}
	if err := s.Close(); err != nil {
		fmt.Println("not closed:", err)
	}
}

func childAction(s *Store, name string) error {
	src := filepath.Join(os.TempDir(), fmt.Sprintf("child-%d.jpg", os.Getpid()))
	data := make([]byte, 20000)
	rand.Read(data)
	if err := os.WriteFile(src, data, 0o644); err != nil {
		return err
	}
	defer os.Remove(src)
	kept, err := s.Archive().Add(ctx, src)
	if err != nil {
		return err
	}
	return s.Do(ctx, name, func(tx *Tx) error {
		return firstOf(
			func() error { return tx.PutInk(&catalog.Ink{Name: name}) },
			func() error {
				return tx.PutPhotograph(&catalog.Photograph{Name: name, SHA256: kept.SHA256, Ext: kept.Ext, Bytes: kept.Bytes})
			},
			func() error { return tx.PutPaper(&catalog.Paper{Name: name, Note: strings.Repeat("laid ", 300)}) },
		)
	})
}

// childMigrate brings a catalogue to a later form.
func childMigrate(dir string) {
	s, err := Open(dir, Options{})
	if err != nil {
		fmt.Println("not opened:", err)
		return
	}
	if err := s.bringUpToDate(ctx, SchemaVersion, []migration{{SchemaVersion + 1, laterForm}}, SchemaVersion+1); err != nil {
		fmt.Println("failed", err)
		return
	}
	fmt.Println("did 2")
	s.Close()
}

// A model of what the catalogue must hold, from what the child said.
type model struct {
	there   map[string]bool
	unclear bool // something was begun and not heard of again
}

func (m *model) hear(line string) {
	verb, name, _ := strings.Cut(line, " ")
	switch verb {
	case "begin":
		m.unclear = true
		return
	case "did", "redone":
		m.there[name] = true
	case "undone":
		delete(m.there, name)
	case "failed":
	default:
		return
	}
	m.unclear = false
}

// check compares a catalogue with the model: every action whole, none lost but
// possibly the one under way.
func (m *model) check(t *testing.T, dir, when string) {
	t.Helper()
	s, err := Open(dir, Options{})
	if err != nil {
		t.Fatalf("%s: %v", when, err)
	}
	defer s.Close()
	r, err := s.Verify(ctx, nil)
	if err != nil || !r.Clean() {
		t.Fatalf("%s: verify: %v %+v", when, err, r.Findings)
	}
	snap, err := s.Snapshot(ctx)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]int{}
	for _, x := range snap.Inks {
		found[x.Name]++
	}
	for _, x := range snap.Papers {
		found[x.Name]++
	}
	for _, x := range snap.Photographs {
		found[x.Name]++
	}
	differ := 0
	for name, n := range found {
		if n != 3 {
			t.Errorf("%s: half of action %s is there", when, name)
		}
		if !m.there[name] {
			differ++
		}
	}
	for name := range m.there {
		if found[name] == 0 {
			differ++
		}
	}
	if differ > 1 || differ == 1 && !m.unclear {
		t.Errorf("%s: %d actions lost or come back, of %d (one under way: %v)", when, differ, len(m.there), m.unclear)
	}
	m.there, m.unclear = map[string]bool{}, false
	for name := range found {
		m.there[name] = true
	}
}

func child(t *testing.T, kind, dir string, first int, env ...string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(exe, "-test.run=^$")
	c.Env = append(os.Environ(), append(env, "PULLBOOK_CHILD="+kind, "PULLBOOK_CHILD_DIR="+dir, fmt.Sprintf("PULLBOOK_CHILD_FIRST=%d", first))...)
	c.Stderr = os.Stderr
	return c
}

// A child at mixed work (taking in, entering, undo, redo, backup) is killed at
// random moments. Nothing is lost but what was under way, verify finds nothing
// wrong. Run with -kills 200 for the full count.
func TestKilledAtRandomMoments(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "victim.pullbook")
	s, err := Create(dir)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	m := &model{there: map[string]bool{}}
	acked := 0
	for k := 0; k < *kills || acked < *kills && k < 20**kills; k++ { // a busy machine does little between two kills
		c := child(t, "work", dir, k*100000)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(out)
		var timer *time.Timer
		for lines.Scan() {
			if lines.Text() == "opened" {
				timer = time.AfterFunc(time.Duration(mathrand.IntN(250_000))*time.Microsecond, func() { c.Process.Kill() })
			}
			if strings.HasPrefix(lines.Text(), "not opened") {
				t.Fatalf("kill %d: %s", k, lines.Text())
			}
			m.hear(lines.Text())
			if strings.HasPrefix(lines.Text(), "did") {
				acked++
			}
		}
		if timer != nil {
			timer.Stop()
		}
		c.Process.Kill()
		_ = c.Wait() // killed is what it should be
		m.check(t, dir, fmt.Sprintf("kill %d", k))
	}
	t.Logf("killed %d times during %d actions", *kills, acked)
	if acked < *kills {
		t.Errorf("only %d actions were done", acked)
	}
}
