package catalog

import (
	"strings"
	"testing"
	"time"
)

// A ledger is a plate with one state and one edition, to be spoiled.
func ledger() *Folder {
	day := time.Date(2019, 5, 4, 9, 0, 0, 0, time.UTC)
	f := &Folder{
		Plate: Plate{ID: "p", Number: Number{N: 12}, Titles: []Title{{Text: "Low water"}},
			Copper: Size{152, 210}, Mark: Size{150, 208}},
		States:   []State{{ID: "s1", PlateID: "p", N: 1}, {ID: "s2", PlateID: "p", N: 2, ReferenceID: "bat"}},
		Editions: []Edition{{ID: "e", PlateID: "p", StateID: "s2", Name: "first edition", Size: 30, Artists: 3, Printers: 1}},
		Impressions: []Impression{
			{ID: "t", StateID: "s1", Kind: KindTrial, Pull: 1},
			{ID: "bat", StateID: "s2", EditionID: "e", Kind: KindBAT, Pull: 2},
			{ID: "n1", StateID: "s2", EditionID: "e", Kind: KindNumbered, Written: "1/30", Ordinal: 1, OutOf: 30, Pull: 3,
				PulledAt: day, DryFrom: day.Add(48 * time.Hour), Sheet: Size{300, 400}},
			{ID: "n2", StateID: "s2", EditionID: "e", Kind: KindNumbered, Written: "2/30", Ordinal: 2, OutOf: 30, Pull: 4},
			{ID: "a1", StateID: "s2", EditionID: "e", Kind: KindArtist, Written: "A.P. 1/3", Ordinal: 1, OutOf: 3, Pull: 5},
		},
	}
	for i := range f.Impressions {
		f.Impressions[i].PlateID = "p"
	}
	return f
}

func TestSoundLedgerHasNoBreach(t *testing.T) {
	for _, b := range CheckFolder(ledger()) {
		t.Errorf("%s: %s", b.Rule, b.Sentence)
	}
}

