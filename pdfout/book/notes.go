package book

import (
	"fmt"
	"strings"
)

// notes sets the notes to the reader: what every catalogue of prints settles
// before its first entry. The user's own text replaces them.
func (b *book) notes(p Part) {
	text := p.Text
	if strings.TrimSpace(text) == "" {
		text = b.notesText()
	}
	b.chapter(p.heading("Notes to the reader"), true)
	b.Flow(b.Prose(text, b.proseWidth()))
}

// notesText writes the notes from what this catalogue holds.
func (b *book) notesText() string {
	s := b.snap
	var t []string
	add := func(head, text string) {
		t = append(t, "## "+head, text)
	}
	add("Scope", fmt.Sprintf("The catalogue describes %s in %s, known from %s. It records what has been seen and measured; what was looked for and not found is said to be not known, and what is not mentioned was not recorded.",
		count(len(s.Plates), "plate", "plates"), count(len(s.States), "state", "states"), count(len(s.Impressions), "impression", "impressions")))
	order := "Entries stand in the order of their numbers. A letter after a number marks a work put in later."
	if len(b.platesIn(Addenda))+len(b.platesIn(DoubtfulPart))+len(b.platesIn(RejectedPart)) > 0 {
		order += " Works added after the numbering was fixed, doubtful and rejected works stand in parts of their own, with a letter before the number."
	}
	add("Order and numbering", order)
	add("Titles and dates", "The first title is the one used; titles that are not the printmaker’s are marked as supplied and stand in brackets. Dates stand as they are known: *c.* means about, a bracket or “probably” that a date is inferred. Inscriptions are given as they stand, a stroke marking the end of a line.")
	add("Dimensions", "Height stands before width, in millimetres. The plate mark is measured on the printed sheet; damp paper shrinks as it dries, so that the mark is a little smaller than the metal, whose size is given apart where it is known. Reproductions are at actual size where the page allows, else their scale is stated. Left and right are those of the print.")
	add("States", "A state is a change of the plate itself, meant or not. Paper, inking and edition make no state. States are numbered in roman figures; “only state” is said where no other is known. The same part of the plate is shown for all states, at one scale.")
	add("Impressions and proofs", "Numbered impressions are written 7/30. Proofs outside the edition keep their customary abbreviations, which are explained in the list. Pulls are counted from the first of the plate, in the order of printing, through all states.")
	if len(s.Scores) > 0 {
		add("How scores were measured", b.measureText())
	}
	add("Editions and the law", "Statements of edition are those of the printmaker’s records. What must be disclosed when prints are sold differs from place to place; local law decides, and this catalogue does not replace it.")
	return strings.Join(t, "\n\n")
}

// count writes a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%s %s", countWords(n), many)
}

// measureText tells how scores were made and how far they can be trusted, with
// figures of this catalogue.
func (b *book) measureText() string {
	methods := map[string]bool{}
	measured, refused := 0, 0
	var worst float64
	for i := range b.snap.Scores {
		sc := &b.snap.Scores[i]
		if sc.Method != "" {
			methods[sc.Method] = true
		}
		switch {
		case sc.Verdict == "refused" || sc.InkLoss == nil:
			refused++
		default:
			measured++
			worst = max(worst, sc.InkLoss.U)
		}
	}
	t := "An impression is photographed whole, laid by calculation over the photograph of its reference pull, and compared with it line by line. " +
		"*Ink loss* is the share of the reference’s line ink that is missing; *plate tone* is the mean density of the ink film on the ground of the plate, as a density; *wear* is the part of the loss that rises with the count of pulls. " +
		"Every figure carries its standard uncertainty (one standard deviation, JCGM 100:2008), which covers the camera, the light and the fitting of one picture over the other, not a change of paper or ink. "
	t += fmt.Sprintf("%s measured", upperFirst(count(measured, "photograph was", "photographs were")))
	if measured > 0 && worst > 0 {
		t += fmt.Sprintf("; the largest uncertainty of an ink loss is %.1f\u00a0%%", worst*100)
	}
	t += "."
	if refused > 0 {
		t += fmt.Sprintf(" In %s no figure is given, because none could be trusted: the table says “cannot tell”, and why.", count(refused, "case", "cases"))
	}
	if len(methods) == 1 {
		for m := range methods {
			t += " Method: " + m + "."
		}
	} else if len(methods) > 1 {
		t += " Figures made by different versions of the method are not compared with each other to the last digit."
	}
	if l := b.snap.Imprint.LossLimit; l > 0 {
		t += " The printer’s own limit of wear for a good impression is " + percentPlain(l) + " unless an entry says otherwise."
	}
	return t
}
