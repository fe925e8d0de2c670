package typeset

import (
	"strconv"
	"strings"
	"unicode"

	"pullbook/assets/hyphen"
)

// Hyphenator finds where words of one language may be divided (F. M. Liang,
// Word Hy-phen-a-tion by Com-put-er, Stanford 1983).
type Hyphenator struct {
	patterns    map[string][]byte
	exceptions  map[string][]int // rune offsets
	longest     int
	left, right int // fewest letters before and after a break
}

// tradeWords are words of the trade that British patterns divide wrongly or
// not at all.
const tradeWords = `dry-point dry-points aqua-tint aqua-tints aqua-tinted mezzo-tint mezzo-tints photo-grav-ure
photo-etching litho-graph litho-graphs litho-graphy inta-glio etch-ing etch-ings etch-er engrav-ing engrav-ings
engrav-er en-graved burnish-er burnish-ing rou-lette rou-lettes scrap-er plate-mark plate-marks
water-mark water-marks colo-phon port-folio port-folios impres-sion impres-sions im-print
cata-logue cata-logues rai-sonné mor-dant mor-dants edi-tion edi-tions re-strike re-strikes
print-maker print-makers print-making prov-en-ance`

// NewHyphenator reads patterns as package hyphen carries them.
func NewHyphenator(text string) *Hyphenator {
	h := &Hyphenator{patterns: map[string][]byte{}, exceptions: map[string][]int{}, left: 2, right: 3}
	for line := range strings.SplitSeq(text, "\n") {
		switch {
		case line == "" || line[0] == '%':
		case strings.HasPrefix(line, "left "):
			h.left, _ = strconv.Atoi(line[5:])
		case strings.HasPrefix(line, "right "):
			h.right, _ = strconv.Atoi(line[6:])
		case strings.Contains(line, "-"):
			h.except(line)
		default:
			h.pattern(line)
		}
	}
	return h
}

// pattern adds one pattern: letters with odd numbers where a break is good and
// even ones where it is bad.
func (h *Hyphenator) pattern(line string) {
	var key []rune
	values := []byte{0}
	for _, r := range line {
		if r >= '0' && r <= '9' {
			values[len(values)-1] = byte(r - '0')
		} else {
			key = append(key, r)
			values = append(values, 0)
		}
	}
	h.patterns[string(key)] = values
	h.longest = max(h.longest, len(key))
}

// except adds a word with all its breaks marked by hyphens.
func (h *Hyphenator) except(word string) {
	var at []int
	n := 0
	for _, r := range word {
		if r == '-' {
			at = append(at, n)
		} else {
			n++
		}
	}
	h.exceptions[strings.ReplaceAll(word, "-", "")] = at
}

// Points returns the rune offsets at which a word may be divided. Words of
// fewer than five letters and words with anything but letters are left whole.
func (h *Hyphenator) Points(word string) []int {
	rs := []rune(strings.ToLower(word))
	if len(rs) < 5 || len(rs) > 60 {
		return nil
	}
	for _, r := range rs {
		if !unicode.IsLetter(r) {
			return nil
		}
	}
	if at, ok := h.exceptions[string(rs)]; ok {
		return at
	}
	dotted := "." + string(rs) + "."
	starts := make([]int, 0, len(rs)+3) // where each letter begins
	for i := range dotted {
		starts = append(starts, i)
	}
	starts = append(starts, len(dotted))
	values := make([]byte, len(rs)+3)
	for i := range len(rs) + 2 {
		for n := 1; n <= h.longest && i+n < len(starts); n++ {
			for k, v := range h.patterns[dotted[starts[i]:starts[i+n]]] {
				values[i+k] = max(values[i+k], v)
			}
		}
	}
	var at []int
	for i := h.left; i <= len(rs)-h.right; i++ {
		if values[i+1]%2 == 1 {
			at = append(at, i)
		}
	}
	return at
}

// hyphenator returns the hyphenator for a BCP 47 tag, or nil where there are
// no patterns.
func (c *Case) hyphenator(tag string) *Hyphenator {
	lang, _, _ := strings.Cut(strings.ToLower(tag), "-")
	if h, ok := c.hyphenators[lang]; ok {
		return h
	}
	var h *Hyphenator
	switch lang {
	case "en", "":
		h = NewHyphenator(hyphen.EnglishBritish)
		for _, w := range strings.Fields(tradeWords) {
			h.except(w)
		}
	case "de":
		h = NewHyphenator(hyphen.German)
	case "fr":
		h = NewHyphenator(hyphen.French)
	}
	c.hyphenators[lang] = h
	return h
}
