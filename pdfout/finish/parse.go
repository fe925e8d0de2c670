package finish

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
)

// object is one indirect object of the file.
type object struct {
	num     int
	dict    []byte
	stream  []byte
	stored  bool   // has a stream
	picture string // path of the file that is the stream
	size    int64  // of that file when it was looked at
	keep    bool   // write the stream as it is
}

// source is gofpdf's output, taken apart.
type source struct {
	objects    map[int]*object
	last       int // highest object number
	root, info int
	profiles   map[[32]byte]int // colour profiles by SHA-256 -> object number
}

var lengthEntry = regexp.MustCompile(`\s*/Length (\d+)`)

// parse takes gofpdf's output apart by its cross-reference table.
func parse(src []byte) (*source, error) {
	at := bytes.LastIndex(src, []byte("startxref\n"))
	if at < 0 {
		return nil, fmt.Errorf("no cross-reference table")
	}
	var xref, first, n int
	if _, err := fmt.Sscan(string(src[at+10:]), &xref); err != nil || xref >= len(src) {
		return nil, fmt.Errorf("damaged cross-reference table")
	}
	if _, err := fmt.Sscanf(string(src[xref:min(len(src), xref+40)]), "xref\n%d %d\n", &first, &n); err != nil || first != 0 {
		return nil, fmt.Errorf("damaged cross-reference table")
	}
	table := src[xref+5:]
	table = table[bytes.IndexByte(table, '\n')+1:]
	out := &source{objects: map[int]*object{}, last: n - 1, profiles: map[[32]byte]int{}}
	for k := 1; k < n; k++ {
		entry := table[20*k : 20*k+20]
		off, err := strconv.Atoi(string(entry[:10]))
		if err != nil || off >= xref {
			return nil, fmt.Errorf("damaged cross-reference table")
		}
		o, err := readObject(k, src[off:xref])
		if err != nil {
			return nil, err
		}
		out.objects[k] = o
	}
	trailer := string(src[bytes.LastIndex(src, []byte("trailer")):])
	m := regexp.MustCompile(`(?s)/Root (\d+) 0 R.*/Info (\d+) 0 R`).FindStringSubmatch(trailer)
	if m == nil {
		return nil, fmt.Errorf("damaged trailer")
	}
	out.root, _ = strconv.Atoi(m[1])
	out.info, _ = strconv.Atoi(m[2])
	return out, nil
}

// readObject reads one object from b, which begins at its number.
func readObject(num int, b []byte) (*object, error) {
	if !bytes.HasPrefix(b, []byte(strconv.Itoa(num)+" 0 obj\n")) {
		return nil, fmt.Errorf("object %d is not where it should be", num)
	}
	b = b[bytes.IndexByte(b, '\n')+1:]
	end := bytes.Index(b, []byte("\nendobj"))
	start := bytes.Index(b, []byte(">>\nstream\n"))
	if start < 0 || end >= 0 && end < start {
		if end < 0 {
			return nil, fmt.Errorf("object %d has no end", num)
		}
		return &object{num: num, dict: b[:end]}, nil
	}
	dict := b[:start+2]
	m := lengthEntry.FindSubmatch(dict)
	if m == nil {
		return nil, fmt.Errorf("object %d has no length", num)
	}
	n, err := strconv.Atoi(string(m[1]))
	data := b[start+len(">>\nstream\n"):]
	if err != nil || n > len(data) {
		return nil, fmt.Errorf("object %d is cut short", num)
	}
	return &object{num: num, dict: lengthEntry.ReplaceAll(dict, nil), stream: data[:n], stored: true}, nil
}

// add makes a new object.
func (s *source) add(o *object) int {
	s.last++
	o.num = s.last
	s.objects[s.last] = o
	return s.last
}

// eachReference calls f for every "n 0 R" in a dictionary, outside strings, and
// writes what it returns in its place.
func eachReference(d []byte, f func(n int) int) []byte {
	out := make([]byte, 0, len(d)+16)
	for i := 0; i < len(d); {
		switch c := d[i]; {
		case c == '(':
			j := stringEnd(d, i)
			out = append(out, d[i:j]...)
			i = j
		case c >= '0' && c <= '9' && (i == 0 || !isRegular(d[i-1])):
			j := i
			for j < len(d) && d[j] >= '0' && d[j] <= '9' {
				j++
			}
			if bytes.HasPrefix(d[j:], []byte(" 0 R")) {
				n, _ := strconv.Atoi(string(d[i:j]))
				out = strconv.AppendInt(out, int64(f(n)), 10)
				out = append(out, " 0 R"...)
				i = j + 4
				continue
			}
			out = append(out, d[i:j]...)
			i = j
		default:
			out = append(out, c)
			i++
		}
	}
	return out
}

// stringEnd returns the index after the literal string that begins at i.
func stringEnd(d []byte, i int) int {
	depth := 0
	for ; i < len(d); i++ {
		switch d[i] {
		case '\\':
			i++
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return len(d)
}

// isRegular reports whether a byte can be inside a name or number.
func isRegular(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '.' || c == '-' || c == '/' || c == '#'
}
