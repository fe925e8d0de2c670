package imaging

import (
	"context"
	"math"
	"slices"
)

// StateEvidence is how an impression stands to one state.
type StateEvidence struct {
	State   int      // index from 1
	Changes []Change // work the impression has or lacks against the state's reference
	Result  *Result  // the impression measured against it, where that was needed
	Sheet   *Sheet   // the impression on the grid the boxes are counted in; nil when it could not be laid there

	weight float64 // evidence against this state, natural log
	faint  float64 // the same of patches that might be wear
}

// Placing is a Placement with what decided it.
type Placing struct {
	Placement
	Why    Wording         // Reason, to be said in other languages
	States []StateEvidence // in the order of the states given
}

// KnownStates are the references of a plate's states, laid on one another once
// so that any number of impressions can be placed among them.
type KnownStates struct {
	refs   []*Reference
	sheets []*Sheet // each state's reference on the first one's grid; nil where it would not lie on it
}

// NewKnownStates lays the references of a plate's states on the first.
func NewKnownStates(ctx context.Context, refs []*Reference) (*KnownStates, error) {
	k := &KnownStates{refs: refs}
	for i, r := range refs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if i == 0 {
			k.sheets = append(k.sheets, r.Sheet)
			continue
		}
		k.sheets = append(k.sheets, r.Sheet.laidOn(refs[0].Sheet))
	}
	return k, nil
}

// Latest is the reference of the last state.
func (k *KnownStates) Latest() *Reference { return k.refs[len(k.refs)-1] }

// Place tells which of the states an impression shows: the index from 1 of
// the reference given, or 0 when it is none of them or cannot be told, which
// the reason says. Order rises with wear within a state.
func Place(ctx context.Context, states []*Reference, p *Photo) (Placement, error) {
	k, err := NewKnownStates(ctx, states)
	if err != nil {
		return Placement{}, err
	}
	w, err := k.Place(ctx, p)
	if err != nil {
		return Placement{}, err
	}
	return w.Placement, nil
}

// Place does what the function of that name does and keeps the deciding
// details. A state is put aside when work is seen on the impression that it
// has not, or missing that it has; wear alone puts no state aside.
func (k *KnownStates) Place(ctx context.Context, p *Photo) (*Placing, error) {
	out, err := k.StateOf(ctx, p, nil)
	if err != nil {
		return nil, err
	}
	return out, k.wear(ctx, p, out)
}

// StateOf is Place without the order of wear, which costs as much again, and
// with the plate mark already found; nil looks for it.
func (k *KnownStates) StateOf(ctx context.Context, p *Photo, mark *PlateMark) (*Placing, error) {
	o := MeasureOptions{Mark: mark}
	out := &Placing{}
	if len(k.refs) == 0 {
		out.because("No state was given to compare with.")
		return out, nil
	}
	first, res, err := k.refs[0].Register(ctx, p, o)
	if err != nil {
		return nil, err
	}
	var last Wording
	for i, r := range k.refs {
		e := StateEvidence{State: i + 1, Sheet: first}
		if i == 0 {
			e.Result = res
		}
		ref := k.sheets[i]
		if first == nil || ref == nil {
			ref = r.Sheet
			if i > 0 {
				if e.Sheet, e.Result, err = r.Register(ctx, p, o); err != nil {
					return nil, err
				}
			}
		}
		if e.Sheet == nil {
			e.weight = math.Inf(1)
			last = e.Result.why()
		} else {
			e.weigh(ref, e.Sheet)
		}
		out.States = append(out.States, e)
	}
	out.decide(last)
	return out, nil
}

// wear measures the impression against the reference of its own state, for
// its place in the order of wear.
func (k *KnownStates) wear(ctx context.Context, p *Photo, w *Placing) error {
	if w.State == 0 {
		return nil
	}
	e := &w.States[w.State-1]
	if e.Result == nil {
		var err error
		if e.Sheet, e.Result, err = k.refs[w.State-1].Register(ctx, p, MeasureOptions{}); err != nil {
			return err
		}
	}
	w.Order = e.Result.Scores.order()
	return nil
}

// weigh compares the impression with the state's reference.
func (e *StateEvidence) weigh(ref, s *Sheet) {
	soft := math.Max(ref.BlurMM, s.BlurMM)
	fr, fs := ref.lineField(soft), s.lineField(soft)
	for k, found := range [][]workPatch{fs.patchesNotIn(fr, s.PxPerMM, Added), fr.patchesNotIn(fs, s.PxPerMM, Removed)} {
		for i := range found {
			p := &found[i]
			switch {
			case p.sure() >= 0.5:
				e.weight += p.weight
				e.Changes = append(e.Changes, p.change([]string{Added, Removed}[k]))
			case p.gone() >= 0.5:
				e.faint += p.weight
			}
		}
	}
}

// Evidence against the best state from which it is certainly none of them,
// and lead over the second from which it is certainly the best.
const (
	certainlyNot = 20
	clearLead    = 12
)

