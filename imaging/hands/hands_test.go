package hands

import (
	"runtime"
	"sync/atomic"
	"testing"
)

// TestShare sees that every part is done once, however many hands are lent.
func TestShare(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	none := func(func()) bool { return false }
	some := func(f func()) bool { go f(); return true }
	for name, free := range map[string]func(func()) bool{"none lent": nil, "none free": none, "all free": some} {
		Lend(free)
		var next, sum atomic.Int64
		Share(8, func() {
			for {
				i := next.Add(1)
				if i > 1000 {
					return
				}
				sum.Add(i)
			}
		})
		if sum.Load() != 1000*1001/2 {
			t.Errorf("%s: the parts add up to %d", name, sum.Load())
		}
	}
	Lend(nil)
}

// TestFaultReachesTheCaller sees that what goes wrong on a lent hand is not lost
// with it.
func TestFaultReachesTheCaller(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	if Most() < 2 {
		t.Skip("this machine has one processor, so nobody helps")
	}
	began := make(chan struct{})
	var first atomic.Bool
	defer func() {
		if v := recover(); v != "torn" {
			t.Errorf("the caller was told %v", v)
		}
	}()
	Share(2, func() {
		if first.CompareAndSwap(false, true) {
			close(began)
			panic("torn")
		}
		<-began
	})
	t.Error("the fault was lost")
}
