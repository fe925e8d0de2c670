// Package say holds sentences that can be said in more than one language. A
// sentence is a text with blanks and what stands in them; the English text is
// its own key. The rooms that find something out make the sentence, those that
// show or print it say it in the language of their reader. It knows nobody.
package say

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Sentence is a text with blanks (the verbs of package fmt) and what fills
// them. It can be kept as JSON.
type Sentence struct {
	Key  string `json:"key"`
	Args []Arg  `json:"args,omitempty"`
}

// Arg fills one blank; one of its fields is set.
type Arg struct {
	Text   string    `json:"text,omitempty"`   // the same in every language
	Figure string    `json:"figure,omitempty"` // a number, with a decimal point
	Word   string    `json:"word,omitempty"`   // a word that has its own text in each language
	Part   *Sentence `json:"part,omitempty"`
}

// Word is a word of the trade among the arguments of a sentence.
type Word string

var blank = regexp.MustCompile(`%(?:\[(\d+)\])?[-+# 0]*\d*(?:\.\d+)?[a-zA-Z%]`)

// Of makes a sentence. Floats are figures, a Word is said in the reader's
// language, a Sentence becomes part of the new one; everything else stands as
// package fmt writes it.
func Of(key string, args ...any) Sentence {
	s := Sentence{Key: key, Args: make([]Arg, len(args))}
	verbs := verbsOf(key, len(args))
	for i, a := range args {
		switch x := a.(type) {
		case Sentence:
			s.Args[i].Part = &x
		case Word:
			s.Args[i].Word = string(x)
		case float64, float32:
			s.Args[i].Figure = fmt.Sprintf(verbs[i], x)
		case error:
			var said *saidError
			if errors.As(x, &said) && said.Error() == x.Error() {
				s.Args[i].Part = &said.sentence
			} else {
				s.Args[i].Text = x.Error()
			}
		default:
			s.Args[i].Text = fmt.Sprintf(verbs[i], x)
		}
	}
	return s
}

// verbsOf gives the verb of each argument of an English text.
func verbsOf(key string, n int) []string {
	verbs := make([]string, n)
	for i := range verbs {
		verbs[i] = "%v"
	}
	next := 0
	for _, m := range blank.FindAllStringSubmatch(key, -1) {
		if strings.HasSuffix(m[0], "%") {
			continue
		}
		at := next
		if m[1] != "" {
			at, _ = strconv.Atoi(m[1])
			at--
			m[0] = strings.Replace(m[0], "["+m[1]+"]", "", 1)
		}
		if at >= 0 && at < n {
			verbs[at] = m[0]
		}
		next = at + 1
	}
	return verbs
}

// Count is a text with a count in it, in the singular or the plural.
func Count(n int, one, many string) Sentence {
	if n == 1 {
		return Of(one, n)
	}
	return Of(many, n)
}

// List joins sentences with commas, the first most of them.
func List(items []Sentence, most int) Sentence {
	args := make([]any, 0, len(items))
	for _, s := range items[:min(most, len(items))] {
		args = append(args, s)
	}
	all := Of(strings.TrimSuffix(strings.Repeat("%s, ", len(args)), ", "), args...)
	if rest := len(items) - len(args); rest > 0 {
		return Of("%s and %d more", all, rest)
	}
	return all
}

// Day is a day in words.
func Day(t time.Time) Sentence {
	return Of("%d %s %d", t.Day(), Word(t.Month().String()), t.Year())
}

// IsZero reports whether there is nothing to say.
func (s Sentence) IsZero() bool { return s.Key == "" }

// String says it in English.
func (s Sentence) String() string { return English.Say(s) }

// Say says a sentence in the language. A sentence that begins with a blank
// begins with a capital letter none the less.
func (l *Language) Say(s Sentence) string {
	text := l.fill(s)
	if strings.HasPrefix(s.Key, "%") && len(s.Args) > 0 && s.Args[0].Part != nil && strings.ContainsAny(s.Key[len(s.Key)-1:], ".?!") {
		return capital(text)
	}
	return text
}

func (l *Language) fill(s Sentence) string {
	next := 0
	return blank.ReplaceAllStringFunc(l.Text(s.Key), func(verb string) string {
		if strings.HasSuffix(verb, "%") {
			return "%"
		}
		at := next
		if m := blank.FindStringSubmatch(verb); m[1] != "" {
			at, _ = strconv.Atoi(m[1])
			at--
		}
		next = at + 1
		if at < 0 || at >= len(s.Args) {
			return ""
		}
		return l.arg(s.Args[at])
	})
}

func (l *Language) arg(a Arg) string {
	switch {
	case a.Part != nil:
		return l.fill(*a.Part)
	case a.Word != "":
		return l.Text(a.Word)
	case a.Figure != "":
		return l.Figure(a.Figure)
	}
	return a.Text
}

// capital makes the first letter a capital.
func capital(s string) string {
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}
