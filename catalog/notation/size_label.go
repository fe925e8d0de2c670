package notation

import (
	"strconv"
	"strings"
)

// labels are the words for what was measured, in the languages prints are
// catalogued in, with the one word used here. Longer words stand before those
// they contain.
var labels = []struct{ word, label string }{
	{"plate mark", "plate"}, {"platemark", "plate"}, {"plattenrand", "plate"}, {"coup de planche", "plate"},
	{"cuvette", "plate"}, {"plate", "plate"}, {"platte", "plate"}, {"planche", "plate"}, {"lastra", "plate"},
	{"plancha", "plate"}, {"plaat", "plate"}, {"huella", "plate"},
	{"sheet", "sheet"}, {"paper", "sheet"}, {"blatt", "sheet"}, {"feuille", "sheet"}, {"foglio", "sheet"},
	{"hoja", "sheet"}, {"blad", "sheet"}, {"page", "sheet"}, {"support", "sheet"},
	{"image", "image"}, {"composition", "image"}, {"comp", "image"}, {"bild", "image"}, {"darstellung", "image"},
	{"motif", "image"}, {"immagine", "image"}, {"imagen", "image"}, {"sujet", "image"}, {"block", "image"}, {"sight", "image"},
	{"mat", "mount"}, {"mount", "mount"}, {"passepartout", "mount"}, {"montage", "mount"}, {"board", "mount"},
	{"frame", "frame"}, {"rahmen", "frame"}, {"cadre", "frame"}, {"cornice", "frame"},
	{"book", "book"}, {"buch", "book"}, {"volume", "book"}, {"portfolio", "book"}, {"case", "book"},
	{"overall", "overall"}, {"object", "overall"}, {"displayed", "overall"}, {"unconfirmed", "overall"},
}

// cleanLabel is the text before the figures, without its punctuation.
func cleanLabel(s string) string {
	// After an earlier part, the label begins behind the last stop.
	s = strings.TrimRight(s, " \t\r\n:;,(-=")
	if i := strings.LastIndexAny(s, ";\n"); i >= 0 {
		s = s[i+1:]
	}
	return strings.Trim(s, " \t\r\n:;,.)(-=\"”″")
}

// labelOf gives the consistent word for a label as written. Where two things
// are named ("composition and sheet") the one nearer the print's own
// boundary is chosen in the order of labels above.
func labelOf(as string) string {
	low := strings.ToLower(as)
	if low == "" {
		return ""
	}
	for _, l := range labels {
		if i := strings.Index(low, l.word); i >= 0 && (i == 0 || !isLetter(rune(low[i-1]))) {
			return l.label
		}
	}
	return "other"
}

func formatInt(n int) string { return strconv.Itoa(n) }

func formatFloat(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }
