package say

import (
	_ "embed" // the German texts
	"encoding/json"
	"maps"
	"strings"
)

// Language is a language that sentences can be said in.
type Language struct {
	texts  map[string]string
	comma  bool      // the decimal sign
	parent *Language // asked for what it has no text for
}

//go:embed german.json
var germanTexts []byte

// English is the language in which sentences are written down.
var English = &Language{}

// German has a text for every sentence of the catalogue and the measuring; a
// test keeps it so.
var German = readGerman()

func readGerman() *Language {
	l := &Language{comma: true}
	if err := json.Unmarshal(germanTexts, &l.texts); err != nil {
		panic("say: german.json: " + err.Error()) // built in; a test reads it
	}
	return l
}

// In is the language of a BCP 47 tag: German for de and its kinds, else
// English.
func In(tag string) *Language {
	if t := strings.ToLower(tag); t == "de" || strings.HasPrefix(t, "de-") {
		return German
	}
	return English
}

// With is the language with further texts.
func (l *Language) With(texts map[string]string) *Language {
	more := &Language{texts: maps.Clone(texts), comma: l.comma, parent: l}
	return more
}

// Text is a text of the language, the English itself where it has none.
func (l *Language) Text(english string) string {
	if s, ok := l.texts[english]; ok {
		return s
	}
	if l.parent != nil {
		return l.parent.Text(english)
	}
	return english
}

// Ordinals reports whether ordinal numbers are figures with a full stop.
func (l *Language) Ordinals() bool { return l.comma }

// Figure writes a number with the decimal sign of the language.
func (l *Language) Figure(s string) string {
	if l.comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