func TestRules(t *testing.T) {
	sheet := func(f *Folder, id ID) *Impression {
		for i := range f.Impressions {
			if f.Impressions[i].ID == id {
				return &f.Impressions[i]
			}
		}
		panic(id)
	}
	// Source: "P" a published rule or definition (named), "C" common practice.
	tests := []struct {
		source string
		spoil  func(*Folder)
		rule   string
		weight Weight
		says   []string // the sentence names these
	}{
		{"P: a number stands for one sheet (gallery and studio guides in checks/STANDARDS.md 8.4)",
			func(f *Folder) { s := sheet(f, "n2"); s.Ordinal, s.Written = 1, "1/30" },
			"number twice", Contradiction, []string{"first edition", "12, Low water", "1/30 (pull 3)", "1/30 (pull 4)"}},
		{"P: checks/STANDARDS.md 8.4, number > size refused",
			func(f *Folder) { f.Editions[0].Size = 1 },
			"number beyond the size", Contradiction, []string{"2/30", "1 numbered impression"}},
		{"P: checks/state_edition_notation.csv, numerator beyond denominator",
			func(f *Folder) { s := sheet(f, "n2"); s.Ordinal, s.Written = 31, "31/30" },
			"number beyond its own total", Contradiction, []string{"31/30"}},
		{"C", func(f *Folder) { s := sheet(f, "n2"); s.OutOf, s.Written = 25, "2/25" },
			"total differs", Doubt, []string{"2/25", "30 numbered"}},
		{"C", func(f *Folder) { f.Editions[0].Artists = 1; sheet(f, "n2").Kind = KindArtist },
			"more sheets than issued", Contradiction, []string{"1 artist's proof", "2 sheets", "A.P. 1/3"}},
		{"P: CDWA 9 and DCRM(G) 2013, a state is what came from one unchanged matrix; an edition is of one state",
			func(f *Folder) { sheet(f, "n2").StateID = "s1" },
			"state differs from edition", Contradiction, []string{"2/30", "state I", "state II"}},
		{"C", func(f *Folder) { sheet(f, "a1").StateID = "s1" },
			"state differs from edition", Doubt, []string{"A.P. 1/3"}},
		{"C: about 10 % (five sources in checks/STANDARDS.md 8.4)",
			func(f *Folder) { f.Editions[0].Artists = 4 },
			"artist's proofs", Note, []string{"4 artist's proofs", "one in ten"}},
		{"C: not above 20 % (one source in checks/STANDARDS.md 8.4)",
			func(f *Folder) { f.Editions[0].Artists = 7 },
			"artist's proofs", Doubt, []string{"7 artist's proofs", "one in five"}},
		{"C: B.A.T. one (checks/STANDARDS.md 8.4)",
			func(f *Folder) {
				sheet(f, "t").Kind, sheet(f, "t").EditionID, sheet(f, "t").StateID = KindBAT, "e", "s2"
			},
			"more than one bon à tirer", Doubt, []string{"pull 1", "pull 2"}},
		{"P: roman figures read as proof by some and as restrike by others, so the kind is stored apart (checks/STANDARDS.md 8.4)",
			func(f *Folder) { s := sheet(f, "t"); s.Kind, s.Written, s.Ordinal = KindUnrecorded, "II/V", 2 },
			"roman figures without kind", Doubt, []string{"II/V", "kind"}},
		{"C", func(f *Folder) { s := sheet(f, "n2"); s.Kind = KindUnnumbered },
			"unnumbered with a number", Contradiction, []string{"2/30"}},
		{"C", func(f *Folder) { sheet(f, "n2").EditionID = "" },
			"numbered without edition", Note, []string{"2/30"}},
		{"C", func(f *Folder) { sheet(f, "n2").EditionID = "elsewhere" },
			"edition of another plate", Contradiction, []string{"2/30"}},
		{"P: CDWA 9, states are numbered in order",
			func(f *Folder) { f.States[1].N = 1 }, "state twice", Contradiction, []string{"states I of"}},
		{"P: CDWA 9", func(f *Folder) { f.States[1].N = 3 }, "state left out", Doubt, []string{"State III", "state II"}},
		{"P: CDWA 9", func(f *Folder) { f.States[0].N = 0 }, "state below one", Contradiction, []string{"counted from I"}},
		{"C", func(f *Folder) { sheet(f, "bat").StateID = "s1" },
			"reference of another state", Contradiction, []string{"state II", "bon à tirer"}},
		{"C", func(f *Folder) { sheet(f, "n2").Pull = 3 },
			"pull twice", Contradiction, []string{"pull 3", "1/30", "2/30"}},
		{"P: DCRM(G) 2013, an unchanged matrix makes a state: an earlier state cannot be printed later",
			func(f *Folder) { sheet(f, "t").Pull = 9 },
			"earlier state after a later", Doubt, []string{"state I", "state II"}},
		{"C: paper shrinks by up to 3 % in drying (checks/STANDARDS.md 8.2)",
			func(f *Folder) { f.Plate.Mark.WidthMM = 200 }, "plate mark and copper", Doubt, []string{"150 x 200 mm", "-4.8 %"}},
		{"C: checks/STANDARDS.md 8.2",
			func(f *Folder) { f.Plate.Mark = Size{208, 150} }, "plate mark and copper", Doubt, []string{"exchanged"}},
		{"C", func(f *Folder) { sheet(f, "n1").Sheet = Size{140, 400} },
			"sheet smaller than plate", Doubt, []string{"1/30", "140 x 400"}},
		{"C: a sheet dries after it is pulled",
			func(f *Folder) { s := sheet(f, "n1"); s.DryFrom = s.PulledAt.Add(-time.Hour) },
			"dry before pulled", Contradiction, []string{"1/30"}},
		{"C: one to two days of drying",
			func(f *Folder) {
				s := sheet(f, "n1")
				s.Decision = Decision{Verdict: "sign", At: s.PulledAt.Add(time.Hour)}
			},
			"signed while damp", Note, []string{"1/30", "6 May 2019"}},
		{"C", func(f *Folder) {
			f.Plate.Fate, f.Plate.FateDate = FateCancelled, Date{Text: "1990", EDTF: "1990"}
		}, "pulled from a spoiled plate", Doubt, []string{"1/30", "2019", "cancelled"}},
		{"P: a cancellation proof is struck from the defaced plate (checks/STANDARDS.md 8.4)",
			func(f *Folder) { f.Plate.Fate, sheet(f, "t").Kind = FateKept, KindCancellation },
			"cancellation proof of a kept plate", Doubt, []string{"pull 1"}},
		{"P: what became of the plate is asked by print disclosure laws (checks/disclosure_fields.csv)",
			func(f *Folder) { f.Plate.Fate, f.Editions[0].PlateAfter = FateKept, FateDestroyed },
			"fate after the edition", Doubt, []string{"first edition", "destroyed", "kept"}},
		{"C", func(f *Folder) { f.Plate.Copper.HeightMM = -1 }, "impossible quantity", Contradiction, []string{"height of the copper"}},
		{"C", func(f *Folder) { f.Plate.SteelFacedAtPull = 200 }, "steel-facing", Doubt, []string{"pull 200"}},
	}
	for _, test := range tests {
		t.Run(test.rule, func(t *testing.T) {
			f := ledger()
			test.spoil(f)
			for _, b := range CheckFolder(f) {
				if b.Rule != test.rule {
					continue
				}
				if b.Weight != test.weight {
					t.Errorf("weight %v, want %v: %s", b.Weight, test.weight, b.Sentence)
				}
				for _, s := range test.says {
					if !strings.Contains(b.Sentence, s) {
						t.Errorf("sentence does not name %q: %s", s, b.Sentence)
					}
				}
				if len(b.Records) == 0 || !strings.HasSuffix(b.Sentence, ".") && !strings.HasSuffix(b.Sentence, "?") {
					t.Errorf("no records or no sentence: %+v", b)
				}
				return
			}
			t.Errorf("not noticed (%s); found %v", test.source, CheckFolder(f))
		})
	}
}

