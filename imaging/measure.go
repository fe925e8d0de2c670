package imaging

import (
	"context"
	"math"
)

// MeasureOptions says how to measure. The zero value finds everything itself.
type MeasureOptions struct {
	Mark     *PlateMark // corners set by hand; nil: found
	Grid     bool       // fill in Registration.Lattice
	GridCols int        // cells of the lattice across, 0 for 16
	GridRows int        // and down, 0 for 12
	Blank    *Photo     // a blank sheet under the same light and camera; may be nil
	Regions  []Region   // parts of the plate to be scored by themselves
	Progress Progress   // may be nil
}

// Measure measures one photograph against the reference. A photograph that
// cannot be measured gives a Result with verdict Refused and the reason, not
// an error; an error means the work was cancelled.
func (r *Reference) Measure(ctx context.Context, p *Photo, o MeasureOptions) (*Result, error) {
	_, res, err := r.Register(ctx, p, o)
	return res, err
}

// Register measures one photograph and returns the sheet on the plate's grid
// as well; the sheet is nil when the photograph was refused.
func (r *Reference) Register(ctx context.Context, p *Photo, o MeasureOptions) (*Sheet, *Result, error) {
	sheet, res, err := r.measure(ctx, p, o)
	if r, ok := refusalOf(err); ok {
		return nil, &Result{Verdict: Refused, Reason: r.Reason, Refusal: r}, nil
	}
	if err != nil {
		return nil, nil, err
	}
	return sheet, res, nil
}

func (r *Reference) measure(ctx context.Context, p *Photo, o MeasureOptions) (*Sheet, *Result, error) {
	tell(o.Progress, 0, "looking for the plate mark")
	if err := exposed(p); err != nil {
		return nil, nil, err
	}
	if o.Blank != nil {
		var err error
		if p, err = p.Flattened(o.Blank); err != nil {
			return nil, nil, err
		}
	}
	reg, err := r.register(ctx, p, o.Mark, o.Progress)
	if err != nil {
		return nil, nil, err
	}
	if reg.state == "failed" {
		return nil, nil, refuse("This seems to be another plate: its lines do not lie on those of the reference, whichever way it is turned.")
	}
	tell(o.Progress, 0.7, "measuring lines and tone")
	edge := &sheetEdge{}
	if reg.mark != nil {
		edge = &reg.mark.sheet
	}
	l, err := fitLight(p, reg.m, r.Size, edge)
	if err != nil {
		return nil, nil, err
	}
	s := laySheet(p, reg.m, l, r.Size, r.Sheet.g, r.lines.support)
	r.tieGround(s)
	s.RegU = uncertaintyMap(reg.m.w, r.Size)
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	res := &Result{Verdict: Measured, Quality: quality(p, s)}
	if err := focused(res.Quality); err != nil {
		return nil, nil, err
	}
	res.Mark = p.storedQuad(reg.m.corners(r.Size))
	if reg.mark != nil {
		res.MarkHow, res.MarkSure = reg.mark.How, reg.mark.Sure
	}
	res.Registration = Registration{State: reg.state, ResidualMM: reg.u, Correlation: reg.rho, plate: r.laid(reg, p)}
	if o.Grid {
		cols, rows := o.GridCols, o.GridRows
		if cols <= 0 {
			cols = 16
		}
		if rows <= 0 {
			rows = 12
		}
		res.Registration.Lattice = reg.m.lattice(p, r.Size, cols, rows)
	}
	r.score(s, res, o.Regions)
	tell(o.Progress, 1, "measured")
	return s, res, nil
}

// Lattice maps the reference's plate to its own photograph, as
// Registration.Lattice does for an impression.
func (r *Reference) Lattice(cols, rows int) [][4]float64 {
	return r.Sheet.m.lattice(r.photo, r.Size, cols, rows)
}

// MarkStored is the reference's plate mark in stored pixels.
func (r *Reference) MarkStored() Quad { return r.photo.storedQuad(r.Mark.Corners) }

// Quality is what the reference's photograph is worth for measuring.
func (r *Reference) Quality() Quality { return r.quality }

func uncertaintyMap(w *warp, size Size) Map {
	m := newMap(size, 5)
	for j := 0; j < m.Rows; j++ {
		for i := 0; i < m.Cols; i++ {
			m.V[j*m.Cols+i] = w.u(Point{(float64(i) + 0.5) * m.StepMM, (float64(j) + 0.5) * m.StepMM})
		}
	}
	return m
}

func newMap(size Size, step float64) Map {
	m := Map{StepMM: step, Rows: int(math.Ceil(size.Height / step)), Cols: int(math.Ceil(size.Width / step))}
	m.V = make([]float64, m.Rows*m.Cols)
	return m
}
