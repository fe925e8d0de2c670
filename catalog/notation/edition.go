package notation

import (
	"regexp"
	"strings"

	"pullbook/catalog"
)

// Script says in which figures a number is written.
type Script string

// Scripts.
const (
	Arabic Script = "arabic"
	RomanS Script = "roman"
)

// EditionReading is the numbering of one sheet, or the size of an edition, as
// read from an inscription or a field.
type EditionReading struct {
	// N and Of are the sheet's number and the size of its edition, or of its
	// kind of proof; 0 when not written. A size alone has N 0.
	N, Of int
	// Kind is the kind of impression the text names; empty when it names
	// none. Arabic n/N alone is Numbered. Roman figures never decide it.
	Kind   catalog.Kind
	Script Script
	// Proofs is the number of artist's proofs said to exist besides.
	Proofs int
	// Matched is the part of the text that was read.
	Matched string
	Flags   Flags
	Raw     string
}

// Found reports whether a number, a size or a kind was read.
func (r EditionReading) Found() bool { return r.N > 0 || r.Of > 0 || r.Kind != "" }

// Certain reports whether something was read and nothing casts doubt on it.
func (r EditionReading) Certain() bool { return r.Found() && !r.Flags.Doubtful() }

// proofMarks are the customary words and abbreviations for kinds of
// impression, in several languages. Abbreviations are matched in upper case,
// or with their full stops.
var proofMarks = []struct {
	re   *regexp.Regexp
	kind catalog.Kind
}{
	{regexp.MustCompile(`(?i)\bbon [àa] tirer\b|\bB\.?\s?A\.?\s?T\b\.?`), catalog.KindBAT},
	{regexp.MustCompile(`(?i)\bhors[- ]commerce\b|\bnot for sale\b`), catalog.KindHorsCommerce},
	{regexp.MustCompile(`\bH\.?\s?C\b\.?`), catalog.KindHorsCommerce},
	{regexp.MustCompile(`(?i)\bcancell?ation (?:proof|print|impression)\b|\bcancell?ed (?:proof|plate)\b`), catalog.KindCancellation},
	{regexp.MustCompile(`\bC\.P\b\.?|^CP$`), catalog.KindCancellation},
	{regexp.MustCompile(`(?i)\btrial proofs?\b|\bépreuve d['’]essai\b|\bprobedruck\b|\bprova di stampa\b`), catalog.KindTrial},
	{regexp.MustCompile(`\bT\.\s?P\b\.?|\bTP\b`), catalog.KindTrial},
	{regexp.MustCompile(`(?i)\bstate proof\b|\bépreuve d['’]état\b|\bzustandsdruck\b`), catalog.KindState},
	{regexp.MustCompile(`(?i)\bprinter['’]?s? proof\b`), catalog.KindPrinter},
	{regexp.MustCompile(`\bP\.\s?P\b\.?|\bPP\b`), catalog.KindPrinter},
	{regexp.MustCompile(`(?i)\bartist['’]?s? proof\b|\bépreuve d['’]artiste\b|\bprova d['’]artista\b|\bkünstlerexemplar\b|\bprueba de artista\b|\ba\.p\.`), catalog.KindArtist},
	{regexp.MustCompile(`\bA\.?\s?/?\s?P\b\.?|\bE\.?\s?/?\s?A\b\.?|\bP\.?\s?d['’]?A\b\.?`), catalog.KindArtist},
	{regexp.MustCompile(`(?i)\bfirst proof\b`), catalog.KindTrial},
}