// What is usual or merely possible is no breach.
func TestRulesLeaveAlone(t *testing.T) {
	for name, change := range map[string]func(*Folder){
		"trial proofs of an earlier state in an edition": func(f *Folder) { f.Impressions[0].EditionID = "e" },
		"A.P. 1 beside number 1":                         func(f *Folder) {},
		"a roman series beside the arabic": func(f *Folder) {
			f.Impressions[3].Written, f.Impressions[3].Ordinal = "I/X", 1
			f.Impressions[3].OutOf = 30
		},
		"one artist's proof to five sheets": func(f *Folder) {
			f.Editions[0].Size, f.Editions[0].Artists = 5, 1
			for i := range f.Impressions[2:4] {
				f.Impressions[2+i].OutOf = 5
			}
			f.Impressions[4].OutOf = 1
		},
		"sizes not recorded": func(f *Folder) { f.Plate.Mark, f.Plate.Copper = Size{}, Size{} },
		"mark 3 % under the copper one way, .2 % the other (checks/STANDARDS.md 8.2: 150 mm gives 145.63, 100 mm 99.80)": func(f *Folder) {
			f.Plate.Copper, f.Plate.Mark = Size{150, 100}, Size{145.63, 99.80}
		},
		"edition of unknown size":    func(f *Folder) { f.Editions[0].Size, f.Editions[0].Artists = 0, 0 },
		"uncertain date of the fate": func(f *Folder) { f.Plate.Fate, f.Plate.FateDate.EDTF = FateLost, "1990?" },
	} {
		f := ledger()
		change(f)
		for _, b := range CheckFolder(f) {
			t.Errorf("%s: %s", name, b.Sentence)
		}
	}
}

func TestSnapshotRules(t *testing.T) {
	f := ledger()
	day := f.Impressions[2].PulledAt
	s := &Snapshot{
		Plates: []Plate{f.Plate, {ID: "q", Number: Number{N: 12}, Titles: []Title{{Text: "Mud bank"}}, MakerID: "m", Date: Date{"1931", "1931"}}},
		States: f.States, Editions: []Edition{f.Editions[0], {ID: "e2", PlateID: "q", Kind: "posthumous", Date: Date{"1925", "1925"}}},
		Impressions: f.Impressions, People: []Person{{ID: "m", Name: "A. Marrin", Died: Date{"1930", "1930"}, Born: Date{"c. 1940", "1940~"}}},
		Photographs: []Photograph{{ID: "h", ImpressionID: "n1", View: ViewWhole, Name: "0012.jpg", TakenAt: day.Add(3 * time.Hour)}},
	}
	s.States[1].ReferencePhotoID = "h"
	want := map[string]Weight{"catalogue number twice": Contradiction, "made after death": Doubt, "posthumous in life": Doubt,
		"photographed damp": Note, "reference photograph of another sheet": Doubt}
	for _, b := range CheckSnapshot(s) {
		if w, ok := want[b.Rule]; !ok || w != b.Weight {
			t.Errorf("not expected: %v %s: %s", b.Weight, b.Rule, b.Sentence)
		}
		delete(want, b.Rule)
	}
	for rule := range want {
		t.Errorf("%s: not noticed", rule)
	}
}

// Dates against the maker's life (arithmetic of years): a doubt is raised only by
// plain years that exclude one another.
func TestLives(t *testing.T) {
	for _, c := range []struct{ made, born, died, rule string }{
		{"1925", "1880", "1930", ""}, {"1930", "1880", "1930", ""}, {"1880", "1880", "1930", "made before birth"}, {"1879", "1880", "", "made before birth"},
		{"1881", "1880", "", ""}, {"1931", "1880", "1930", "made after death"}, {"1931", "1880", "1930~", ""}, {"1931?", "1880", "1930", ""},
		{"1879", "1880~", "1930", ""}, {"1931", "", "", ""}, {"", "1880", "1930", ""},
	} {
		date := func(edtf string) Date { return Date{Text: edtf, EDTF: edtf} }
		s := &Snapshot{Plates: []Plate{{ID: "p", Number: Number{N: 1}, MakerID: "m", Date: date(c.made)}},
			People: []Person{{ID: "m", Name: "A. Marrin", Born: date(c.born), Died: date(c.died)}}}
		got := ""
		for _, b := range CheckLives(s) {
			got += b.Rule
		}
		if got != c.rule {
			t.Errorf("made %q by somebody of %q to %q: %q, want %q", c.made, c.born, c.died, got, c.rule)
		}
	}
}

