package pdfout

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
)

// The tests' catalogue: an invented press on an estuary. Nothing in it is real.

// sheetPicture draws a plate with its paper margins: a shore, water in lines,
// a boat; in the second state clouds. It returns the stored corners of the
// plate mark. The plate is turned a little, as photographs are.
func sheetPicture(t testing.TB, path string, plate catalog.Size, state int, wear, pxPerMM float64) (w, h int, mark [4][2]float64) {
	t.Helper()
	const edge = 18.0 // mm of paper
	w, h = int((plate.WidthMM+2*edge)*pxPerMM), int((plate.HeightMM+2*edge)*pxPerMM)
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	sin, cos := math.Sincos(.006)
	toPlate := func(x, y float64) (float64, float64) { // px to plate mm
		x, y = x/pxPerMM-edge-plate.WidthMM/2, y/pxPerMM-edge-plate.HeightMM/2
		return x*cos + y*sin + plate.WidthMM/2, -x*sin + y*cos + plate.HeightMM/2
	}
	for j := range h {
		for i := range w {
			x, y := toPlate(float64(i), float64(j))
			img.SetRGBA(i, j, sheetColour(x, y, plate, state, wear))
		}
	}
	for k, c := range [4][2]float64{{0, 0}, {plate.WidthMM, 0}, {plate.WidthMM, plate.HeightMM}, {0, plate.HeightMM}} {
		x, y := c[0]-plate.WidthMM/2, c[1]-plate.HeightMM/2
		mark[k] = [2]float64{(x*cos - y*sin + plate.WidthMM/2 + edge) * pxPerMM, (x*sin + y*cos + plate.HeightMM/2 + edge) * pxPerMM}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 82}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return w, h, mark
}

// sheetColour is the colour at a place of the plate, in mm.
func sheetColour(x, y float64, s catalog.Size, state int, wear float64) color.RGBA {
	paper := 240 - 3*math.Sin(x*.31)*math.Sin(y*.27)
	ink := 0.0
	u, v := x/s.WidthMM, y/s.HeightMM
	if u >= 0 && u <= 1 && v >= 0 && v <= 1 {
		paper -= 9
		line := func(d, width float64) { ink = math.Max(ink, math.Max(0, 1-math.Abs(d)/width)) }
		horizon := .52 + .02*math.Sin(7*u)
		switch {
		case v > .93 || v < .03 || u < .025 || u > .975:
		case v > horizon:
			d := 1.5 + 2*(v-horizon)
			line(math.Mod(y+1.2*math.Sin(x/5+y/3), d)-d/2, .34+.4*v)
		case v > horizon-.09*(1+math.Sin(9*u)*.5):
			line(math.Mod(x*.8+y, 1.1)-.55, .36)
		case state > 1 && math.Hypot((u-.3)/.22, (v-.2)/.1) < 1+.15*math.Sin(14*u):
			line(math.Mod(x-y*.7, .8)-.4, .34*(1-.6*wear))
		default:
			line(math.Mod(y, 2.6)-1.3, .16)
		}
		if math.Abs(u-.68) < .004 && v > .25 && v < .62 || math.Abs(v-.62) < .02-.1*math.Abs(u-.68) {
			ink = 1
		}
	}
	g := paper - ink*(1-.5*wear)*200
	return color.RGBA{uint8(g), uint8(g - 4), uint8(g - 14), 255}
}

// value makes a measured value.
func value(v, u float64) *catalog.Value { return &catalog.Value{V: v, U: u} }

// date makes a date known exactly as its EDTF reading.
func date(s string) catalog.Date { return catalog.Date{Text: s, EDTF: s} }

