package accuracy

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"syscall"
	"time"

	"pullbook/imaging"
)

// Figures are the errors of all photographs of one kind.
type Figures struct {
	Ink, Tone, Burr []float64 // value - truth
	InkU, ToneU     []float64 // error / stated standard uncertainty
	Place           []float64 // registration, rms of each photograph, mm, in the plate's own frame
	OnReference     []float64 // the same with the reference's frame divided out
	Corners         []float64 // of the references, mean of the four, mm
	CPU             []time.Duration
	Untold          int // photographs whose burr loss was not told although the reference has burr
	Photos, Refused int
	Reasons         []string

	// Changes of state.
	WorkFound, WorkThere int // patches of truth found, and there
	WorkTrue, WorkSaid   int // patches said that are true, and said
	WorkOnNothing        int // patches said of two pulls of one state
	// States and order.
	StateRight, StateAsked, StateWrongSure int
	Rank                                   []float64
}

// Parts says which rows are measured besides those of single photographs.
type Parts struct {
	Changes bool // new and removed work
	States  bool // which state, in what order
}

// Run measures plates and gathers the figures of each kind. Each photograph's
// line goes to log, which may be nil.
func Run(ctx context.Context, plates []Plate, parts Parts, log io.Writer) (map[Kind]*Figures, error) {
	out := map[Kind]*Figures{Even: {}, Rough: {}}
	if log == nil {
		log = io.Discard
	}
	for _, p := range plates {
		if err := out[p.Kind].plate(ctx, p, parts, log); err != nil {
			return nil, fmt.Errorf("%s: %w", p.Name, err)
		}
	}
	return out, nil
}

// plate prepares a plate's reference and measures its other photographs.
func (f *Figures) plate(ctx context.Context, p Plate, parts Parts, log io.Writer) error {
	ref, err := f.prepare(ctx, p, log)
	if err != nil || ref == nil {
		return err
	}
	var results []*imaging.Result
	for _, ph := range p.Photos[1:] {
		res, err := f.photo(ctx, p, ref, ph, log)
		if err != nil {
			return err
		}
		results = append(results, res)
	}
	f.register(p, ref, results, log)
	if parts.Changes {
		if err := f.changes(ctx, p, log); err != nil {
			return err
		}
	}
	if parts.States {
		return f.place(ctx, p, log)
	}
	return nil
}