// An edition is posthumous when it was printed after the maker's death.
func TestEditionsAndLives(t *testing.T) {
	for _, c := range []struct{ kind, date, rule string }{
		{"posthumous", "1929", "posthumous in life"}, {"posthumous", "1930", ""}, {"posthumous", "1931", ""},
		{"edition", "1931", "edition after death"}, {"edition", "1930", ""}, {"restrike", "1931", ""}, {"edition", "1931~", ""},
	} {
		s := &Snapshot{Plates: []Plate{{ID: "p", Number: Number{N: 1}, MakerID: "m"}}, People: []Person{{ID: "m", Name: "A. Marrin", Died: Date{"1930", "1930"}}},
			Editions: []Edition{{ID: "e", PlateID: "p", Kind: c.kind, Date: Date{c.date, c.date}}}}
		got := ""
		for _, b := range CheckLives(s) {
			got += b.Rule
		}
		if got != c.rule {
			t.Errorf("%s of %s, death in 1930: %q, want %q", c.kind, c.date, got, c.rule)
		}
	}
}

func TestCompareNumbers(t *testing.T) {
	order := []Number{{N: 1}, {N: 2}, {N: 31}, {N: 31, Suffix: "a"}, {N: 31, Suffix: "b"}, {N: 31, Suffix: "aa"}, {N: 32}, {N: 100},
		{Prefix: "D", N: 1}, {Prefix: "R", N: 1}, {Prefix: "R", N: 10}, {}}
	for i := range order {
		for k := range order {
			got := CompareNumbers(order[i], order[k])
			if (got < 0) != (i < k) || (got == 0) != (i == k) {
				t.Errorf("%v against %v: %d", order[i], order[k], got)
			}
		}
	}
	for _, c := range []struct {
		n    Number
		want string
	}{{Number{N: 31, Suffix: "a"}, "31a"}, {Number{Prefix: "R", N: 3}, "R 3"}, {Number{N: 31, Suffix: "bis"}, "31 bis"}, {Number{}, ""}, {Number{Prefix: "X"}, "X"}} {
		if got := c.n.String(); got != c.want {
			t.Errorf("%+v is written %q, want %q", c.n, got, c.want)
		}
	}
}

// State figures as in checks/state_edition_notation.csv (upper case).
func TestRomanFigure(t *testing.T) {
	for n, want := range map[int]string{1: "I", 4: "IV", 9: "IX", 14: "XIV", 19: "XIX", 40: "XL", 90: "XC", 99: "XCIX", 0: "0", -2: "-2"} {
		if got := romanFigure(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

func TestDryAt(t *testing.T) {
	pulled := time.Date(2020, 2, 28, 18, 0, 0, 0, time.UTC)
	// Two days unless changed (common practice: one to two days).
	if got := DryAt(pulled, 0); !got.Equal(time.Date(2020, 3, 1, 18, 0, 0, 0, time.UTC)) {
		t.Errorf("dry at %v", got)
	}
	if got := DryAt(pulled, 24); !got.Equal(time.Date(2020, 2, 29, 18, 0, 0, 0, time.UTC)) {
		t.Errorf("dry at %v", got)
	}
	if !DryAt(time.Time{}, 48).IsZero() {
		t.Error("a sheet with no time of pulling has a time of drying")
	}
}

// Artist's proofs are usually about a tenth of the edition, and at least one
// (common practice; sources in checks/STANDARDS.md 8.4): where the remarks begin.
func TestArtistsShare(t *testing.T) {
	const none = Weight(-1)
	for _, c := range []struct {
		size, proofs int
		want         Weight
	}{{50, 5, none}, {50, 6, Note}, {50, 10, Note}, {50, 11, Doubt}, {200, 20, none}, {200, 21, Note}, {5, 1, none}, {5, 2, Doubt}} {
		f := ledger()
		f.Impressions = nil
		f.Editions[0].Size, f.Editions[0].Artists = c.size, c.proofs
		got := none
		for _, b := range artistsShare(f, &f.Editions[0]) {
			got = b.Weight
		}
		if got != c.want {
			t.Errorf("%d artist's proofs to %d sheets: weight %d, want %d (-1: no remark)", c.proofs, c.size, got, c.want)
		}
	}
}