// sampleBook makes the snapshot and its pictures in dir.
func sampleBook(t testing.TB, dir string, pxPerMM float64) (*catalog.Snapshot, func(catalog.ID) (string, error)) {
	t.Helper()
	s := &catalog.Snapshot{
		Imprint: catalog.Imprint{ID: "imprint", Title: "The Plates of Ada Marrin", Subtitle: "Engravings, etchings and drypoints, 2009–2024. A catalogue of all states and impressions",
			MakerID: "p1", Author: "Compiled at the press by Isolde Fenwick-Roe", Publisher: "Saltings Press", Place: "Orrin Haven", Year: "2026",
			Rights:       "© 2026 Saltings Press. Prints reproduced by leave of the printmaker.",
			Introduction: sampleIntroduction, Colophon: "Made at Orrin Haven in the winter of 2026, in an edition of sixty copies, of which the first twelve carry an impression of no. 5.",
			LossLimit: .12, ToneLimit: .2},
		People: []catalog.Person{{ID: "p1", Name: "Ada Marrin", Sort: "Marrin, Ada"}, {ID: "p2", Name: "Tobias Quill", Sort: "Quill, Tobias"}, {ID: "p3", Name: "Saltings Press", Sort: "Saltings Press"}},
		Holders: []catalog.Holder{{ID: "h1", Name: "Museum of the Estuary", Place: "Orrin Haven", Short: "Estuary Museum"}, {ID: "h2", Name: "B. Lindqvist-Änderung", Private: true},
			{ID: "h3", Name: "Town Print Room", Place: "Wexmouth"}, {ID: "h4", Name: "Saltings Press archive", Short: "Press archive"}},
		Papers: []catalog.Paper{{ID: "pa1", Name: "Saltings wove", Maker: "Gannet Mill", Kind: "wove", WeightGSM: 250, Watermark: "a gannet over GM, lower right corner", ChainLineMM: 0},
			{ID: "pa2", Name: "Reedbed laid", Maker: "Gannet Mill", Kind: "laid", WeightGSM: 140, Watermark: "three reeds in a ring", ChainLineMM: 26.5}, {ID: "pa3", Name: "Kozo thin", Kind: "japan", WeightGSM: 32}},
		Literature: []catalog.Literature{{ID: "l1", Short: "Pell 2016", Authors: "R. Pell", Title: "A hand-list of the Marrin plates", Published: "Wexmouth", Year: date("2016"), Catalogue: true},
			{ID: "l2", Short: "Studio ledger", Title: "Ledger of the press", Year: date("2009/2024"), Catalogue: true}, {ID: "l3", Short: "Tidelines", Title: "Tidelines: prints of the lower river", Published: "Estuary Museum", Year: date("2021")}},
		Exhibitions: []catalog.Exhibition{{ID: "e1", Short: "Orrin Haven 2021", Title: "Tidelines", Venue: "Museum of the Estuary", Place: "Orrin Haven", Date: date("2021-05")}},
		Groups:      []catalog.Group{{ID: "g1", Title: "Six tides", Kind: "portfolio", Date: date("2014")}},
	}
	titles := []string{"Harbour wall", "Marsh path at first light", "The affable ferryman’s office", "Fünf Kähne", "Ebb", "L’estuaire gelé", "Šípková řeka", "Ὁ πορθμός", "Старая пристань", "Osprey, unfinished"}
	for i, title := range titles {
		addPlate(t, s, dir, i, title, pxPerMM)
	}
	s.Papers[1].WatermarkPhotoID = "photo03-1"
	s.Plates[8].Number, s.Plates[8].Standing = catalog.Number{Prefix: "D", N: 1}, catalog.Doubtful
	s.Plates[9].Number, s.Plates[9].Standing = catalog.Number{Prefix: "R", N: 1}, catalog.Rejected
	return s, func(id catalog.ID) (string, error) { return filepath.Join(dir, string(id)+".jpg"), nil }
}