// prepare makes the reference; when it is refused, all photographs count as
// refused and the reference is nil.
func (f *Figures) prepare(ctx context.Context, p Plate, log io.Writer) (*imaging.Reference, error) {
	ref, corners, err := openReference(ctx, p.Photos[0], p.Size)
	var refused *imaging.RefusedError
	if errors.As(err, &refused) {
		fmt.Fprintf(log, "%-18s %-5s reference refused: %v\n", p.Name, p.Kind, err)
		f.Photos += len(p.Photos) - 1
		f.Refused += len(p.Photos) - 1
		f.Reasons = append(f.Reasons, p.Name+" reference: "+refused.Reason)
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	fmt.Fprintf(log, "%-18s %-5s reference corners %.3f mm\n", p.Name, p.Kind, corners)
	f.Corners = append(f.Corners, corners)
	return ref, nil
}

// openReference finds the plate mark by itself and tells the mean distance of
// its corners from truth, in mm.
func openReference(ctx context.Context, ph Photo, size imaging.Size) (*imaging.Reference, float64, error) {
	photo, err := imaging.Open(ctx, ph.Path)
	if err != nil {
		return nil, 0, err
	}
	mark, err := imaging.FindPlate(ctx, photo, size)
	if err != nil {
		return nil, 0, err
	}
	ref, err := imaging.Prepare(ctx, photo, mark, size)
	if err != nil {
		return nil, 0, err
	}
	sum := 0.0
	for i, q := range ref.MarkStored() {
		sum += math.Hypot(q.X-ph.Corners[i][0], q.Y-ph.Corners[i][1]) / ph.PxPerMM
	}
	return ref, sum / 4, nil
}

// register compares where the plate lies in the photographs of a run with
// truth.
func (f *Figures) register(p Plate, ref *imaging.Reference, results []*imaging.Result, log io.Writer) {
	lattice, _ := ref.SettleFrame(results, 16, 12)
	for i, res := range results {
		if res.Verdict != imaging.Measured {
			continue
		}
		ph := p.Photos[i+1]
		frame, relative := misplaced(res.Registration.Lattice, lattice, ph, p.Photos[0])
		f.Place = append(f.Place, frame)
		f.OnReference = append(f.OnReference, relative)
		fmt.Fprintf(log, "%-18s %-5s on the reference %.3f, in the plate's frame %.3f, said %.3f mm\n",
			filepath.Base(ph.Path), p.Kind, relative, frame, res.Registration.ResidualMM)
	}
}

func (f *Figures) photo(ctx context.Context, p Plate, ref *imaging.Reference, ph Photo, log io.Writer) (*imaging.Result, error) {
	f.Photos++
	start := processorTime()
	photo, err := imaging.Open(ctx, ph.Path)
	if err != nil {
		return nil, err
	}
	res, err := ref.Measure(ctx, photo, imaging.MeasureOptions{Grid: true})
	if err != nil {
		return nil, err
	}
	name := fmt.Sprintf("%-18s %-5s state %d pull %3d", filepath.Base(ph.Path), p.Kind, ph.State, ph.Pull)
	if res.Verdict != imaging.Measured {
		f.Refused++
		f.Reasons = append(f.Reasons, filepath.Base(ph.Path)+": "+res.Reason)
		fmt.Fprintf(log, "%s refused: %s\n", name, res.Reason)
		return res, nil
	}
	f.CPU = append(f.CPU, processorTime()-start)
	s := res.Scores
	line := name
	if s.PlateTone != nil {
		e := s.PlateTone.V - ph.Tone
		f.Tone, f.ToneU = append(f.Tone, e), append(f.ToneU, e/s.PlateTone.U)
		line += fmt.Sprintf(" tone %.4f %+.4f u %.4f", ph.Tone, e, s.PlateTone.U)
	}
	if ph.InkLoss != nil && s.InkLoss != nil {
		e := s.InkLoss.V - *ph.InkLoss
		f.Ink, f.InkU = append(f.Ink, e), append(f.InkU, e/s.InkLoss.U)
		line += fmt.Sprintf(" ink %.4f %+.4f u %.4f", *ph.InkLoss, e, s.InkLoss.U)
		for _, c := range res.Budget {
			if c.Score == "ink_loss" {
				line += fmt.Sprintf(" %s %.4f", c.Cause, c.U)
			}
		}
	}
	if ph.Burr != nil && s.BurrLoss == nil {
		f.Untold++
		line += " burr not told"
	}
	if ph.Burr != nil && s.BurrLoss != nil {
		e := s.BurrLoss.V - *ph.Burr
		f.Burr = append(f.Burr, e)
		line += fmt.Sprintf(" burr %.3f %+.3f u %.3f", *ph.Burr, e, s.BurrLoss.U)
	}
	fmt.Fprintln(log, line)
	return res, nil
}

// misplaced is the rms distance over the plate, in mm, between where a lattice
// puts the plate on the photograph and where it truly lies: first in the
// plate's own frame, then with the reference's own errors of frame divided out
// (what comparing two sheets depends on).
func misplaced(got, ref [][4]float64, ph, refPhoto Photo) (frame, relative float64) {
	n := 0
	for k, g := range ph.Grid {
		i := node(got, g)
		j := node(ref, g)
		r := refPhoto.Grid[k]
		if i < 0 || j < 0 || r[0] != g[0] || r[1] != g[1] {
			continue
		}
		ex, ey := got[i][2]-g[2], got[i][3]-g[3]
		frame += ex*ex + ey*ey
		// Where the reference puts this node it truly lies elsewhere by d mm.
		rx, ry := slopes(ref, j)
		dx, dy := solve(rx, ry, r[2]-ref[j][2], r[3]-ref[j][3])
		gx, gy := slopes(got, i)
		ex += gx[0]*dx + gy[0]*dy
		ey += gx[1]*dx + gy[1]*dy
		relative += ex*ex + ey*ey
		n++
	}
	if n == 0 {
		return math.NaN(), math.NaN()
	}
	return math.Sqrt(frame/float64(n)) / ph.PxPerMM, math.Sqrt(relative/float64(n)) / ph.PxPerMM
}

// node finds the lattice node at a place of the plate; -1 when there is none.
func node(lattice [][4]float64, at [4]float64) int {
	for i, l := range lattice {
		if math.Abs(l[0]-at[0]) < 0.01 && math.Abs(l[1]-at[1]) < 0.01 {
			return i
		}
	}
	return -1
}

// slopes are pixels for a millimetre along x and along y at a node, from its
// neighbours.
func slopes(lattice [][4]float64, i int) (x, y [2]float64) {
	cols := 1
	for cols < len(lattice) && lattice[cols][1] == lattice[0][1] {
		cols++
	}
	step := func(a, b, axis int) [2]float64 {
		d := lattice[b][axis] - lattice[a][axis]
		return [2]float64{(lattice[b][2] - lattice[a][2]) / d, (lattice[b][3] - lattice[a][3]) / d}
	}
	left, right := i, i
	if i%cols > 0 {
		left = i - 1
	}
	if i%cols < cols-1 {
		right = i + 1
	}
	up, down := i, i
	if i >= cols {
		up = i - cols
	}
	if i+cols < len(lattice) {
		down = i + cols
	}
	return step(left, right, 0), step(up, down, 1)
}

// solve finds dx, dy with x*dx + y*dy = (a, b).
func solve(x, y [2]float64, a, b float64) (dx, dy float64) {
	det := x[0]*y[1] - y[0]*x[1]
	return (a*y[1] - b*y[0]) / det, (x[0]*b - x[1]*a) / det
}

// processorTime is what this process has used of all cores.
func processorTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
