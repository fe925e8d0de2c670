package main

import (
	"strings"
	"testing"
)

// events as go test -json writes them (Go 1.26): a test that passes and
// measures, one that fails, one that is skipped, one that a panic cut short,
// and a package that does not compile.
const events = `{"Action":"run","Package":"m/a","Test":"TestGood"}
{"Action":"output","Package":"m/a","Test":"TestGood","Output":"=== RUN   TestGood\n"}
{"Action":"output","Package":"m/a","Test":"TestGood","Output":"    a_test.go:7: tone 0.0002, owed 0.0030\n"}
{"Action":"output","Package":"m/a","Test":"TestGood","Output":"    a_test.go:8: nothing to see\n"}
{"Action":"output","Package":"m/a","Test":"TestGood","Output":"        | figure | 0.5 |\n"}
{"Action":"pass","Package":"m/a","Test":"TestGood","Elapsed":0.1}
{"Action":"output","Package":"m/a","Test":"TestBad","Output":"    a_test.go:12: got 3, owed 4\n"}
{"Action":"fail","Package":"m/a","Test":"TestBad","Elapsed":0}
{"Action":"output","Package":"m/a","Test":"TestAway","Output":"    a_test.go:20: the folder is not there\n"}
{"Action":"skip","Package":"m/a","Test":"TestAway","Elapsed":0}
{"Action":"output","Package":"m/a","Output":"coverage: 81.5% of statements\n"}
{"Action":"fail","Package":"m/a","Elapsed":2.5}
{"Action":"output","Package":"m/b","Test":"TestCut","Output":"panic: oh\n"}
{"Action":"fail","Package":"m/b","Elapsed":0.2}
{"ImportPath":"m/c","Action":"build-output","Output":"c.go:3:1: syntax error\n"}
{"Action":"pass","Package":"m/d","Elapsed":0}
`

func TestSummary(t *testing.T) {
	r, err := read(strings.NewReader(events))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	r.print(&b, 45_400_000)
	got := b.String()
	for _, want := range []string{
		"-- a TestBad\n    a_test.go:12: got 3, owed 4\n", // in full
		"-- b TestCut\npanic: oh\n",
		"c.go:3:1: syntax error\n",
		"a TestAway: the folder is not there\n",
		"     1     1     1      2.5 s   81.5 %\n",
		"-- a TestGood\ntone 0.0002, owed 0.0030\n| figure | 0.5 |\n",
		"\n45.4 MB\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	if !strings.HasSuffix(got, "\n1 passed, 1 failed, 1 skipped\n") {
		t.Errorf("ends with %q", got[max(0, len(got)-60):])
	}
	for _, no := range []string{"nothing to see", "=== RUN", "\nd "} {
		if strings.Contains(got, no) {
			t.Errorf("%q is of no interest", no)
		}
	}
}