// addPlate adds one plate with states, edition, impressions, scores.
func addPlate(t testing.TB, s *catalog.Snapshot, dir string, i int, title string, pxPerMM float64) {
	sizes := []catalog.Size{{HeightMM: 212, WidthMM: 297}, {HeightMM: 150, WidthMM: 110}, {HeightMM: 98, WidthMM: 148}, {HeightMM: 240, WidthMM: 180}, {HeightMM: 60, WidthMM: 85}}
	size := sizes[i%len(sizes)]
	id := func(kind string, k int) catalog.ID { return catalog.ID(fmt.Sprintf("%s%02d-%d", kind, i+1, k)) }
	pl := catalog.Plate{ID: id("plate", 0), Number: catalog.Number{N: i + 1}, Standing: catalog.Accepted, Titles: []catalog.Title{{Text: title, Given: "artist"}},
		Date: date(fmt.Sprint(2009 + i)), MakerID: "p1", Techniques: []catalog.Technique{catalog.Engraving, catalog.Drypoint}, Metal: "copper", Mark: size,
		Copper: catalog.Size{HeightMM: size.HeightMM + 1.2, WidthMM: size.WidthMM + 1.5}, ThicknessMM: 1.6, BevelMM: 2, Fate: catalog.FateKept,
		Inscriptions: []catalog.Inscription{{Text: "A.M.\n" + fmt.Sprint(2009+i), Place: "lower right", Medium: "in the plate"}},
		Subjects:     []string{"estuary", "boats"}, GroupIDs: []catalog.ID{"g1"}, NotKnown: []string{"fate_date"}, Remarks: sampleRemarks,
		Literature:  []catalog.Citation{{WorkID: "l1", Number: fmt.Sprint(20 - i), Pages: "12-14"}, {WorkID: "l2", Number: fmt.Sprintf("fol. %d", 3*i+4)}, {WorkID: "l3", Pages: fmt.Sprint(30 + i)}},
		Exhibitions: []catalog.Showing{{ExhibitionID: "e1", Number: fmt.Sprint(7 + i)}}}
	if i == 2 {
		pl.Titles = append(pl.Titles, catalog.Title{Text: "Das Büro des freundlichen Fährmanns", Language: "de", Given: "supplied"})
	}
	states := 1 + i%3
	for k := 1; k <= states; k++ {
		photo := id("photo", k)
		w, h, mark := sheetPicture(t, filepath.Join(dir, string(photo)+".jpg"), size, k, 0, pxPerMM)
		s.Photographs = append(s.Photographs, catalog.Photograph{ID: photo, ImpressionID: id("sheet", k), View: catalog.ViewWhole, WidthPX: w, HeightPX: h,
			Mark: mark, Credit: "Photographs by the press", SHA256: strings.Repeat("ab12", 16), AddedAt: time.Date(2026, 3, 2, 10, 0, 0, 0, time.UTC)})
		st := catalog.State{ID: id("state", k), PlateID: pl.ID, N: k, Description: sampleStates[(k-1)%len(sampleStates)], Date: date(fmt.Sprintf("%d-0%d", 2009+i, k)),
			ReferenceID: id("sheet", k), ReferencePhotoID: photo}
		if k > 1 {
			st.Changes = []catalog.Change{{Kind: "added", BoxMM: [4]float64{size.WidthMM * .1, size.HeightMM * .1, size.WidthMM * .5, size.HeightMM * .3},
				AreaMM2: 900, Sure: .97, Words: "new drypoint shading, upper left, 40 x 110 mm", Ruling: "accepted"}}
			st.Work = []catalog.Work{{Kind: catalog.WorkDrypoint, Date: date(fmt.Sprintf("%d-0%d", 2009+i, k)), Tool: "steel point"}}
		}
		s.States = append(s.States, st)
	}
	s.Editions = append(s.Editions, catalog.Edition{ID: id("ed", 1), PlateID: pl.ID, StateID: id("state", states), Name: "first edition", Kind: "edition", Date: date(fmt.Sprint(2010 + i)),
		Size: 30, Artists: 4, Printers: 1, HorsComm: 2, PaperID: "pa1", PrinterID: "p2", Publisher: "p3", Signed: "in pencil, lower right"})
	if i%2 == 0 {
		s.Editions = append(s.Editions, catalog.Edition{ID: id("ed", 2), PlateID: pl.ID, StateID: id("state", states), Name: "on japan", Kind: "edition", Date: date(fmt.Sprint(2011 + i)), Size: 5, Scheme: "roman", PaperID: "pa3"})
	}
	addSheets(s, pl.ID, id, states)
	s.Plates = append(s.Plates, pl)
}

