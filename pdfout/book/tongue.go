package book

import (
	_ "embed" // the German texts
	"encoding/json"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/catalog/say"
)

//go:embed german.json
var germanTexts []byte

// german is the catalogue's German with the texts of the book.
var german = readGerman()

func readGerman() *say.Language {
	var texts map[string]string
	if err := json.Unmarshal(germanTexts, &texts); err != nil {
		panic("book: german.json: " + err.Error()) // built in; a test reads it
	}
	return say.German.With(texts)
}

// tongueOf is the language the book's own words are in: German for de and its
// kinds, else English.
func tongueOf(tag string) *say.Language {
	if say.In(tag) == say.German {
		return german
	}
	return say.English
}

// t is one of the book's own texts, its blanks filled.
func (b *book) t(key string, args ...any) string { return b.lang.Say(say.Of(key, args...)) }

// word is a word of the catalogue in the language of the book; other words
// stay as they are.
func (b *book) word(s string) string { return b.lang.Text(s) }

// stateText writes a state: "II/IV", "only state".
func (b *book) stateText(s *catalog.State) string {
	return b.word(notation.FormatState(s.N, len(b.states[s.PlateID])))
}