var (
	fraction      = regexp.MustCompile(`(\d+)\s*/\s*(\d+)`)
	romanFraction = regexp.MustCompile(`\b([IVXLC]+|[ivxlc]+)\s*/\s*([IVXLC]+|[ivxlc]+)\b`)
	ofFigures     = regexp.MustCompile(`(?i)(?:^|edition\s*:?\s+|no\.?\s*|nr\.?\s*|#)(\d+)\s+(?:of|von|sur|di)\s+(\d+)\b`)
	ofEdition     = regexp.MustCompile(`(?i)#\s*(\d+)\s+of\s+an?\s+(?:\w+\s+)?edition\s+of\s+(\d+)`)
	sizeOfEdition = regexp.MustCompile(`(?i)\b(?:edition|auflage|tirage|tiratura|ed)\.?\s*(?:of|von|de|di|:)?\s*(\d+)\b`)
	oneOf         = regexp.MustCompile(`(?i)\bone\s+of\s+(\d+)\b|\b(\d+)\s+(?:numbered\s+)?(?:impressions|proofs|prints|copies|exemplare|épreuves)\b`)
	wordsPrinted  = regexp.MustCompile(`(?i)^(\w+)\s+(?:proofs|impressions)\b`)
	proofsBesides = regexp.MustCompile(`(?i)(?:\+|plus|and|sowie|et)\s*(\d+)\s*(?:A\.?P\.?s?|E\.?A\.?|artist['’]?s? proofs?)`)
	spreadsheet   = regexp.MustCompile(`(?i)^\s*\d{1,2}[/ -](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\s*$|^\s*(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[/ -]\d{1,4}\s*$`)
	separator     = regexp.MustCompile(`^\s*\d+\s*[-–:.]\s*\d+\s*$`)
)

// ParseEdition reads what is written about an impression's place in an
// edition: "7/30", "A.P. I/III", "E.A.", "Edition 2 of 9, + 1AP", or a whole
// inscription that holds one of these among dates, stock numbers and names.
// Roman figures are read, but never taken to say what kind of impression it
// is; months with years and dealers' numbers are flagged and not taken.
func ParseEdition(s string) EditionReading {
	r := EditionReading{Raw: s}
	t := strings.TrimSpace(strings.ReplaceAll(s, "\u00a0", " "))
	switch {
	case t == "":
		r.Flags.add(FlagEmpty)
		return r
	case spreadsheet.MatchString(t):
		r.Flags.add(FlagSpreadsheetDate)
		return r
	case separator.MatchString(t):
		r.Flags.add(FlagSeparator)
		return r
	}
	r.besides(t)
	r.kind(t)
	if !r.numbers(t) && r.Kind == "" {
		r.size(t)
	}
	if !r.Found() && len(r.Flags) == 0 {
		r.Flags.add(FlagUnread)
	}
	return r
}

// besides reads "+ 1AP" and the like, which say nothing of this sheet.
func (r *EditionReading) besides(t string) {
	if m := proofsBesides.FindStringSubmatch(t); m != nil {
		r.Proofs = atoi(m[1])
	}
}

// kind reads the kind of impression where the text names it.
func (r *EditionReading) kind(t string) {
	t = proofsBesides.ReplaceAllString(t, "")
	for _, p := range proofMarks {
		loc := p.re.FindStringIndex(t)
		if loc == nil || insideWord(t, loc) {
			continue
		}
		r.Kind, r.Matched = p.kind, strings.TrimSpace(t[loc[0]:loc[1]])
		return
	}
}

// insideWord reports whether a match is a part of a name such as "D.A.P. Smith"
// or an inventory mark such as "AP 12-3".
func insideWord(t string, loc []int) bool {
	if loc[0] > 0 {
		prev := rune(t[loc[0]-1])
		if prev == '.' || prev == '-' || prev == '&' {
			return true
		}
	}
	rest := t[loc[1]:]
	return strings.HasPrefix(rest, "-") || strings.HasPrefix(rest, "'") || strings.HasPrefix(rest, "&")
}

// candidate is one pair of figures that might be a number within an edition.
type candidate struct {
	n, of  int
	script Script
	text   string
	doubt  Flag
}

// numbers reads n/N in arabic or roman figures; the first pair that can be one is taken.
func (r *EditionReading) numbers(t string) bool {
	for _, re := range []*regexp.Regexp{ofEdition, ofFigures} {
		if m := re.FindStringSubmatch(t); m != nil {
			r.take(candidate{n: atoi(m[1]), of: atoi(m[2]), script: Arabic, text: m[0]})
			return true
		}
	}
	var best *candidate
	cands := candidates(t)
	for i := range cands {
		c := &cands[i]
		if best == nil || (best.doubt != "" && c.doubt == "") {
			best = c
		}
	}
	if best == nil {
		return false
	}
	if best.doubt != "" {
		r.Flags.add(best.doubt)
		return true
	}
	r.take(*best)
	return true
}

