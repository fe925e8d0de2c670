package book

import (
	"strings"
)

// notes sets the notes to the reader: what every catalogue of prints settles
// before its first entry. The user's own text replaces them.
func (b *book) notes(p Part) {
	text := p.Text
	if strings.TrimSpace(text) == "" {
		text = b.notesText()
	}
	b.chapter(p.heading(b.t("Notes to the reader")), true)
	b.Flow(b.Prose(text, b.proseWidth()))
}

// notesText writes the notes from what this catalogue holds.
func (b *book) notesText() string {
	s := b.snap
	var t []string
	add := func(head, text string) {
		t = append(t, "## "+head, text)
	}
	add(b.t("Scope"), b.t("The catalogue describes %s in %s, known from %s. It records what has been seen and measured; what was looked for and not found is said to be not known, and what is not mentioned was not recorded.",
		b.count(len(s.Plates), "one plate", "%s plates"), b.count(len(s.States), "one state", "%s states"), b.count(len(s.Impressions), "one impression", "%s impressions")))
	order := b.t("Entries stand in the order of their numbers. A letter after a number marks a work put in later.")
	if len(b.platesIn(Addenda))+len(b.platesIn(DoubtfulPart))+len(b.platesIn(RejectedPart)) > 0 {
		order += " " + b.t("Works added after the numbering was fixed, doubtful and rejected works stand in parts of their own, with a letter before the number.")
	}
	add(b.t("Order and numbering"), order)
	add(b.t("Titles and dates"), b.t("The first title is the one used; titles that are not the printmaker’s are marked as supplied and stand in brackets. Dates stand as they are known: *c.* means about, a bracket or “probably” that a date is inferred. Inscriptions are given as they stand, a stroke marking the end of a line."))
	add(b.t("Dimensions"), b.t("Height stands before width, in millimetres. The plate mark is measured on the printed sheet; damp paper shrinks as it dries, so that the mark is a little smaller than the metal, whose size is given apart where it is known. Reproductions are at actual size where the page allows, else their scale is stated. Left and right are those of the print."))
	add(b.t("States"), b.t("A state is a change of the plate itself, meant or not. Paper, inking and edition make no state. States are numbered in roman figures; “only state” is said where no other is known. The same part of the plate is shown for all states, at one scale."))
	add(b.t("Impressions and proofs"), b.t("Numbered impressions are written 7/30. Proofs outside the edition keep their customary abbreviations, which are explained in the list. Pulls are counted from the first of the plate, in the order of printing, through all states."))
	if len(s.Scores) > 0 {
		add(b.t("How scores were measured"), b.measureText())
	}
	add(b.t("Editions and the law"), b.t("Statements of edition are those of the printmaker’s records. What must be disclosed when prints are sold differs from place to place; local law decides, and this catalogue does not replace it."))
	return strings.Join(t, "\n\n")
}

// count writes a number with its noun.
func (b *book) count(n int, one, many string) string {
	if n == 1 {
		return b.word(one)
	}
	return b.t(many, b.countWords(n))
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
	t := []string{b.t("An impression is photographed whole, laid by calculation over the photograph of its reference pull, and compared with it line by line. *Ink loss* is the share of the reference’s line ink that is missing; *plate tone* is the mean density of the ink film on the ground of the plate, as a density; *wear* is what remains of the loss when the inking of the strong lines is divided out, a lower bound, for strong lines wear too. Every figure carries its standard uncertainty (one standard deviation, JCGM 100:2008), which covers the camera, the light and the fitting of one picture over the other, not a change of paper or ink.")}
	made := upperFirst(b.count(measured, "one photograph was measured", "%s photographs were measured"))
	if measured > 0 && worst > 0 {
		t = append(t, b.t("%s; the largest uncertainty of an ink loss is %.1f\u00a0%%.", made, worst*100))
	} else {
		t = append(t, made+".")
	}
	if refused > 0 {
		t = append(t, b.t("In %s no figure is given, because none could be trusted: the table says “cannot tell”, and why.", b.count(refused, "one case", "%s cases")))
	}
	if len(methods) == 1 {
		for m := range methods {
			t = append(t, b.t("Method: %s.", m))
		}
	} else if len(methods) > 1 {
		t = append(t, b.t("Figures made by different versions of the method are not compared with each other to the last digit."))
	}
	if l := b.snap.Imprint.LossLimit; l > 0 {
		t = append(t, b.t("The printer’s own limit of ink loss for a good impression is %s unless an entry says otherwise.", b.percentPlain(l)))
	}
	return strings.Join(t, " ")
}