// addSheets adds impressions with scores to a plate.
func addSheets(s *catalog.Snapshot, plate catalog.ID, id func(string, int) catalog.ID, states int) {
	holders := []catalog.ID{"h1", "h2", "h3", "h4"}
	for k := 1; k <= 11; k++ {
		im := catalog.Impression{ID: id("sheet", k), PlateID: plate, StateID: id("state", min(k, states)), Pull: k * 3, PaperID: catalog.ID(fmt.Sprintf("pa%d", k%3+1)),
			HolderID: holders[k%4], PrinterID: "p2", Sheet: catalog.Size{HeightMM: 300, WidthMM: 380 + float64(k%3)*10}}
		switch {
		case k < states:
			im.Kind = catalog.KindState
		case k == states:
			im.Kind = catalog.KindBAT
		case k == 9:
			im.Kind, im.Ordinal, im.OutOf = catalog.KindArtist, 1, 4
		default:
			im.Kind, im.Ordinal, im.OutOf = catalog.KindNumbered, k-states, 30
		}
		s.Impressions = append(s.Impressions, im)
		if k <= states {
			continue
		}
		sc := catalog.Score{ID: id("score", k), ImpressionID: im.ID, Verdict: "within", Method: "1", Limit: .12, At: time.Date(2026, 3, 3, k, 0, 0, 0, time.UTC),
			InkLoss: value(.011*float64(k)+.004, .004), WearLoss: value(.011*float64(k), .005), PlateTone: value(.09+.004*float64(k%4), .003)}
		if k == 8 {
			sc.Verdict, sc.InkLoss, sc.WearLoss, sc.PlateTone = "refused", nil, nil, nil
			sc.Reason = "the lower edge of the plate is outside the photograph; photograph the whole sheet"
		}
		s.Scores = append(s.Scores, sc)
	}
}

const sampleIntroduction = `The plates described here were engraved between the sea wall and the saltings, at a bench that stood, until the flood of 2013, under the north window of the old ferry office. They are small, most of them, and were printed in small editions by one hand on one press; what follows is an attempt to set down what became of each plate, and of each sheet that was pulled from it.

Drypoint is a perishable art. The burr thrown up by the point holds more ink than the furrow beside it, and the first ten or fifteen pulls print it as a soft, dark bloom; after thirty, under the ordinary pressure of the cylinder, it is gone. *Harbour wall* shows the whole of this course. The earliest proofs, before the clouds, are silver; the bon à tirer is velvety; the last numbered sheets are plain line engravings, and honest ones.

## The measuring of impressions

For this catalogue every sheet that could be borrowed was photographed in even light and compared, line by line, with the pull that was passed for printing. The figures are given with their uncertainty, which is the only way that figures of this kind should be given, and they are given for what they are: a difference between two sheets of paper, not a verdict on either. A thin impression on unfinished paper may be the finest thing in the drawer.

The compiler thanks the keepers of the collections named below, who unframed what they had framed; and the printmaker, who found the ledger.`

const sampleRemarks = `The motif is the outer quay seen from the slipway, in reverse. The printmaker returned to it twice, in the small etching of the same year and in the unfinished mezzotint, and seems to have regarded the present plate as the last word on the subject: a note in the ledger calls it ‘the wall, at last, without the weather’. The preparatory drawing, 205 × 290 mm, is squared for transfer and already shows the three boats, though the nearest was moved to the left on the copper, where its earlier outline can still be made out under the drypoint.

The edition on japan was printed before the numbered edition was complete, which explains why several of these sheets show more burr than the first numbered impressions. A group of impressions on heavy wove paper, without numbering, was pulled from the worn plate; they are easily told by the flat tone of the cloud and by the scratch that runs from the upper edge to the first mast.`

var sampleStates = []string{
	"Before the clouds. The sky is blank except for fine horizontal lines above the hill. The wall and the moored boats are complete, the masts without rigging. Impressions were taken by the printmaker alone, wiped clean, with a film of tone left in the lower margin only.",
	"With the clouds. A bank of cloud is added in drypoint at upper left, with a smaller passage at the upper right corner; the reflections below the quay are deepened with the burin. In the earliest impressions the burr prints richly and hides the lines beneath.",
	"With the plate trimmed and the corners rounded. The lower margin is burnished clean and the date is added at lower right.",
}
