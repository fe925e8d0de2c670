// Package words is what the window says, in the language of its user. English
// texts are their own keys; translations/de.json is complete, and a test keeps
// it so. Trade words follow the project's vocabulary.
package words

import (
	"embed"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"time"

	"pullbook/catalog/say"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
)

//go:embed translations
var translations embed.FS

var (
	once   sync.Once
	german bool
)

// Languages are the languages the window speaks, by their own names.
var Languages = []struct{ Code, Name string }{{"", "As the system"}, {"en", "English"}, {"de", "Deutsch"}}

// Use loads the texts. An empty code follows the system's language; "en" and
// "de" hold against it. The toolkit cannot change language while it runs, so
// the window calls it once, before it draws anything.
func Use(code string) error {
	var err error
	once.Do(func() {
		german = code == "de" || code == "" && strings.HasPrefix(lang.SystemLocale().LanguageString(), "de")
		if code == "" {
			err = lang.AddTranslationsFS(translations, "translations")
			return
		}
		b, e := translations.ReadFile("translations/" + code + ".json")
		if e != nil {
			err = fmt.Errorf("there are no texts in the language %q; choose one of those in the menu", code)
			return
		}
		// the chosen language answers as if it were the system's
		err = lang.AddTranslationsForLocale(b, fyne.Locale(lang.SystemLocale()))
		if e := lang.AddTranslationsForLocale(b, "en"); err == nil {
			err = e
		}
	})
	return err
}

// T is the text in the user's language; with arguments it is a format.
func T(english string, a ...any) string {
	s := lang.L(english)
	if len(a) > 0 {
		return fmt.Sprintf(s, a...)
	}
	return s
}

// Tongue is the language of the sentences that other rooms make.
func Tongue() *say.Language {
	if german {
		return say.German
	}
	return say.English
}

// Code is the language of the window, BCP 47.
func Code() string {
	if german {
		return "de"
	}
	return "en"
}

// Say says a sentence that another room made.
func Say(s say.Sentence) string { return Tongue().Say(s) }

// Error says an error: in the user's language where it knows its words in it.
func Error(err error) string { return say.Error(Tongue(), err) }

// N is a text with a count, in the right plural. The key is the English plural
// with %d.
func N(english string, n int) string {
	s := lang.N(english, n)
	if n == 1 && s == english { // no plural known: say it plainly
		return fmt.Sprintf(s, n)
	}
	return fmt.Sprintf(s, n)
}

// Num is a number with a fixed count of decimals, with the decimal sign of the
// language.
func Num(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" { // no minus before nought
		s = strings.TrimPrefix(s, "-")
	}
	s = strings.Replace(s, "-", "\u2212", 1)
	if german {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// Point is the decimal sign of the language.
func Point() string {
	if german {
		return ","
	}
	return "."
}

// Percent is a fraction in per cent.
func Percent(v float64, decimals int) string { return Num(100*v, decimals) + "\u202f%" }

// Day is a date as one says it: 3 March 2024.
func Day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	t = t.Local()
	m := T(t.Month().String())
	if german {
		return fmt.Sprintf("%d. %s %d", t.Day(), m, t.Year())
	}
	return fmt.Sprintf("%d %s %d", t.Day(), m, t.Year())
}

// Clock is a time of day.
func Clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format("15:04")
}

// DayClock is a short day with the time.
func DayClock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	t = t.Local()
	m := T(t.Month().String())
	if r := []rune(m); len(r) > 3 {
		m = string(r[:3])
	}
	if german {
		return fmt.Sprintf("%d. %s %s", t.Day(), m, t.Format("15:04"))
	}
	return fmt.Sprintf("%d %s %s", t.Day(), m, t.Format("15:04"))
}
