// Command summary reads what 'go test -json -cover ./...' wrote and prints what
// a reader of the continuous integration wants to see: what failed, with its
// output; what was skipped, and why; each package with its tests, time and
// coverage; every figure that a test measured; the size of the program; and,
// last, one line with the number of tests.
//
//	go run ./assets/summary -program bin/pullbook bin/tests.json
//
// A test's figure is shown when its log says what is owed or what the limit is,
// or how many were right, or when it stands in a table. Nobody keeps a list.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	program := flag.String("program", "", "the built program, whose size is told")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "summary: name one file of test events")
		os.Exit(2)
	}
	in, err := os.Open(flag.Arg(0))
	if err == nil {
		defer in.Close()
		var r *results
		if r, err = read(in); err == nil {
			r.print(os.Stdout, sizeOf(*program))
			return
		}
	}
	fmt.Fprintln(os.Stderr, "summary:", err)
	os.Exit(1)
}

// sizeOf is the size of a file in bytes, 0 for none.
func sizeOf(path string) int64 {
	if info, err := os.Stat(path); err == nil {
		return info.Size()
	}
	return 0
}
