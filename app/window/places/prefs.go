package places

import (
	"slices"
	"strings"

	"pullbook/catalog"
)

// prefs is what the window remembers between days: nothing that has meaning
// for the catalogue.
type prefs struct{ p Memory }

// Memory keeps what the window remembers; the toolkit's preferences are one.
type Memory interface {
	String(key string) string
	SetString(key, v string)
	Bool(key string) bool
	SetBool(key string, v bool)
	FloatWithFallback(key string, fallback float64) float64
	SetFloat(key string, v float64)
	IntWithFallback(key string, fallback int) int
	SetInt(key string, v int)
}

// Names under which the window remembers.
const (
	PrefLast   = "last catalogue"
	PrefDark   = "dark"
	PrefScale  = "text scale"
	PrefWidth  = "window width"
	PrefHeight = "window height"
	PrefTongue = "language"
	PrefBy     = "initials"
	PrefRecent = "recent catalogues" // one a line, the last first
)

// recentKept is how many catalogues are remembered.
const recentKept = 9

// Remember puts a catalogue first among those opened last.
func Remember(m Memory, dir string) {
	l := slices.DeleteFunc(prefs{m}.recent(), func(d string) bool { return d == dir })
	l = append([]string{dir}, l...)
	m.SetString(PrefRecent, strings.Join(l[:min(len(l), recentKept)], "\n"))
}

// recent are the folders of the catalogues opened last.
func (p prefs) recent() []string {
	return slices.DeleteFunc(strings.Split(p.p.String(PrefRecent), "\n"), func(d string) bool { return d == "" })
}

func (p prefs) plate(dir string) catalog.ID {
	return catalog.ID(p.p.String("plate " + dir))
}
func (p prefs) setPlate(dir string, id catalog.ID) { p.p.SetString("plate "+dir, string(id)) }
func (p prefs) place() int {
	return min(max(p.p.IntWithFallback("place", AtPress), AtPress), AtDesk)
}
func (p prefs) setPlace(i int) { p.p.SetInt("place", i) }
func (p prefs) listWidth() float32 {
	return float32(min(max(p.p.FloatWithFallback("list width", 292), 220), 520))
}
func (p prefs) setListWidth(w float32) { p.p.SetFloat("list width", float64(w)) }
func (p prefs) screenPerMM() float64 {
	return p.p.FloatWithFallback("screen points per mm", 96/25.4)
}
func (p prefs) setScreenPerMM(v float64) { p.p.SetFloat("screen points per mm", v) }
func (p prefs) by() string               { return p.p.String(PrefBy) }
func (p prefs) setBy(s string)           { p.p.SetString(PrefBy, s) }
func (p prefs) watched() string          { return p.p.String("watched folder") }
func (p prefs) setWatched(s string)      { p.p.SetString("watched folder", s) }
func (p prefs) folder() string           { return p.p.String("last folder") }
func (p prefs) setFolder(s string)       { p.p.SetString("last folder", s) }
