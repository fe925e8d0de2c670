package main

import (
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

// work is one plate of the sample: what is said of it, and how the simulator
// draws and wears it.
type work struct {
	key    string
	scene  platesim.Scene
	tech   platesim.Technique
	seed   uint64
	life   float64 // pulls until a quarter of the ink is gone
	proofs int     // pulls of each state before the last
	weight float64 // widths of the lines as a factor

	plate    catalog.Plate
	states   []catalog.State
	editions []catalog.Edition
	sheets   []sheet
}

func titles(list ...catalog.Title) []catalog.Title { return list }

func title(text, language, given string) catalog.Title {
	return catalog.Title{Text: text, Language: language, Given: given}
}

func bite(d catalog.Date, mordant, strength string, celsius, minutes float64, stopped, note string) catalog.Work {
	return catalog.Work{Kind: catalog.WorkBite, Date: d, Mordant: mordant, Strength: strength, TemperatureC: celsius, Minutes: minutes, StoppedOut: stopped, Note: note}
}

func tool(kind catalog.WorkKind, d catalog.Date, name, note string) catalog.Work {
	return catalog.Work{Kind: kind, Date: d, Tool: name, Note: note}
}

const ferric = "ferric chloride"

// works are the plates in catalogue order.
func works() []work {
	return []work{lowWater(), boatyard(), hulls(), willows(), heron(), jug(), mill()}
}

func lowWater() work {
	w := work{key: "low water", scene: platesim.Estuary, tech: platesim.Etched, seed: 41, life: 140, proofs: 3, weight: 1.3}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 1}, Titles: titles(title("Low Water, Evening", "en", "artist"), title("The Stage at Low Water", "en", "other")),
		Date: date("summer 1996", "1996-22"), Techniques: []catalog.Technique{catalog.Etching}, Metal: "copper",
		Copper: catalog.Size{HeightMM: 100.6, WidthMM: 140.8}, ThicknessMM: 1.2, BevelMM: 1.5, Fate: catalog.FateKept, FateNote: "In the plate cupboard of the press, waxed.",
		Inscriptions: []catalog.Inscription{{Text: "IT 96", Place: "lower right, in reverse", Medium: "in the plate", By: "the artist"}},
		Subjects:     []string{"estuary", "fishing boats", "landing stage"}, GroupIDs: []catalog.ID{id("estuary")},
		Literature:  []catalog.Citation{{WorkID: id("handlist"), Number: "3", Pages: "11"}, {WorkID: id("copper"), Pages: "18-21, illustrated"}},
		Exhibitions: []catalog.Showing{{ExhibitionID: id("slack"), Number: "2"}, {ExhibitionID: id("all"), Number: "5"}},
		Remarks:     "The first plate printed in the sail loft.",
	}
	w.states = []catalog.State{
		{Description: "Before the third boat, the cloud at the right and the shade under the near hull.", Date: date("June 1996", "1996-06"), Work: []catalog.Work{
			bite(date("2 June 1996", "1996-06-02"), ferric, "40 degrees Baumé", 20, 18, "", "Whole plate, face down on corks, under the hood."),
			bite(date("2 June 1996", "1996-06-02"), ferric, "40 degrees Baumé", 20, 25, "sky and far shore", "Hulls, stage and piles taken deeper."),
		}},
		{Description: "A third boat added far off, a cloud over the sheds and shade on the water under the near hull.", Date: date("July 1996", "1996-07"), Work: []catalog.Work{
			bite(date("11 July 1996", "1996-07-11"), ferric, "40 degrees Baumé", 22, 16, "everything but the new lines", "Re-grounded with the dabber."),
		}, Literature: []catalog.Citation{{WorkID: id("handlist"), Number: "3", State: 2}}},
	}
	w.editions = []catalog.Edition{{
		ID: id("low water/edition"), Name: "first edition", Kind: "edition", Date: date("1996", "1996"), Size: 30, Artists: 3, Printers: 1, Scheme: "arabic",
		PaperID: id("wove"), Publisher: id("press"), PrinterID: id("askelby"), PlateAfter: catalog.FateKept, Signed: "in pencil, lower right", Stamps: "blind stamp of the press, lower left",
		Statement: "Thirty impressions and four proofs. The plate is kept.",
	}}
	w.sheets = []sheet{
		{state: 1, pull: 1, kind: catalog.KindTrial, written: "T.P.", paper: "thin", ink: "bone", holder: "estate", day: "1996-06-03 15:10", tone: 0.06, decision: proof("Sky too empty; needs a second ground.")},
		{state: 1, pull: 2, kind: catalog.KindTrial, written: "T.P.", paper: "wove", ink: "bone", holder: "museum", inventory: "1999.14.1", day: "1996-06-03 16:00", tone: 0.04, reference: true, decision: proof("Kept as the record of the first state."), literature: []catalog.Citation{{WorkID: id("copper"), Pages: "19, illustrated"}}},
		{state: 2, pull: 1, kind: catalog.KindBAT, written: "B.A.T.", paper: "wove", ink: "bone", holder: "loft", day: "1996-08-20 10:15", tone: 0.035, reference: true, decision: keep("Approved for the edition.")},
		{state: 2, pull: 3, kind: catalog.KindNumbered, written: "2/30", paper: "wove", ink: "bone", holder: "museum", inventory: "1999.14.2", day: "1996-08-20 11:00", tone: 0.035, decision: sign(), provenance: bought("gallery", "1999")},
		{state: 2, pull: 9, kind: catalog.KindNumbered, written: "8/30", paper: "wove", ink: "bone", holder: "verrow", day: "1996-08-20 14:20", tone: 0.04, decision: sign()},
		{state: 2, pull: 17, kind: catalog.KindNumbered, written: "15/30", paper: "wove", ink: "bone", holder: "library", inventory: "TL 211", day: "1996-08-22 10:40", tone: 0.03, decision: sign(), provenance: gave("verrow", "2006")},
		{state: 2, pull: 26, kind: catalog.KindNumbered, written: "24/30", paper: "wove", ink: "bone", holder: "loft", day: "1996-08-22 15:30", tone: 0.045, decision: sign()},
		{state: 2, pull: 32, kind: catalog.KindNumbered, written: "30/30", paper: "wove", ink: "bone", holder: "estate", day: "1996-08-23 11:20", tone: 0.03, decision: sign()},
		{state: 2, pull: 33, kind: catalog.KindArtist, written: "A.P. 1/3", paper: "cream", ink: "umber", holder: "estate", day: "1996-08-23 12:05", tone: 0.07, decision: keep("Warm ink on cream, a heavier wipe, as the artist liked it.")},
	}
	return w
}

