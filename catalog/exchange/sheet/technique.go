package sheet

import (
	"sort"
	"strings"

	"pullbook/catalog"
)

// techniqueWords are the words for techniques in several languages. Phrases
// stand before the words they hold.
var techniqueWords = []struct {
	word string
	t    catalog.Technique
}{
	{"soft ground etching", catalog.SoftGround}, {"soft-ground etching", catalog.SoftGround}, {"softground", catalog.SoftGround},
	{"soft ground", catalog.SoftGround}, {"soft-ground", catalog.SoftGround}, {"vernis mou", catalog.SoftGround}, {"weichgrund", catalog.SoftGround},
	{"vernice molle", catalog.SoftGround}, {"barniz blando", catalog.SoftGround},
	{"line engraving", catalog.Engraving}, {"wood engraving", "wood engraving"}, {"woodcut", "woodcut"}, {"linocut", "linocut"},
	{"drypoint", catalog.Drypoint}, {"dry point", catalog.Drypoint}, {"dry-point", catalog.Drypoint}, {"pointe seche", catalog.Drypoint},
	{"kaltnadel", catalog.Drypoint}, {"puntasecca", catalog.Drypoint}, {"punta seca", catalog.Drypoint}, {"droge naald", catalog.Drypoint},
	{"aquatint", catalog.Aquatint}, {"aquatinte", catalog.Aquatint}, {"acquatinta", catalog.Aquatint}, {"aguatinta", catalog.Aquatint}, {"aquatinta", catalog.Aquatint},
	{"mezzotint", catalog.Mezzotint}, {"maniere noire", catalog.Mezzotint}, {"schabkunst", catalog.Mezzotint}, {"maniera nera", catalog.Mezzotint},
	{"roulette", catalog.Roulette},
	{"etching", catalog.Etching}, {"eau forte", catalog.Etching}, {"eau-forte", catalog.Etching}, {"radierung", catalog.Etching}, {"atzung", catalog.Etching},
	{"acquaforte", catalog.Etching}, {"aguafuerte", catalog.Etching}, {"ets", catalog.Etching},
	{"engraving", catalog.Engraving}, {"kupferstich", catalog.Engraving}, {"burin", catalog.Engraving}, {"bulino", catalog.Engraving}, {"buril", catalog.Engraving},
	{"gravure", catalog.Engraving},
}

// techniques finds the techniques named in a text, in its order. all is true
// when the text is exactly one of them, so that nothing else need be kept.
func techniques(s string) (found []catalog.Technique, all bool) {
	type hit struct {
		at int
		t  catalog.Technique
	}
	low := []byte(foldKeepingLength(s))
	var hits []hit
	for _, w := range techniqueWords {
		for from := 0; from < len(low); {
			i := strings.Index(string(low[from:]), w.word)
			if i < 0 {
				break
			}
			i += from
			end := i + len(w.word)
			from = end
			if !wholeWord(low, i, end) {
				continue
			}
			hits = append(hits, hit{i, w.t})
			// Take the words out, so that "etching" is not found within "soft-ground etching".
			for k := i; k < end; k++ {
				low[k] = '#'
			}
		}
	}
	sort.SliceStable(hits, func(a, b int) bool { return hits[a].at < hits[b].at })
	seen := map[catalog.Technique]bool{}
	for _, h := range hits {
		if !seen[h.t] {
			seen[h.t] = true
			found = append(found, h.t)
		}
	}
	return found, len(found) == 1 && string(found[0]) == s
}

// wholeWord reports whether a match is no part of a longer word; a plural s
// may follow.
func wholeWord(text []byte, start, end int) bool {
	if start > 0 && letter(text[start-1]) {
		return false
	}
	if end < len(text) && text[end] == 's' {
		end++
	}
	return end >= len(text) || !letter(text[end])
}

func letter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 0x80 }

// foldKeepingLength writes a text in lower case without the commonest accents.
func foldKeepingLength(s string) string {
	return strings.NewReplacer("è", "e", "é", "e", "ä", "a", "ö", "o", "ü", "u", "È", "e", "É", "e").Replace(strings.ToLower(s))
}
