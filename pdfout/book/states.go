package book

import (
	"fmt"
	"math"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// stateBlocks sets the states one under the other, each beside the same detail
// of the plate at the same scale.
func (b *book) stateBlocks(pl *catalog.Plate) []makeup.Block {
	states := b.states[pl.ID]
	if len(states) == 0 {
		return nil
	}
	out := []makeup.Block{b.sectionHead(b.t("States"), b.TextWidth())}
	if len(states) == 1 {
		return append(out, b.onlyState(states[0])...)
	}
	picW := min(42*makeup.MM, b.TextWidth()*.27)
	box := nearActual(detailBox(pl, states), picW/makeup.MM, pl.MeasureSize())
	column := 30.0
	for i, st := range states {
		textW := b.TextWidth() - column
		pic := b.detail(pl, st, box, picW)
		if pic.Draw != nil {
			textW -= picW + 7*makeup.MM
		}
		lines := b.Case.Break(typeset.Paragraph{Spans: b.stateSpans(st, i), Width: textW, Language: b.Language})
		roman := notation.Roman(st.N)
		text := makeup.LineBlocks(lines, b.Lead)
		if len(text) == 0 {
			text = []makeup.Block{{Height: b.Lead}}
		}
		if float64(len(text))*b.Lead > b.Depth()*.8 {
			out = append(out, b.longState(text, pic, roman, column)...)
			continue
		}
		stack := makeup.Stack(text)
		out = append(out, makeup.Block{Before: map[bool]float64{true: 0, false: b.Lead * .5}[i == 0], Height: max(stack.Height, pic.Height),
			Draw: func(p *display.Page, x, y float64) {
				p.Text(b.State, x, y+b.Lead*.745, roman)
				stack.Draw(p, x+column, y)
				if pic.Draw != nil {
					pic.Draw(p, x+b.TextWidth()-picW, y+2.2)
				}
			}})
	}
	return append(out, makeup.Block{Height: b.Lead * .5})
}

// longState sets a state whose text is longer than a page: it flows, its
// picture first.
func (b *book) longState(text []makeup.Block, pic makeup.Block, roman string, column float64) []makeup.Block {
	var out []makeup.Block
	if pic.Draw != nil {
		pic.Keep = true
		out = append(out, pic)
	}
	for i, t := range text {
		draw := t.Draw
		t.Draw = func(p *display.Page, x, y float64) {
			if i == 0 {
				p.Text(b.State, x, y+b.Lead*.745, roman)
			}
			draw(p, x+column, y)
		}
		out = append(out, t)
	}
	return out
}

// onlyState says that no other state is known.
func (b *book) onlyState(st *catalog.State) []makeup.Block {
	spans := append([]typeset.Span{{Style: b.Styles.Italic, Text: b.t("Only state.") + " "}}, b.stateProse(st)...)
	return append(makeup.LineBlocks(b.Case.Break(typeset.Paragraph{Spans: spans, Width: b.TextWidth(), Language: b.Language}), b.Lead),
		makeup.Block{Height: b.Lead * .5})
}

// stateSpans sets the text of a state: its first sentence, which tells it from
// the one before, in italic.
func (b *book) stateSpans(st *catalog.State, i int) []typeset.Span {
	spans := b.stateProse(st)
	if len(spans) == 0 {
		return []typeset.Span{{Style: b.Body.In(typeset.Grey), Text: b.word(map[bool]string{true: "The first state known.", false: "Not described."}[i == 0])}}
	}
	return spans
}

// stateProse joins description, date, accepted changes, work, what other
// catalogues count, and remarks.
func (b *book) stateProse(st *catalog.State) []typeset.Span {
	var spans []typeset.Span
	add := func(s typeset.Style, text string) {
		if text = strings.TrimSpace(text); text != "" {
			if len(spans) > 0 {
				text = " " + text
			}
			spans = append(spans, typeset.Span{Style: s, Text: text})
		}
	}
	first, rest := firstSentence(st.Description)
	add(b.Styles.Italic, first)
	add(b.Body, rest)
	if d := b.dateText(st.Date); d != "" {
		add(b.Body, upperFirst(d)+".")
	}
	if w := b.changesText(st); w != "" {
		add(b.Body, b.t("Changes found by comparison: %s.", w))
	}
	if w := b.workText(st.Work); w != "" {
		add(b.Body, w)
	}
	for _, c := range st.Literature {
		if w := b.literature[c.WorkID]; w != nil && c.State > 0 {
			add(b.Body, b.t("%s counts it as state %s.", shortTitle(w), notation.Roman(c.State)))
		}
	}
	if n := b.sheetCount(st); n != "" {
		add(b.Body, n)
	}
	add(b.Body, st.Remarks)
	return spans
}

// firstSentence divides a text after its first sentence.
func firstSentence(s string) (first, rest string) {
	s = strings.TrimSpace(s)
	for i := 0; i+1 < len(s); i++ {
		if (s[i] == '.' || s[i] == ';') && s[i+1] == ' ' && i > 8 {
			first, rest = s[:i+1], strings.TrimSpace(s[i+2:])
			if len(first) < 130 {
				return first, rest
			}
			break
		}
	}
	if len(s) < 130 {
		return s, ""
	}
	return "", s
}

// changesText lists the accepted changes: what comparing found, in the language
// of the book; what somebody wrote, as it was written.
func (b *book) changesText(st *catalog.State) string {
	var out []string
	for _, c := range st.Changes {
		if c.Ruling != "accepted" || c.Words == "" {
			continue
		}
		words := c.Words
		if pl := b.plateWith(st.PlateID); pl != nil {
			if t := catalog.SoleTechnique(st, pl); words == catalog.ChangeWords(c, t, pl.MeasureSize()) {
				words = b.lang.Say(catalog.ChangeSaid(c, t, pl.MeasureSize()))
			}
		}
		out = append(out, strings.ReplaceAll(words, " x ", " × "))
	}
	return strings.Join(out, "; ")
}

// workText tells the campaign that made a state.
func (b *book) workText(work []catalog.Work) string {
	var out []string
	for _, w := range work {
		s := b.word(string(w.Kind))
		var how []string
		if w.Mordant != "" {
			how = append(how, joinNonEmpty(" ", w.Mordant, w.Strength))
		}
		if w.TemperatureC != 0 {
			how = append(how, b.trimNumber(w.TemperatureC)+"\u00a0°C")
		}
		if w.Minutes > 0 {
			how = append(how, b.trimNumber(w.Minutes)+"\u00a0min")
		}
		if w.Tool != "" {
			how = append(how, w.Tool)
		}
		if w.StoppedOut != "" {
			how = append(how, b.t("stopped out: %s", w.StoppedOut))
		}
		if len(how) > 0 {
			s += " (" + strings.Join(how, ", ") + ")"
		}
		out = append(out, joinNonEmpty(", ", s, b.dateText(w.Date)))
	}
	if len(out) == 0 {
		return ""
	}
	return b.t("Work: %s.", strings.Join(out, "; "))
}

// sheetCount says how many impressions of a state are recorded.
func (b *book) sheetCount(st *catalog.State) string {
	n := 0
	for _, im := range b.impressions[st.PlateID] {
		if im.StateID == st.ID {
			n++
		}
	}
	switch n {
	case 0:
		return ""
	case 1:
		return b.t("One impression is recorded.")
	}
	return upperFirst(b.t("%s impressions are recorded.", b.countWords(n)))
}

// smallNumbers are the numbers written in words.
var smallNumbers = strings.Fields("0 one two three four five six seven eight nine ten eleven twelve")

// countWords writes small numbers in words.
func (b *book) countWords(n int) string {
	if n >= 0 && n < len(smallNumbers) {
		return b.word(smallNumbers[n])
	}
	return fmt.Sprint(n)
}

// detailBox chooses the part of the plate shown beside all states: where the
// largest accepted change lies, widened to a handy shape; else the middle.
func detailBox(pl *catalog.Plate, states []*catalog.State) [4]float64 {
	size := pl.MeasureSize()
	if size.IsZero() {
		return [4]float64{}
	}
	const shape = .74 // height over width
	var best *catalog.Change
	for _, st := range states {
		for i := range st.Changes {
			c := &st.Changes[i]
			if c.Ruling == "accepted" && (best == nil || c.AreaMM2 > best.AreaMM2) {
				best = c
			}
		}
	}
	w := size.WidthMM * .42
	cx, cy := size.WidthMM/2, size.HeightMM/2
	if best != nil {
		bw, bh := best.BoxMM[2]-best.BoxMM[0], best.BoxMM[3]-best.BoxMM[1]
		cx, cy = (best.BoxMM[0]+best.BoxMM[2])/2, (best.BoxMM[1]+best.BoxMM[3])/2
		w = max(max(bw, bh/shape)*1.35, 26)
	}
	w = min(w, size.WidthMM, size.HeightMM/shape)
	h := w * shape
	x := math.Max(0, math.Min(cx-w/2, size.WidthMM-w))
	y := math.Max(0, math.Min(cy-h/2, size.HeightMM-h))
	return [4]float64{x, y, x + w, y + h}
}

// nearActual widens or narrows a box that would be printed nearly at actual
// size until it is, where the plate has room for that.
func nearActual(box [4]float64, width float64, size catalog.Size) [4]float64 {
	w, h := box[2]-box[0], box[3]-box[1]
	if w <= 0 || math.Abs(width/w-1) > .08 {
		return box
	}
	k := width / w
	if width > size.WidthMM || h*k > size.HeightMM {
		return box
	}
	x := math.Max(0, math.Min((box[0]+box[2]-width)/2, size.WidthMM-width))
	y := math.Max(0, math.Min((box[1]+box[3]-h*k)/2, size.HeightMM-h*k))
	return [4]float64{x, y, x + width, y + h*k}
}

// detail is the picture of a part of a plate in one state, with its caption.
func (b *book) detail(pl *catalog.Plate, st *catalog.State, box [4]float64, width float64) makeup.Block {
	photo := b.bestPhoto(st)
	if photo == nil || box == [4]float64{} {
		return makeup.Block{}
	}
	v, part, err := b.detailView(photo, pl.MeasureSize(), box)
	if err != nil || v == nil || !v.located {
		if err != nil {
			b.warn(b.t("No. %s, state %s: no detail: %v.", numberText(pl), notation.Roman(st.N), err))
		}
		return makeup.Block{}
	}
	k := width / makeup.MM / (box[2] - box[0])
	h := (box[3] - box[1]) * makeup.MM * k
	b.checkPPI(v, k, b.t("No. %s, detail of state %s", numberText(pl), notation.Roman(st.N)))
	caption := joinNonEmpty(", ", notation.Roman(st.N), b.word(catalog.ChangePlace(box, pl.MeasureSize())))
	scale := b.t("actual size")
	switch {
	case k > 1.005:
		scale = b.t("enlarged ×\u2009%.1f", k)
	case k < .995:
		scale = fmt.Sprintf("%.0f\u00a0%%", k*100)
	}
	return makeup.Block{Height: h + 12, Draw: func(p *display.Page, x, y float64) {
		v.draw(p, part, display.Rect{X: x, Y: y, W: width, H: h})
		right := b.CaptionRoman.Width(scale)
		text, _ := b.Caption.Cutoff(caption, width-right-6)
		p.Text(b.Caption, x, y+h+9.4, text)
		p.TextRight(b.CaptionRoman, x+width, y+h+9.4, scale)
	}}
}