func boatyard() work {
	w := work{key: "boatyard", scene: platesim.Boatyard, tech: platesim.Engraved, seed: 52, life: 400, proofs: 4, weight: 1.15}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 2}, Titles: titles(title("The Boatyard, Tide Out", "en", "artist")),
		Date: date("1997", "1997"), Techniques: []catalog.Technique{catalog.Engraving}, Metal: "copper",
		Copper: catalog.Size{HeightMM: 105.7, WidthMM: 140.9}, ThicknessMM: 1.6, BevelMM: 1, SteelFaced: true, SteelFacedAtPull: 40, Fate: catalog.FateKept,
		Subjects: []string{"boatyard", "shed", "hull"}, GroupIDs: []catalog.ID{id("estuary")},
		Literature:  []catalog.Citation{{WorkID: id("handlist"), Number: "5", Pages: "12-13"}},
		Exhibitions: []catalog.Showing{{ExhibitionID: id("slack"), Number: "7"}},
	}
	w.states = []catalog.State{
		{Description: "With the baulks stacked at the shed; before the cloud over the small house.", Date: date("March 1997", "1997-03"), Work: []catalog.Work{
			tool(catalog.WorkBurin, date("January to March 1997", "1997-01/1997-03"), "square and lozenge burins", "Roofs in swelling lines, laid twice."),
		}},
		{Description: "The stack of baulks burnished away; a cloud added at the left and shade before the doors.", Date: date("April 1997", "1997-04"), Work: []catalog.Work{
			tool(catalog.WorkBurnish, date("9 April 1997", "1997-04-09"), "burnisher and charcoal", "Taken out where it fought the hull; hammered up from behind."),
			tool(catalog.WorkBurin, date("10 April 1997", "1997-04-10"), "lozenge burin", "Sky closed up at the left; the ground darkened before the doors."),
		}},
	}
	w.editions = []catalog.Edition{
		{ID: id("boatyard/edition"), Name: "first edition", Kind: "edition", Date: date("1997", "1997"), Size: 35, Artists: 2, HorsComm: 1, Scheme: "arabic", PaperID: id("cream"), Publisher: id("press"), PrinterID: id("askelby"), PlateAfter: catalog.FateKept, Signed: "in pencil, lower right"},
		{ID: id("boatyard/restrike"), Name: "restrike of 2021", Kind: "posthumous", Date: date("2021", "2021"), Size: 10, Scheme: "roman", PaperID: id("wove"), Publisher: id("press"), PrinterID: id("pellow"), PlateAfter: catalog.FateKept, Signed: "unsigned", Stamps: "estate stamp, verso", Statement: "Printed for the memorial exhibition from the steel-faced plate."},
	}
	w.sheets = []sheet{
		{state: 1, pull: 2, kind: catalog.KindState, written: "st. I", paper: "thin", ink: "vine", holder: "estate", day: "1997-03-20 14:00", tone: 0.02, reference: true, decision: proof("")},
		{state: 1, pull: 4, kind: catalog.KindTrial, written: "T.P.", paper: "wove", ink: "bone", holder: "loft", day: "1997-03-20 15:10", tone: 0.03, decision: proof("Planks too dark against the hull.")},
		{state: 2, pull: 1, kind: catalog.KindBAT, written: "B.A.T.", paper: "cream", ink: "bone", holder: "loft", day: "1997-05-06 09:40", tone: 0.02, reference: true, decision: keep("Approved.")},
		{state: 2, pull: 4, kind: catalog.KindNumbered, written: "3/35", paper: "cream", ink: "bone", holder: "museum", inventory: "1999.14.5", day: "1997-05-06 11:30", tone: 0.02, decision: sign(), provenance: bought("gallery", "1999")},
		{state: 2, pull: 21, kind: catalog.KindNumbered, written: "20/35", paper: "cream", ink: "bone", holder: "verrow", day: "1997-05-08 10:10", tone: 0.03, decision: sign()},
		{state: 2, pull: 35, kind: catalog.KindNumbered, written: "34/35", paper: "cream", ink: "bone", holder: "library", inventory: "TL 212", day: "1997-05-09 15:45", tone: 0.02, decision: sign()},
		{state: 2, pull: 39, edition: "restrike", kind: catalog.KindNumbered, written: "IV/X", paper: "wove", ink: "vine", holder: "loft", day: "2021-03-02 11:00", tone: 0.005, printer: "pellow", decision: keep("Clean wipe; drier than the first edition.")},
		{state: 2, pull: 44, edition: "restrike", kind: catalog.KindNumbered, written: "IX/X", paper: "wove", ink: "vine", holder: "library", inventory: "TL 390", day: "2021-03-02 15:20", tone: 0.01, printer: "pellow", overWipe: 0.12, decision: keep("Over-wiped at the right; shown as such.")},
	}
	return w
}

