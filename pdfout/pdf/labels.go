package pdf

import (
	"fmt"
	"strconv"
	"strings"

	"pullbook/pdfout/display"
)

// labels writes the page labels of a document as the body of a number tree
// (PDF 32000-1:2008, 12.4.2), one entry for each run of folios.
func labels(doc *display.Document) string {
	var b strings.Builder
	kind, next := "", -1
	for i, p := range doc.Pages {
		k, n := readFolio(p.Label)
		if k == kind && n == next {
			next++
			continue
		}
		kind, next = k, n+1
		switch k {
		case "":
			fmt.Fprintf(&b, "%d <<>> ", i)
		default:
			fmt.Fprintf(&b, "%d <</S /%s /St %d>> ", i, k, n)
		}
	}
	return strings.TrimSpace(b.String())
}

// readFolio reads a folio as the label style D or r and a number.
func readFolio(label string) (string, int) {
	if n, err := strconv.Atoi(label); err == nil && n > 0 {
		return "D", n
	}
	if n := romanValue(label); n > 0 {
		return "r", n
	}
	return "", -1
}

// romanValue reads a lower-case roman figure; 0 when it is none.
func romanValue(s string) int {
	value := map[byte]int{'i': 1, 'v': 5, 'x': 10, 'l': 50, 'c': 100, 'd': 500, 'm': 1000}
	sum := 0
	for i := 0; i < len(s); i++ {
		v := value[s[i]]
		if v == 0 {
			return 0
		}
		if i+1 < len(s) && value[s[i+1]] > v {
			v = -v
		}
		sum += v
	}
	return sum
}
