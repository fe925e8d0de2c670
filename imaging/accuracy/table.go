package accuracy

import (
	"fmt"
	"math"
	"strings"
)

// Row is one figure beside what is owed.
type Row struct {
	What          string
	Format        string     // of the figure
	Yardstick     [2]float64 // even, rough; NaN where none
	Owed, Stretch [2]float64
	Got           [2]float64
	More          bool // larger is better
	Told          bool // beside what is owed for information: falling short of it fails no test
	// Upper is the end of the owed range of a share that can be too good.
	Upper float64
	// Count is how many values a share is of; with fewer than enough it is told
	// but not judged.
	Count [2]int
}

var none = math.NaN()

// Rows fills the table. Yardstick, owed and stretch are the project's accuracy
// requirement, set before the program was written.
func Rows(f map[Kind]*Figures) []Row {
	e, r := f[Even], f[Rough]
	both := func(g func(*Figures) float64) [2]float64 { return [2]float64{g(e), g(r)} }
	nan := [2]float64{none, none}
	return []Row{
		{What: "ink loss, mean absolute error", Format: "%.4f", Yardstick: [2]float64{0.015, 0.052}, Owed: [2]float64{0.008, 0.015},
			Stretch: [2]float64{0.004, 0.008}, Got: both(func(f *Figures) float64 { return meanAbs(f.Ink) })},
		{What: "ink loss, worst", Format: "%.4f", Yardstick: [2]float64{0.055, 0.230}, Owed: [2]float64{0.025, 0.045},
			Stretch: [2]float64{0.012, 0.025}, Got: both(func(f *Figures) float64 { return worst(f.Ink) })},
		{What: "plate tone, mean absolute error (D)", Format: "%.4f", Yardstick: [2]float64{0.0006, 0.0007}, Owed: [2]float64{0.003, 0.005},
			Stretch: [2]float64{0.001, 0.002}, Got: both(func(f *Figures) float64 { return meanAbs(f.Tone) })},
		{What: "registration on the reference, rms (mm)", Format: "%.3f", Yardstick: [2]float64{0.15, 0.29}, Owed: [2]float64{0.04, 0.07},
			Stretch: [2]float64{0.02, 0.04}, Got: both(func(f *Figures) float64 { return rms(f.OnReference) })},
		{What: "registration in the plate's own millimetres, rms (mm)", Format: "%.3f", Yardstick: nan, Owed: [2]float64{0.04, 0.07},
			Stretch: [2]float64{0.02, 0.04}, Told: true, Got: both(func(f *Figures) float64 { return rms(f.Place) })},
		{What: "burr loss, mean absolute error", Format: "%.3f", Yardstick: nan, Owed: [2]float64{0.06, 0.10},
			Stretch: [2]float64{0.03, 0.06}, Got: both(func(f *Figures) float64 { return meanAbs(f.Burr) })},
		{What: "burr there but not told, photographs", Format: "%.0f", Yardstick: nan, Owed: [2]float64{0, 0}, Told: true,
			Stretch: nan, Got: both(func(f *Figures) float64 { return float64(f.Untold) })},
		{What: "plate-mark corners of the reference (mm)", Format: "%.3f", Yardstick: nan, Owed: [2]float64{0.4, 0.6},
			Stretch: [2]float64{0.2, 0.3}, Got: both(func(f *Figures) float64 { return mean(f.Corners) })},
		{What: "truth within 2u, ink loss", Format: "%.2f", Yardstick: nan, Owed: [2]float64{0.90, 0.90}, Upper: 0.99,
			Stretch: nan, More: true, Count: [2]int{len(e.InkU), len(r.InkU)}, Got: both(func(f *Figures) float64 { return within(f.InkU, 2) })},
		{What: "truth within 2u, plate tone", Format: "%.2f", Yardstick: nan, Owed: [2]float64{0.90, 0.90}, Upper: 0.99,
			Stretch: nan, More: true, Count: [2]int{len(e.ToneU), len(r.ToneU)}, Got: both(func(f *Figures) float64 { return within(f.ToneU, 2) })},
		{What: "new and removed work, recall", Format: "%.2f", Yardstick: nan, Owed: [2]float64{0.95, 0.95}, More: true,
			Stretch: [2]float64{0.98, 0.98}, Got: both(func(f *Figures) float64 { return ratio(f.WorkFound, f.WorkThere) })},
		{What: "new and removed work, precision", Format: "%.2f", Yardstick: nan, Owed: [2]float64{0.95, 0.95}, More: true,
			Stretch: [2]float64{0.98, 0.98}, Got: both(func(f *Figures) float64 { return ratio(f.WorkTrue, f.WorkSaid) })},
		{What: "changes said of two pulls of one state", Format: "%.0f", Yardstick: nan, Owed: [2]float64{0, 0},
			Stretch: [2]float64{0, 0}, Got: both(func(f *Figures) float64 { return unless(f.WorkThere == 0, float64(f.WorkOnNothing)) })},
		{What: "which state, right", Format: "%.2f", Yardstick: nan, Owed: [2]float64{0.97, 0.97}, More: true,
			Stretch: [2]float64{1, 1}, Got: both(func(f *Figures) float64 { return ratio(f.StateRight, f.StateAsked) })},
		{What: "which state, wrong when sure", Format: "%.0f", Yardstick: nan, Owed: [2]float64{0, 0},
			Stretch: [2]float64{0, 0}, Got: both(func(f *Figures) float64 { return unless(f.StateAsked == 0, float64(f.StateWrongSure)) })},
		{What: "order of printing, rank correlation", Format: "%.3f", Yardstick: nan, Owed: [2]float64{0.95, 0.95}, More: true,
			Stretch: [2]float64{0.99, 0.99}, Got: both(func(f *Figures) float64 { return mean(f.Rank) })},
		{What: "refused photographs that should be measured", Format: "%.0f", Yardstick: nan, Owed: [2]float64{0, 0},
			Stretch: [2]float64{0, 0}, Got: both(func(f *Figures) float64 { return float64(f.Refused) })},
	}
}

