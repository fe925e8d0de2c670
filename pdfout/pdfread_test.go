package pdfout

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"os"
	"regexp"
	"strconv"
	"testing"
)

// A small reader of PDF files, for tests: it shares no code with the writer.

type (
	pdfName string
	pdfRef  int
	pdfDict map[pdfName]any
	pdfStr  []byte
)

// pdfStream is a stream object.
type pdfStream struct {
	dict pdfDict
	raw  []byte
}

// pdfFile is a file taken apart.
type pdfFile struct {
	data    []byte
	trailer pdfDict
	objects map[int]any
}

// readPDF reads every object of a file with a classic cross-reference table.
func readPDF(t testing.TB, path string) *pdfFile {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f := &pdfFile{data: data, objects: map[int]any{}}
	m := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`).FindSubmatch(data)
	if m == nil {
		t.Fatal("the file does not end in startxref, an offset and the end-of-file mark")
	}
	at, _ := strconv.Atoi(string(m[1]))
	head := regexp.MustCompile(`^xref\n0 (\d+)\n`).FindSubmatch(data[at:])
	if head == nil {
		t.Fatal("startxref does not point at a cross-reference table")
	}
	n, _ := strconv.Atoi(string(head[1]))
	table := data[at+len(head[0]):]
	for k := 1; k < n; k++ {
		off, _ := strconv.Atoi(string(table[20*k : 20*k+10]))
		if table[20*k+17] != 'n' {
			continue
		}
		p := &pdfParser{b: data, i: off}
		if num := p.value(); num != float64(k) {
			t.Fatalf("object %d is not at its offset %d", k, off)
		}
		p.value()
		p.word("obj")
		f.objects[k] = p.object(f)
	}
	p := &pdfParser{b: table, i: 20 * n}
	p.word("trailer")
	f.trailer = p.value().(pdfDict)
	return f
}

// get follows a reference.
func (f *pdfFile) get(v any) any {
	for {
		r, ok := v.(pdfRef)
		if !ok {
			return v
		}
		v = f.objects[int(r)]
	}
}

// dict follows a reference to a dictionary; nil where there is none.
func (f *pdfFile) dict(v any) pdfDict {
	switch v := f.get(v).(type) {
	case pdfDict:
		return v
	case *pdfStream:
		return v.dict
	}
	return nil
}

// bytes returns the decoded bytes of a stream.
func (f *pdfFile) bytes(t testing.TB, v any) []byte {
	t.Helper()
	s, ok := f.get(v).(*pdfStream)
	if !ok {
		t.Fatalf("%v is no stream", v)
	}
	if s.dict["Filter"] == pdfName("FlateDecode") {
		r, err := zlib.NewReader(bytes.NewReader(s.raw))
		if err != nil {
			t.Fatal(err)
		}
		out, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	return s.raw
}

// pages returns the page dictionaries in order.
func (f *pdfFile) pages() []pdfDict {
	var out []pdfDict
	root := f.dict(f.trailer["Root"])
	for _, k := range f.dict(root["Pages"])["Kids"].([]any) {
		out = append(out, f.dict(k))
	}
	return out
}

// pdfParser reads values.
type pdfParser struct {
	b []byte
	i int
}

func (p *pdfParser) space() {
	for p.i < len(p.b) && (p.b[p.i] == ' ' || p.b[p.i] == '\n' || p.b[p.i] == '\r' || p.b[p.i] == '\t') {
		p.i++
	}
}

func (p *pdfParser) word(w string) {
	p.space()
	if !bytes.HasPrefix(p.b[p.i:], []byte(w)) {
		panic(fmt.Sprintf("%q wanted at %d, found %q", w, p.i, p.b[p.i:min(len(p.b), p.i+20)]))
	}
	p.i += len(w)
}

// object reads a value and, where one follows, its stream.
func (p *pdfParser) object(f *pdfFile) any {
	v := p.value()
	p.space()
	d, ok := v.(pdfDict)
	if !ok || !bytes.HasPrefix(p.b[p.i:], []byte("stream\n")) {
		p.word("endobj")
		return v
	}
	p.i += 7
	n := int(d["Length"].(float64))
	s := &pdfStream{d, p.b[p.i : p.i+n]}
	p.i += n
	p.word("endstream")
	p.word("endobj")
	return s
}

var (
	refPattern    = regexp.MustCompile(`^(\d+) 0 R`)
	numberPattern = regexp.MustCompile(`^[+-]?[0-9]*\.?[0-9]+`)
	namePattern   = regexp.MustCompile(`^/[^ \n\r\t/\[\]<>()%]*`)
)

// value reads one value.
func (p *pdfParser) value() any {
	p.space()
	rest := p.b[p.i:min(len(p.b), p.i+400)]
	switch {
	case bytes.HasPrefix(rest, []byte("<<")):
		p.i += 2
		d := pdfDict{}
		for p.space(); !bytes.HasPrefix(p.b[p.i:], []byte(">>")); p.space() {
			k := p.value().(pdfName)
			d[k] = p.value()
		}
		p.i += 2
		return d
	case rest[0] == '[':
		p.i++
		list := []any{}
		for p.space(); p.b[p.i] != ']'; p.space() {
			list = append(list, p.value())
		}
		p.i++
		return list
	case rest[0] == '/':
		m := namePattern.Find(rest)
		p.i += len(m)
		return pdfName(m[1:])
	case rest[0] == '(':
		return p.literal()
	case rest[0] == '<':
		end := bytes.IndexByte(p.b[p.i:], '>')
		hex := string(p.b[p.i+1 : p.i+end])
		p.i += end + 1
		var out pdfStr
		for k := 0; k+1 < len(hex); k += 2 {
			v, _ := strconv.ParseUint(hex[k:k+2], 16, 8)
			out = append(out, byte(v))
		}
		return out
	}
	for _, w := range []string{"true", "false", "null"} {
		if bytes.HasPrefix(rest, []byte(w)) {
			p.i += len(w)
			return w
		}
	}
	if m := refPattern.FindSubmatch(rest); m != nil {
		n, _ := strconv.Atoi(string(m[1]))
		p.i += len(m[0])
		return pdfRef(n)
	}
	m := numberPattern.Find(rest)
	if m == nil {
		panic(fmt.Sprintf("no value at %d: %q", p.i, rest[:min(20, len(rest))]))
	}
	p.i += len(m)
	v, _ := strconv.ParseFloat(string(m), 64)
	return v
}

// literal reads a string in round brackets.
func (p *pdfParser) literal() pdfStr {
	var out pdfStr
	depth := 0
	for ; ; p.i++ {
		switch c := p.b[p.i]; c {
		case '(':
			depth++
			if depth == 1 {
				continue
			}
		case ')':
			if depth--; depth == 0 {
				p.i++
				return out
			}
		case '\\':
			p.i++
		}
		out = append(out, p.b[p.i])
	}
}
