package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash/fnv"
	"time"

	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// Photographs are small, so that all of them travel within the program; those
// the book prints are larger than the others.
const (
	printedSide, plainSide = 2200, 1640
	jpegQuality            = 78
)

// margins of paper round the plate, mm: left, top, right, bottom.
var margins = [4]float64{27, 22, 27, 34}

func (w *work) sheetSize() catalog.Size {
	m := w.markSize()
	return catalog.Size{HeightMM: m.HeightMM + margins[1] + margins[3], WidthMM: m.WidthMM + margins[0] + margins[2]}
}

func (w *work) drawn() *platesim.Plate {
	return platesim.New(w.seed, w.tech, w.scene, platesim.Options{
		States: len(w.states), Campaigns: true, ProofsBetween: w.proofs, Life: w.life, Weight: w.weight})
}

// markSize is the scene's own size; the copper is a little larger, since damp
// paper shrinks as it dries.
func (w *work) markSize() catalog.Size {
	s := w.drawn().Size
	return catalog.Size{HeightMM: s.H, WidthMM: s.W}
}

// Colours of paper and ink in linear light.
var paperLight = map[string][3]float64{
	"wove": {0.86, 0.85, 0.82}, "cream": {0.86, 0.82, 0.73}, "buff": {0.80, 0.73, 0.60}, "thin": {0.84, 0.81, 0.76},
}

var inkLight = map[string][3]float64{
	"bone": {0.030, 0.027, 0.025}, "umber": {0.046, 0.032, 0.023}, "vine": {0.026, 0.029, 0.034},
}

// seedOf makes accidents the same on every run.
func seedOf(parts ...any) uint64 {
	h := fnv.New64a()
	fmt.Fprint(h, parts...)
	return h.Sum64()
}

// conditions are those of the press's copy stand, or of a hand-held camera.
func (w *work) conditions(s *sheet) platesim.Conditions {
	kind := platesim.Even
	if s.rough {
		kind = platesim.Rough
	}
	c := platesim.NewConditions(kind, seedOf(w.key, w.pullOfPlate(s)))
	m := w.markSize()
	c.Width = plainSide
	if s.reference {
		c.Width = printedSide
	}
	c.Height = c.Width * 3 / 4
	if m.HeightMM > m.WidthMM {
		c.Width, c.Height = c.Height, c.Width
	}
	if !s.rough {
		c.Fill = 0.94
	}
	c.Margins, c.Paper, c.Ink = margins, paperLight[s.paper], inkLight[s.ink]
	c.Laid, c.Background = s.paper == "cream", [3]float64{0.13, 0.12, 0.11}
	c.Tone, c.OverWipe, c.Quality, c.Profile = s.tone, s.overWipe, jpegQuality, "sRGB"
	c.Noise *= 0.6
	return c
}

// photograph renders one sheet and its record.
func (w *work) photograph(p *platesim.Plate, s *sheet) (catalog.Photograph, []byte, error) {
	c := w.conditions(s)
	img, _ := p.Photograph(s.state, s.pull, c, seedOf(w.key, w.pullOfPlate(s), "accidents"))
	var b bytes.Buffer
	if err := platesim.Encode(&b, img, c); err != nil {
		return catalog.Photograph{}, nil, err
	}
	sum := sha256.Sum256(b.Bytes())
	taken := at(s.day).AddDate(0, 0, 3).Add(time.Duration(w.pullOfPlate(s)) * 2 * time.Minute)
	photo := catalog.Photograph{
		ID: id(fmt.Sprintf("%s/pull %d/photograph", w.key, w.pullOfPlate(s))), ImpressionID: w.sheetID(s), View: catalog.ViewWhole,
		SHA256: hex.EncodeToString(sum[:]), Ext: ".jpg", Bytes: int64(b.Len()),
		Name:    fmt.Sprintf("%s-%03d.jpg", fileKey(w.key), w.pullOfPlate(s)),
		WidthPX: img.Rect.Dx(), HeightPX: img.Rect.Dy(), TakenAt: taken, AddedAt: at("2025-01-20 09:00"),
		Profile: "sRGB", FiledBy: "by hand", FiledSure: 1, SessionID: id("copy stand"), Credit: "Ouselhithe Press",
	}
	if s.rough {
		photo.SessionID, photo.Note = "", "Taken by hand at the library."
	}
	return photo, b.Bytes(), nil
}

func fileKey(key string) string {
	return string(bytes.ReplaceAll([]byte(key), []byte(" "), []byte("-")))
}