// unless is v, or not a number when nothing was measured.
func unless(nothing bool, v float64) float64 {
	if nothing {
		return none
	}
	return v
}

// enough values make a share of 0.90 tell from one of 0.70 or so.
const enough = 15

// few tells whether the figure of a kind is a share of too few values.
func (r *Row) few(kind int) bool { return r.Upper > 0 && r.Count[kind] < enough }

// Short tells whether the figure of a kind (0 even, 1 rough) falls short of
// what is owed. What was not measured is not short.
func (r *Row) Short(kind int) bool {
	got, owed := r.Got[kind], r.Owed[kind]
	if math.IsNaN(got) || math.IsNaN(owed) || r.few(kind) {
		return false
	}
	if r.More {
		return got < owed
	}
	return got > owed
}

// Markdown formats the table for the developers' document.
func Markdown(rows []Row, f map[Kind]*Figures) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d photographs even, %d rough; %d and %d of them refused.\n\n", f[Even].Photos, f[Rough].Photos, f[Even].Refused, f[Rough].Refused)
	b.WriteString("| figure | yardstick even / rough | owed even / rough | stretch | measured even / rough | |\n|---|---|---|---|---|---|\n")
	for _, r := range rows {
		pair := func(v [2]float64) string {
			if math.IsNaN(v[0]) && math.IsNaN(v[1]) {
				return "-"
			}
			s := number(r.Format, v[0]) + " / " + number(r.Format, v[1])
			if r.Upper > 0 && v == r.Owed {
				s += fmt.Sprintf(" to %.2f", r.Upper)
			}
			return s
		}
		note := "met"
		switch {
		case r.Short(0) || r.Short(1):
			note = "**short**"
			if r.Told {
				note = "short; told beside the row above"
			}
		case r.few(0) || r.few(1):
			note = fmt.Sprintf("of %d / %d photographs: too few to judge", r.Count[0], r.Count[1])
		case r.Upper > 0 && (r.Got[0] > r.Upper || r.Got[1] > r.Upper):
			note = "met; u errs on the safe side"
		case math.IsNaN(r.Got[0]) && math.IsNaN(r.Got[1]):
			note = "not measured"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", r.What, pair(r.Yardstick), pair(r.Owed), pair(r.Stretch), pair(r.Got), note)
	}
	return b.String()
}

func number(format string, v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	return fmt.Sprintf(format, v)
}
