package book

import (
	"math"
	"strconv"

	"pullbook/catalog"
	"pullbook/catalog/notation"
	"pullbook/pdfout/display"
	"pullbook/pdfout/makeup"
	"pullbook/pdfout/typeset"
)

// point is one impression on the curve: pull and ink loss, with its uncertainty.
type point struct {
	pull    int
	loss, u float64
	state   int
}

// wearBlocks draws ink loss against the count of pull as a small curve, where at
// least four impressions with known pulls were measured.
func (b *book) wearBlocks(pl *catalog.Plate) []makeup.Block {
	points, limit := b.wearPoints(pl)
	if len(points) < 4 {
		return nil
	}
	w := min(b.TextWidth()*.58, 100*makeup.MM)
	h := 27 * makeup.MM
	side := b.TextWidth() - w - 8*makeup.MM
	words := b.t("Ink loss by pull: what rises is wear, what scatters is inking. Each point is one impression, its stroke the standard uncertainty.")
	if limit > 0 {
		words += " " + b.t("The broken line is the printer’s own limit, %s.", b.percentPlain(limit))
	}
	if n := len(b.states[pl.ID]); n > 1 {
		words += " " + b.t("Each state is measured against its own reference pull.")
	}
	lead := b.Small.Size * 1.32
	note := b.Case.Break(typeset.Paragraph{Spans: []typeset.Span{{Style: b.Small.In(typeset.Grey), Text: words}}, Width: side, Ragged: true, Language: b.Language})
	plot := makeup.Block{Height: max(h+16, float64(len(note))*lead), Draw: func(p *display.Page, x, y float64) {
		b.drawWear(p, points, limit, display.Rect{X: x + 20, Y: y + 4, W: w - 20, H: h - 4})
		p.Lines(x+w+8*makeup.MM, y+lead*.8, lead, note)
	}}
	return []makeup.Block{b.sectionHead(b.t("Wear"), b.TextWidth()), plot, {Height: b.Lead * .5}}
}

// percentPlain writes a fraction as a percentage.
func (b *book) percentPlain(v float64) string {
	return b.lang.Figure(strconv.FormatFloat(math.Round(v*1000)/10, 'f', -1, 64)) + "\u00a0%"
}

// wearPoints collects the measured impressions, by pull, and the limit.
func (b *book) wearPoints(pl *catalog.Plate) ([]point, float64) {
	var out []point
	for _, im := range b.impressions[pl.ID] {
		sc := b.scores[im.ID]
		if sc == nil || im.Pull == 0 {
			continue
		}
		v := sc.InkLoss
		if v == nil || sc.Verdict == "refused" {
			continue
		}
		n := 0
		if s := b.state[im.StateID]; s != nil {
			n = s.N
		}
		out = append(out, point{im.Pull, v.V, v.U, n})
	}
	sortBy(out, func(p point) string { return pad(p.pull) })
	limit := pl.LossLimit
	if limit == 0 {
		limit = b.snap.Imprint.LossLimit
	}
	return out, limit
}

// pad writes a number so that text order is number order.
func pad(n int) string {
	s := strconv.Itoa(n)
	return "00000000"[:max(0, 8-len(s))] + s
}

// drawWear draws axes with few labels, the limit, points with their
// uncertainty, a line through the points of one state.
func (b *book) drawWear(p *display.Page, points []point, limit float64, r display.Rect) {
	lastPull, top := 1, max(limit*1.25, .05)
	for _, q := range points {
		lastPull = max(lastPull, q.pull)
		top = max(top, q.loss+q.u)
	}
	step := niceStep(top / 3)
	top = math.Ceil(top/step) * step
	pulls := niceStep(float64(lastPull) / 5)
	right := math.Ceil(float64(lastPull)/pulls) * pulls
	px := func(n float64) float64 { return r.X + r.W*n/right }
	py := func(v float64) float64 { return r.Y + r.H - r.H*math.Max(v, 0)/top }
	for v := 0.0; v <= top+1e-9; v += step {
		ink := typeset.Hair
		if v == 0 {
			ink = typeset.Rule
		}
		p.Rule(r.X, py(v), r.W, .25, ink)
		p.TextRight(b.CaptionRoman, r.X-4, py(v)+2.6, b.percentPlain(v))
	}
	for n := pulls; n <= right+1e-9; n += pulls {
		p.TextCentre(b.CaptionRoman, px(n), r.Y+r.H+10, strconv.Itoa(int(n)))
	}
	p.TextRight(b.Caption, r.X-4, r.Y+r.H+10, b.t("pull"))
	if limit > 0 && limit <= top {
		p.Add(&display.Rule{X1: r.X, Y1: py(limit), X2: r.X + r.W, Y2: py(limit), Width: .5, Ink: typeset.Accent, Dash: 2.5})
	}
	b.drawCurves(p, points, px, py)
}

// drawCurves draws the points of each state and joins them.
func (b *book) drawCurves(p *display.Page, points []point, px, py func(float64) float64) {
	byState := map[int][]point{}
	var order []int
	for _, q := range points {
		if byState[q.state] == nil {
			order = append(order, q.state)
		}
		byState[q.state] = append(byState[q.state], q)
	}
	for _, n := range order {
		var line [][2]float64
		for _, q := range byState[n] {
			line = append(line, [2]float64{px(float64(q.pull)), py(q.loss)})
		}
		p.Add(&display.Curve{Points: line, Width: .6, Ink: typeset.Bar})
		for i, q := range byState[n] {
			x := line[i][0]
			if q.u > 0 {
				p.Add(&display.Rule{X1: x, Y1: py(q.loss - q.u), X2: x, Y2: py(q.loss + q.u), Width: .4, Ink: typeset.Bar})
			}
			p.Add(&display.Dot{X: x, Y: line[i][1], R: 1.3, Ink: typeset.Accent})
		}
		if len(order) > 1 && n > 0 {
			p.Text(b.CaptionRoman, line[len(line)-1][0]+4, line[len(line)-1][1]+2.6, notation.Roman(n))
		}
	}
}

// niceStep rounds a step up to 1, 2 or 5 times a power of ten.
func niceStep(v float64) float64 {
	if v <= 0 {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{1, 2, 5, 10} {
		if v <= k*p*(1+1e-9) {
			return k * p
		}
	}
	return 10 * p
}
