package window_test

import (
	"flag"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

var soak = flag.Duration("soak", 0, "work in the real window for this long and look whether memory and goroutines stay flat")

// TestSoak works in the real window, round after round: a plate chosen, a pull
// written and taken back, two sheets laid side by side, moved and compared, the
// page set. After the first fifth, which fills the caches, neither memory nor
// goroutines may grow.
func TestSoak(t *testing.T) {
	if *soak == 0 {
		t.Skip("a long day at the window, when asked with -soak 1h")
	}
	need(t)
	r := start(t, 1280, 800)
	r.await(0, `catalogue shown`)
	var resident []int
	g1, rounds := 0, 0
	for end := time.Now().Add(*soak); time.Now().Before(end); rounds++ {
		r.round(rounds)
		resident = append(resident, r.resident())
		if rounds == 2 {
			g1 = r.resting()
		}
	}
	if rounds < 10 {
		t.Fatalf("%d rounds are too few to judge by: give it longer", rounds)
	}
	early, late := len(resident)/5, len(resident)*4/5
	r1, r2 := median(resident[early:2*early]), median(resident[late:])
	g2 := r.resting()
	t.Logf("%d rounds: memory %d MB early, %d MB late; goroutines at rest %d early, %d late", rounds, r1, r2, g1, g2)
	if r2 > r1+r1/8+20 {
		t.Errorf("memory grew from %d to %d MB", r1, r2)
	}
	if g2 > g1+5 {
		t.Errorf("goroutines grew from %d to %d:\n%s", g1, g2, r.stacks())
		return
	}
	r.end()
}

// round is one turn of work; n chooses the plate.
func (r *real) round(n int) {
	r.do("mousemove", "150", fmt.Sprint(180+(n%4)*90), "click", "1")
	time.Sleep(300 * time.Millisecond)
	at := r.do("key", "ctrl+1")
	r.await(at, `at place 0`)
	at = r.do("key", "ctrl+Return")
	r.await(at, `told: Written: .*`)
	r.await(at, `catalogue shown`)
	at = r.do("key", "ctrl+z")
	r.await(at, `told: Undone: .*`)
	r.do("key", "ctrl+2")
	time.Sleep(500 * time.Millisecond)
	at = r.do("key", "ctrl+3")
	r.await(at, `at place 2`)
	time.Sleep(3 * time.Second)
	for _, way := range []string{"ctrl+6", "ctrl+7", "ctrl+9"} {
		r.do("key", way)
		r.do("mousemove", "480", "450", "click", "4", "click", "4", "mousedown", "1")
		for i := range 20 {
			r.do("mousemove", fmt.Sprint(480+i*3), fmt.Sprint(450+i*2))
		}
		r.do("mouseup", "1", "click", "5", "click", "5")
	}
	at = r.do("key", "ctrl+4")
	r.await(at, `page set`)
}

// resident is the memory the program holds, in MB.
func (r *real) resident() int {
	r.t.Helper()
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", r.cmd.Process.Pid))
	if err != nil {
		r.t.Fatalf("the program is gone: %v\n%s", err, r.errs)
	}
	for _, line := range strings.Split(string(b), "\n") {
		if f := strings.Fields(line); len(f) > 1 && f[0] == "VmRSS:" {
			kb, _ := strconv.Atoi(f[1])
			return kb >> 10
		}
	}
	r.t.Fatal("the program's memory cannot be read")
	return 0
}

// stacks ends the program and gives what each of its goroutines was doing.
func (r *real) stacks() string {
	r.cmd.Process.Signal(syscall.SIGQUIT)
	r.cmd.Wait()
	return r.errs.String()
}

// resting is how many goroutines live once the work of the last round is done:
// the fewest seen while nothing is asked for some time.
func (r *real) resting() int {
	fewest := r.goroutines()
	for range 12 {
		time.Sleep(5 * time.Second)
		fewest = min(fewest, r.goroutines())
	}
	return fewest
}

// goroutines is the last count the program wrote.
func (r *real) goroutines() int {
	r.t.Helper()
	all := regexp.MustCompile(`weight: (\d+) goroutines`).FindAllStringSubmatch(r.text(), -1)
	if len(all) == 0 {
		r.t.Fatal("the program wrote no count of goroutines")
	}
	n, _ := strconv.Atoi(all[len(all)-1][1])
	return n
}

func median(v []int) int {
	s := slices.Clone(v)
	slices.Sort(s)
	return s[len(s)/2]
}