func hulls() work {
	w := work{key: "hulls", scene: platesim.Hulls, tech: platesim.Mixed, seed: 63, life: 70, proofs: 3, weight: 1.25}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 3}, Titles: titles(title("Hulks on the Hard", "en", "artist"), title("Carcasses sur la grève", "fr", "other")),
		Date: date("1999 to 2000", "1999/2000"), Techniques: []catalog.Technique{catalog.Etching, catalog.Drypoint}, Metal: "copper",
		Copper: catalog.Size{HeightMM: 95.5, WidthMM: 150.9}, ThicknessMM: 1.2, Fate: catalog.FateCancelled, FateDate: date("2004", "2004"), FateNote: "Two diagonal scores across the plate.",
		Subjects: []string{"hulks", "foreshore"}, GroupIDs: []catalog.ID{id("estuary")},
		Literature:  []catalog.Citation{{WorkID: id("handlist"), Number: "8", Pages: "15"}, {WorkID: id("diary"), Pages: "book 4, 22-29"}},
		Exhibitions: []catalog.Showing{{ExhibitionID: id("all"), Number: "12"}},
		LossLimit:   0.15,
	}
	w.states = []catalog.State{
		{Description: "Etching only.", Date: date("October 1999", "1999-10"), Techniques: []catalog.Technique{catalog.Etching}, Work: []catalog.Work{
			bite(date("4 October 1999", "1999-10-04"), "nitric acid", "1 part acid to 9 of water, by volume", 18, 9, "", "Feathered continually; lines opened evenly. Outdoors, gloves and face shield."),
			bite(date("4 October 1999", "1999-10-04"), "nitric acid", "1 part acid to 9 of water, by volume", 18, 14, "sky", ""),
		}},
		{Description: "The far shore at the left scraped out; a post between the hulks and shade on the shingle added in drypoint.", Date: date("November 1999", "1999-11"), Techniques: []catalog.Technique{catalog.Drypoint}, Work: []catalog.Work{
			tool(catalog.WorkScrape, date("2 November 1999", "1999-11-02"), "three-edged scraper", ""),
			tool(catalog.WorkDrypoint, date("3 November 1999", "1999-11-03"), "steel needle", "Burr left standing in the shade."),
		}},
		{Description: "A cloud over the near mast and shade between the hulks added in drypoint; stones at the right burnished away.", Date: date("January 2000", "2000-01"), Techniques: []catalog.Technique{catalog.Drypoint}, Work: []catalog.Work{
			tool(catalog.WorkBurnish, date("10 January 2000", "2000-01-10"), "burnisher", ""),
			tool(catalog.WorkDrypoint, date("11 January 2000", "2000-01-11"), "diamond point", ""),
		}},
	}
	w.editions = []catalog.Edition{{ID: id("hulls/edition"), Name: "first edition", Kind: "edition", Date: date("2000", "2000"), Size: 20, Artists: 2, Scheme: "arabic", PaperID: id("buff"), Publisher: id("press"), PrinterID: id("askelby"), PlateAfter: catalog.FateCancelled, Signed: "in pencil, lower right", Statement: "Twenty impressions and two artist's proofs; the plate cancelled in 2004."}}
	w.sheets = []sheet{
		{state: 1, pull: 1, kind: catalog.KindState, written: "I", paper: "thin", ink: "bone", holder: "estate", day: "1999-10-05 10:30", tone: 0.03, reference: true, decision: proof("")},
		{state: 1, pull: 3, kind: catalog.KindTrial, written: "T.P.", paper: "wove", ink: "bone", holder: "museum", inventory: "2009.3.1", day: "1999-10-05 11:30", tone: 0.02, decision: proof(""), provenance: gave("estate", "2009")},
		{state: 2, pull: 1, kind: catalog.KindState, written: "II", paper: "wove", ink: "bone", holder: "estate", day: "1999-11-04 16:00", tone: 0.03, reference: true, decision: proof("")},
		{state: 2, pull: 3, kind: catalog.KindTrial, written: "T.P.", paper: "thin", ink: "bone", holder: "loft", day: "1999-11-04 17:00", tone: 0.05, decision: proof("Burr already going in the shade.")},
		{state: 3, pull: 1, kind: catalog.KindBAT, written: "B.A.T.", paper: "buff", ink: "umber", holder: "loft", day: "2000-02-14 10:00", tone: 0.04, reference: true, decision: keep("Approved.")},
		{state: 3, pull: 3, kind: catalog.KindNumbered, written: "2/20", paper: "buff", ink: "umber", holder: "museum", inventory: "2009.3.2", day: "2000-02-14 11:20", tone: 0.04, decision: sign()},
		{state: 3, pull: 8, kind: catalog.KindNumbered, written: "7/20", paper: "buff", ink: "umber", holder: "verrow", day: "2000-02-14 15:00", tone: 0.05, decision: sign()},
		{state: 3, pull: 15, kind: catalog.KindNumbered, written: "14/20", paper: "buff", ink: "umber", holder: "loft", day: "2000-02-15 11:40", tone: 0.04, decision: sign()},
		{state: 3, pull: 21, kind: catalog.KindNumbered, written: "20/20", paper: "buff", ink: "umber", holder: "library", inventory: "TL 230", day: "2000-02-16 10:30", tone: 0.03, decision: sign()},
	}
	return w
}
