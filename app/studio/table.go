package studio

import (
	"context"
	"image"
	"math"

	"pullbook/catalog"
	"pullbook/catalog/say"
	"pullbook/imaging"
)

// SheetPair is two sheets on one plate's millimetres: the same pixel of both
// pictures shows the same place of the plate.
type SheetPair struct {
	A, B    *image.RGBA
	PxPerMM float64
	// OX and OY are the place of the pictures' top-left corner in the plate's
	// frame, in millimetres.
	OX, OY float64
	// ResidualMM is how well B lies on A, rms over the plate; 0 when it was
	// laid by its plate mark alone.
	ResidualMM float64
	Registered bool
	Words      string       // how well they lie on one another, or why not; in English
	Said       say.Sentence // the same, to be said in other languages
}

// pairSide is the longest side of the pictures of a pair, in pixels: what two
// sheets side by side can show, and no more memory than that needs.
const pairSide = 3600

// pairMargin is how much paper is shown beyond the plate mark, in millimetres.
const pairMargin = 12

// Sheets lays two photographs on the plate of the first, for the table. B is
// registered on A by its lines; where they do not agree it is laid by its own
// plate mark, and Words says so.
func (s *Studio) Sheets(ctx context.Context, a, b catalog.ID, p Progress) (*SheetPair, error) {
	pa, err := s.store.Photograph(ctx, a)
	if err != nil {
		return nil, err
	}
	pb, err := s.store.Photograph(ctx, b)
	if err != nil {
		return nil, err
	}
	size, err := s.sizeOfPhotograph(ctx, pa)
	if err != nil {
		return nil, err
	}
	tell(p, 0.05, "laying %s", pa.Name)
	ref, err := s.prepared(ctx, pa, size)
	if err != nil {
		return nil, err
	}
	tell(p, 0.4, "laying %s on it", pb.Name)
	res, err := s.see(ctx, ref, pb, imaging.MeasureOptions{Grid: true, GridCols: warpCols, GridRows: warpRows})
	if err != nil {
		return nil, err
	}
	pair := &SheetPair{OX: -pairMargin, OY: -pairMargin}
	la := latticeOf(ref.Lattice(warpCols, warpRows), size)
	lb, err := pair.second(pb, res, size)
	if err != nil {
		return nil, err
	}
	tell(p, 0.7, "drawing both")
	return pair, s.drawPair(ctx, pair, [2]*catalog.Photograph{pa, pb}, [2]*lattice{la, lb}, size)
}

// second is where B lies, and how sure that is.
func (pair *SheetPair) second(pb *catalog.Photograph, res *imaging.Result, size catalog.Size) (*lattice, error) {
	if res.Verdict == imaging.Measured {
		pair.Registered, pair.ResidualMM = true, res.Registration.ResidualMM
		pair.Said = say.Of("The lines of the two agree to %.2f mm; this is agreement, not accuracy.", max(pair.ResidualMM, 0.01))
		if res.Registration.State != "registered" {
			pair.Said = say.Of("The lines of the two agree only roughly, to about %.2f mm.", pair.ResidualMM)
		}
		pair.Words = pair.Said.String()
		return latticeOf(res.Registration.Lattice, size), nil
	}
	l, err := latticeOfMark(pb.Mark, size)
	if err != nil {
		return nil, sentence("%s cannot be laid on the other sheet: %s", pb.Name, res.Reason)
	}
	pair.Said = say.Of("Laid down by the plate mark only. %s", whyOf(res))
	pair.Words = pair.Said.String()
	return l, nil
}

func latticeOf(nodes [][4]float64, size catalog.Size) *lattice {
	l := &lattice{rows: warpRows, cols: warpCols, size: size}
	for _, n := range nodes {
		l.at = append(l.at, [2]float64{n[2], n[3]})
	}
	return l
}

func (s *Studio) drawPair(ctx context.Context, pair *SheetPair, photos [2]*catalog.Photograph, at [2]*lattice, size catalog.Size) error {
	box := [4]float64{-pairMargin, -pairMargin, size.WidthMM + pairMargin, size.HeightMM + pairMargin}
	longest := math.Max(box[2]-box[0], box[3]-box[1])
	pair.PxPerMM = min(pairSide/longest, max(at[0].pxPerMM(), at[1].pxPerMM()))
	var out [2]*image.RGBA
	err := each(ctx, 2, 2, func(ctx context.Context, i int) error {
		pic, err := s.read(ctx, photos[i])
		if err != nil {
			return err
		}
		v, err := newView(ctx, pic, pair.PxPerMM/at[i].pxPerMM())
		if err != nil {
			return err
		}
		out[i] = v.rectify(at[i], box, pair.PxPerMM)
		return nil
	})
	pair.A, pair.B = out[0], out[1]
	return err
}
