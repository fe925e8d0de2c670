package lido

import (
	"bufio"
	"encoding/xml"
	"io"
	"strings"
)

// Namespace is the XML namespace of LIDO.
const Namespace = "http://www.lido-schema.org"

// uriType and localType are the LIDO terminology's words for the kinds of
// identifiers: an address, or one that holds only here.
const (
	uriType    = "http://terminology.lido-schema.org/lido00099"
	localType  = "http://terminology.lido-schema.org/lido00100"
	production = "http://terminology.lido-schema.org/lido00007"
)

// out writes elements one after another, holding nothing back. The first error
// is kept.
type out struct {
	w   *bufio.Writer
	err error
}

func newOut(w io.Writer) *out { return &out{w: bufio.NewWriterSize(w, 1<<16)} }

func (o *out) raw(s string) {
	if o.err == nil {
		_, o.err = o.w.WriteString(s)
	}
}

func (o *out) text(s string) {
	if o.err == nil {
		o.err = xml.EscapeText(o.w, []byte(legal(s)))
	}
}

// legal drops what XML 1.0 cannot hold (section 2.2): control signs other than
// tab and line ends, and bytes that are no UTF-8.
func legal(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' || (r >= 0x20 && r != 0xfffe && r != 0xffff && r != 0xfffd) {
			return r
		}
		return -1
	}, s)
}

// in writes an element around what fill writes. attrs are name and value in turn.
func (o *out) in(name string, fill func(), attrs ...string) {
	o.raw("<lido:" + name)
	for i := 0; i+1 < len(attrs); i += 2 {
		o.raw(" " + attrs[i] + `="`)
		o.text(attrs[i+1])
		o.raw(`"`)
	}
	o.raw(">")
	fill()
	o.raw("</lido:" + name + ">")
}

// leaf writes an element that holds a text; an empty text is left out.
func (o *out) leaf(name, text string, attrs ...string) {
	if legal(text) != "" {
		o.in(name, func() { o.text(text) }, attrs...)
	}
}

func (o *out) flush() error {
	if o.err == nil {
		o.err = o.w.Flush()
	}
	return o.err
}