// take checks and records one pair of figures.
func (r *EditionReading) take(c candidate) {
	switch {
	case c.n == 0 || c.of == 0:
		r.Flags.add(FlagZero)
		return
	case c.n > c.of:
		r.Flags.add(FlagAboveSize)
		return
	}
	r.N, r.Of, r.Script = c.n, c.of, c.script
	if r.Matched != "" && r.Kind != "" {
		r.Matched += " " + c.text
	} else {
		r.Matched = c.text
	}
	switch {
	case r.Kind != "":
	case c.script == RomanS:
		r.Flags.add(FlagRomanKind)
	default:
		r.Kind = catalog.KindNumbered
	}
}

// candidates finds every pair of figures with a stroke, with the doubt that
// its surroundings cast on it.
func candidates(t string) []candidate {
	var out []candidate
	// Transcriptions write a line end as a stroke set close to the line before
	// and off the next: "40/80" after "Name/ " is not part of a fraction.
	arabic := t
	if !digitsOrStroke(t) {
		arabic = lineEnd.ReplaceAllString(t, "$1 | ")
	}
	for _, m := range fraction.FindAllStringSubmatchIndex(arabic, -1) {
		c := candidate{n: atoi(arabic[m[2]:m[3]]), of: atoi(arabic[m[4]:m[5]]), script: Arabic, text: arabic[m[0]:m[1]]}
		c.doubt = c.surroundings(arabic, m[0], m[1])
		if c.doubt == skip {
			continue
		}
		out = append(out, c)
	}
	for _, m := range romanFraction.FindAllStringSubmatchIndex(t, -1) {
		a, okA := ParseRoman(t[m[2]:m[3]])
		b, okB := ParseRoman(t[m[4]:m[5]])
		if !okA || !okB {
			continue
		}
		out = append(out, candidate{n: a, of: b, script: RomanS, text: t[m[0]:m[1]]})
	}
	return out
}

// lineEnd is a stroke that stands for a line end.
var lineEnd = regexp.MustCompile(`(\S)/\s+`)

// digitsOrStroke reports whether a text is figures and a stroke alone.
func digitsOrStroke(s string) bool {
	return strings.Trim(s, "0123456789/ ") == ""
}

// skip marks figures that are plainly something else.
const skip Flag = "skip"

var (
	measured    = regexp.MustCompile(`\d\s+$|[x×]\s*$`)
	dealerMarks = regexp.MustCompile(`(?i)(?:#|folder(?:-?mat)?|mat|stock|inv\.?|lot|cat\.?|fig\.?|p\.)\s*$`)
)

// surroundings judges a pair of figures by what stands around it.
func (c candidate) surroundings(t string, start, end int) Flag {
	before, after := t[:start], t[end:]
	switch {
	case strings.HasSuffix(before, "/") || startsWithSlashDigit(after):
		return skip // 1/17/1874
	case dealerMarks.MatchString(before):
		return FlagStockNumber
	case partOfMeasure(before, after):
		return skip // 10 3/8 x 14
	case gluedToLetter(before) && !c.plausible():
		return FlagStockNumber
	case len(after) > 0 && (hasLetterAt(after) && (strings.HasPrefix(after, "nd") || strings.HasPrefix(after, "st") || strings.HasPrefix(after, "rd") || strings.HasPrefix(after, "th"))):
		return skip // 11/ 2nd Ave
	case monthGlued(before):
		return FlagMaybeDate // Mar1/19
	case c.n == 0 || c.of == 0:
		return FlagZero
	case c.n > c.of:
		return FlagAboveSize
	case c.maybeDate(before):
		return FlagMaybeDate
	}
	return ""
}

// plausible reports whether the figures could number an impression.
func (c candidate) plausible() bool { return c.n >= 1 && c.n <= c.of && c.of >= 5 }

// maybeDate recognises a month and a short year after a name: "Leslie Arden
// 10/79". Sizes that end in 0 or 5 are not doubted.
func (c candidate) maybeDate(before string) bool {
	if c.n < 1 || c.n > 12 || c.of <= 50 || c.of > 99 || c.of%5 == 0 || !afterSignature(before) {
		return false
	}
	return true
}