// decide reads the answer off the evidence.
func (w *Placing) decide(refused Wording) {
	order := make([]int, len(w.States))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &w.States[a], &w.States[b]
		if x.weight != y.weight {
			return sign(x.weight - y.weight)
		}
		return sign(x.faint - y.faint)
	})
	best := &w.States[order[0]]
	if best.Sheet == nil {
		w.because("%s", refused)
		return
	}
	lead, faint := math.Inf(1), math.Inf(1)
	if len(order) > 1 {
		second := &w.States[order[1]]
		lead, faint = second.weight-best.weight, second.faint-best.faint
	}
	switch {
	case best.weight >= certainlyNot:
		w.Confidence = logistic((best.weight - certainlyNot + 6) / 4)
		w.because("None of these states: %s, which no state given shows. It may be a state not yet described.", seen(best))
	case lead >= clearLead:
		w.State = best.State
		w.Confidence = logistic((math.Min(lead, 100) - best.weight - 6) / 3)
		if len(order) > 1 {
			w.because("State %d: its reference shows the same work; against the next best, %s.", best.State, seen(&w.States[order[1]]))
		} else {
			w.because("State %d: its reference shows the same work.", best.State)
		}
	case faint >= 2:
		w.State = best.State
		w.Confidence = 0.5 + 0.4*math.Min(1, faint/10)
		w.because("Probably state %d; what tells it from state %d is faint on this impression.", best.State, order[1]+1)
	default:
		w.Confidence = 0.5
		w.because("It cannot be told whether this is state %d or state %d: what tells them apart does not show on this impression.", min(best.State, order[1]+1), max(best.State, order[1]+1))
	}
}

// because gives the reason of the answer.
func (w *Placing) because(format string, a ...any) {
	w.Why = wording(format, a...)
	w.Reason = w.Why.String()
}

// seen names the largest differences from a state.
func seen(e *StateEvidence) Wording {
	if e.Sheet == nil {
		return wording("the impression could not be laid on its reference")
	}
	changes := slices.Clone(e.Changes)
	slices.SortStableFunc(changes, func(a, b Change) int { return sign(b.AreaMM2 - a.AreaMM2) })
	switch len(changes) {
	case 0:
		return wording("no other work")
	case 1:
		return changes[0].seen()
	}
	return wording("%s, and %s", changes[0].seen(), changes[1].seen())
}

// seen says where an impression differs from a state.
func (c *Change) seen() Wording {
	if c.Kind == Removed {
		return wording("work is missing at %.0f to %.0f mm from the left and %.0f to %.0f mm from the top", c.Box[0], c.Box[2], c.Box[1], c.Box[3])
	}
	return wording("there is work at %.0f to %.0f mm from the left and %.0f to %.0f mm from the top", c.Box[0], c.Box[2], c.Box[1], c.Box[3])
}

// order is a quantity that rises with wear, in percentage points of ink: what
// the lines lost and, for a plate with burr, a share of what that lost, which
// speaks soonest. Ink loss is taken and not wear loss, though inking moves it
// by about a hundredth from pull to pull: wear loss rests on the strongest
// lines, and where those carry burr they wear first.
func (s *Scores) order() *Value {
	if s.InkLoss == nil {
		return nil
	}
	const inking, burrWeight = 0.01, 10.0
	out := Value{100 * s.InkLoss.V, 100 * math.Hypot(s.InkLoss.U, inking)}
	if b := s.BurrLoss; b != nil {
		out.V += burrWeight * math.Min(math.Max(b.V, -0.2), 1)
		out.U = math.Hypot(out.U, burrWeight*b.U)
	}
	return &out
}

// Likeness says how well a photograph's lines lie on a reference.
type Likeness struct {
	Index       int     // of the reference
	Correlation float64 // -1..1; above about 0.3 it is the same plate
}

// Recognise ranks references by how well the photograph's lines lie on them,
// whichever way it is turned, best first. It answers which plate of a
// catalogue a photograph shows; Place then tells the state.
func Recognise(ctx context.Context, refs []*Reference, p *Photo) ([]Likeness, error) {
	marks := map[Size]*foundMark{}
	var out []Likeness
	for i, r := range refs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		mark, ok := marks[r.Size]
		if !ok {
			var err error
			if mark, err = findMark(ctx, p, r.Size); err != nil {
				if _, refused := refusal(err); !refused {
					return nil, err
				}
				mark = nil
			}
			marks[r.Size] = mark
		}
		if mark == nil {
			continue
		}
		l := Likeness{Index: i, Correlation: -1}
		for k := 0; k < 4; k++ {
			h, err := quadMapping(r.Size.rectangle(), mark.Corners.turned(k))
			if err != nil {
				continue
			}
			l.Correlation = max(l.Correlation, r.try(p, h, false).rho)
		}
		out = append(out, l)
	}
	slices.SortStableFunc(out, func(a, b Likeness) int { return sign(b.Correlation - a.Correlation) })
	return out, nil
}