// afterSignature reports whether a name stands directly before the figures:
// two capitalised words at the end of the text before them.
func afterSignature(before string) bool {
	words := strings.Fields(before)
	if len(words) < 2 {
		return false
	}
	named := 0
	for _, w := range words[max(0, len(words)-2):] {
		if strings.HasSuffix(w, ":") || strings.HasSuffix(w, ";") {
			return false
		}
		if r := []rune(w); len(r) > 1 && strings.ToUpper(string(r[0])) == string(r[0]) && isLetter(r[0]) {
			named++
		}
	}
	return named == 2
}

func startsWithSlashDigit(s string) bool {
	s = strings.TrimLeft(s, " ")
	if !strings.HasPrefix(s, "/") {
		return false
	}
	s = strings.TrimLeft(s[1:], " ")
	return s != "" && isDigit(rune(s[0]))
}

// partOfMeasure recognises the fraction of a measurement.
func partOfMeasure(before, after string) bool {
	a := strings.TrimLeft(after, " ")
	return measured.MatchString(before) && (strings.HasPrefix(a, "x") || strings.HasPrefix(a, "×") || strings.HasPrefix(a, "in") || strings.HasPrefix(a, "\"")) ||
		strings.HasSuffix(strings.TrimRight(before, " 0123456789"), "x") || strings.HasPrefix(a, "x ") || strings.HasPrefix(a, "x1") ||
		(measured.MatchString(before) && strings.HasSuffix(strings.TrimRight(before, " 0123456789"), "/"))
}

func gluedToLetter(before string) bool {
	r := []rune(before)
	return len(r) > 0 && isLetter(r[len(r)-1])
}

// monthGlued recognises "Mar1/19".
func monthGlued(before string) bool {
	if !gluedToLetter(before) {
		return false
	}
	words := strings.FieldsFunc(strings.ToLower(before), func(r rune) bool { return !isLetter(r) })
	return len(words) > 0 && months[words[len(words)-1]] > 0
}

func hasLetterAt(s string) bool { return s != "" && isLetter([]rune(s)[0]) }

// size reads the size of an edition where no number within it is written.
func (r *EditionReading) size(t string) {
	for _, re := range []*regexp.Regexp{sizeOfEdition, oneOf} {
		all := re.FindAllStringSubmatch(t, -1)
		if len(all) == 0 {
			continue
		}
		if n := atoi(all[0][1]); n > 0 {
			r.Of = n
		} else if len(all[0]) > 2 {
			r.Of = atoi(all[0][2])
		}
		r.Matched = all[0][0]
		r.Script = Arabic
		r.Flags.add(FlagSizeOnly)
		if len(all) > 1 {
			r.Flags.add(FlagSeveralEditions)
		}
		if r.Of > 0 {
			return
		}
	}
	if m := wordsPrinted.FindStringSubmatch(t); m != nil {
		if n := cardinals[strings.ToLower(m[1])]; n > 0 {
			r.Of, r.Script, r.Matched = n, Arabic, m[0]
			r.Flags.add(FlagSizeOnly)
			return
		}
	}
	if digits(t) && len(t) <= 5 && atoi(t) > 0 {
		r.Of, r.Script, r.Matched = atoi(t), Arabic, t
		r.Flags.add(FlagSizeOnly)
	}
}

// cardinals are the English words for the sizes small editions are stated in.
var cardinals = map[string]int{}

func init() {
	for i, w := range strings.Fields("one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty") {
		cardinals[w] = i + 1
	}
	for i, w := range strings.Fields("thirty forty fifty sixty seventy eighty ninety hundred") {
		cardinals[w] = 30 + 10*i
	}
}

// FormatEdition writes the number of a sheet as customary: "7/30" for a
// numbered impression, "A.P. I/III" for a proof, "E.A." never (one form each).
func FormatEdition(kind catalog.Kind, n, of int) string {
	mark := map[catalog.Kind]string{catalog.KindArtist: "A.P.", catalog.KindPrinter: "P.P.", catalog.KindHorsCommerce: "H.C.",
		catalog.KindBAT: "B.A.T.", catalog.KindTrial: "T.P.", catalog.KindCancellation: "C.P.", catalog.KindState: "state proof"}[kind]
	figures := ""
	switch {
	case n < 1:
	case mark == "":
		figures = formatInt(n)
		if of > 0 {
			figures += "/" + formatInt(of)
		}
	default:
		figures = Roman(n)
		if of > 0 {
			figures += "/" + Roman(of)
		}
	}
	return strings.TrimSpace(mark + " " + figures)
}
