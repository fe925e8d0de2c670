package main

import (
	"pullbook/catalog"
	"pullbook/imaging/platesim"
)

func willows() work {
	w := work{key: "willows", scene: platesim.Willows, tech: platesim.Drypoint, seed: 74, life: 40, proofs: 2, weight: 1.15}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 4}, Titles: titles(title("Pollard Willows at Tarrowe Sluice", "en", "artist")),
		Date: date("February 2005", "2005-02"), Techniques: []catalog.Technique{catalog.Drypoint}, Metal: "copper",
		Copper: catalog.Size{HeightMM: 95.4, WidthMM: 120.5}, ThicknessMM: 1, Fate: catalog.FateLost, FateNote: "Not found when the sluice house was cleared.",
		Subjects: []string{"willows", "sluice"}, GroupIDs: []catalog.ID{id("sluice")}, LossLimit: 0.25,
		Literature:  []catalog.Citation{{WorkID: id("handlist"), Number: "14", Pages: "19", State: 2, Note: "counts three states"}, {WorkID: id("review"), Pages: "33-35"}},
		Exhibitions: []catalog.Showing{{ExhibitionID: id("drypoints"), Number: "1"}},
	}
	w.states = []catalog.State{
		{Description: "Before the hurdle at the left and the shading.", Date: date("6 February 2005", "2005-02-06"), Work: []catalog.Work{tool(catalog.WorkDrypoint, date("5 and 6 February 2005", "2005-02-05/2005-02-06"), "steel needle", "Drawn out of doors on the plate.")}},
		{Description: "A hurdle at the left, a cloud and shade under the second willow added in drypoint.", Date: date("12 February 2005", "2005-02-12"), Work: []catalog.Work{tool(catalog.WorkDrypoint, date("12 February 2005", "2005-02-12"), "steel needle", "")}},
	}
	w.editions = []catalog.Edition{{ID: id("willows/edition"), Name: "edition", Kind: "edition", Date: date("2005", "2005"), Size: 12, Artists: 2, Scheme: "arabic", PaperID: id("cream"), Publisher: id("press"), PrinterID: id("thornquay"), PlateAfter: catalog.FateLost, Signed: "in pencil, lower margin"}}
	w.sheets = []sheet{
		{state: 1, pull: 1, kind: catalog.KindState, written: "1st", paper: "thin", ink: "umber", holder: "estate", day: "2005-02-06 17:00", tone: 0.03, printer: "thornquay", press: "little", reference: true, decision: proof("")},
		{state: 1, pull: 2, kind: catalog.KindState, written: "2nd", paper: "cream", ink: "umber", holder: "museum", inventory: "2009.3.6", day: "2005-02-06 17:30", tone: 0.05, printer: "thornquay", press: "little", decision: proof("")},
		{state: 2, pull: 1, kind: catalog.KindBAT, written: "B.A.T.", paper: "cream", ink: "umber", holder: "loft", day: "2005-02-20 10:00", tone: 0.04, printer: "thornquay", reference: true, decision: keep("Approved; full burr.")},
		{state: 2, pull: 3, kind: catalog.KindNumbered, written: "2/12", paper: "cream", ink: "umber", holder: "museum", inventory: "2009.3.7", day: "2005-02-20 11:00", tone: 0.04, printer: "thornquay", decision: sign(), provenance: gave("estate", "2009")},
		{state: 2, pull: 6, kind: catalog.KindNumbered, written: "5/12", paper: "cream", ink: "umber", holder: "verrow", day: "2005-02-20 13:10", tone: 0.05, printer: "thornquay", decision: sign()},
		{state: 2, pull: 10, kind: catalog.KindNumbered, written: "9/12", paper: "cream", ink: "umber", holder: "loft", day: "2005-02-20 15:40", tone: 0.04, printer: "thornquay", decision: sign()},
		{state: 2, pull: 13, kind: catalog.KindNumbered, written: "12/12", paper: "cream", ink: "umber", holder: "library", inventory: "TL 251", day: "2005-02-21 10:20", tone: 0.05, printer: "thornquay", rough: true, decision: sign(), condition: "Slight handling crease, upper left margin."},
		{state: 2, pull: 16, kind: catalog.KindUnnumbered, written: "", paper: "wove", ink: "umber", holder: "loft", day: "2005-02-21 11:30", tone: 0.04, printer: "thornquay", decision: catalog.Decision{Verdict: "tear up", Reason: "Burr gone; kept only for this record.", By: "Ismay Thornquay"}},
	}
	return w
}

func heron() work {
	w := work{key: "heron", scene: platesim.Heron, tech: platesim.Drypoint, seed: 85, life: 55, proofs: 2, weight: 1.15}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 5}, Titles: titles(title("Heron, Low Sun", "en", "artist"), title("Reiher", "de", "other")),
		Date: date("autumn 2007", "2007-23"), Techniques: []catalog.Technique{catalog.Drypoint}, Metal: "copper",
		Copper: catalog.Size{HeightMM: 130.6, WidthMM: 95.4}, ThicknessMM: 1, Fate: catalog.FateKept,
		Subjects: []string{"heron", "reeds"}, GroupIDs: []catalog.ID{id("sluice")}, LossLimit: 0.25,
		Literature:  []catalog.Citation{{WorkID: id("review"), Pages: "38-41, illustrated"}},
		Exhibitions: []catalog.Showing{{ExhibitionID: id("drypoints"), Number: "4"}, {ExhibitionID: id("all"), Number: "21"}},
		NotKnown:    []string{"bevel_mm"},
	}
	w.states = []catalog.State{
		{Description: "Before the shading among the reeds and under the bird.", Date: date("September 2007", "2007-09"), Work: []catalog.Work{tool(catalog.WorkDrypoint, date("September 2007", "2007-09"), "diamond and steel points", "Sky ruled with the diamond, little burr.")}},
		{Description: "Shade added among the reeds and under the bird, and a bar of cloud at the left.", Date: date("October 2007", "2007-10"), Work: []catalog.Work{tool(catalog.WorkDrypoint, date("1 October 2007", "2007-10-01"), "steel point", "Burr kept.")}},
	}
	w.editions = []catalog.Edition{{ID: id("heron/edition"), Name: "edition", Kind: "edition", Date: date("2007 to 2008", "2007/2008"), Size: 15, Artists: 2, Printers: 1, Scheme: "arabic", PaperID: id("wove"), Publisher: id("press"), PrinterID: id("askelby"), PlateAfter: catalog.FateKept, Signed: "in pencil, lower right"}}
	w.sheets = []sheet{
		{state: 1, pull: 2, kind: catalog.KindTrial, written: "T.P.", paper: "thin", ink: "vine", holder: "estate", day: "2007-09-28 12:00", tone: 0.02, press: "little", reference: true, decision: proof("")},
		{state: 2, pull: 1, kind: catalog.KindBAT, written: "B.A.T.", paper: "wove", ink: "vine", holder: "loft", day: "2007-11-05 10:10", tone: 0.03, reference: true, decision: keep("Approved.")},
		{state: 2, pull: 4, kind: catalog.KindNumbered, written: "3/15", paper: "wove", ink: "vine", holder: "museum", inventory: "2009.3.9", day: "2007-11-05 12:00", tone: 0.03, decision: sign(), provenance: gave("estate", "2009")},
		{state: 2, pull: 8, kind: catalog.KindNumbered, written: "7/15", paper: "wove", ink: "vine", holder: "verrow", day: "2007-11-05 15:20", tone: 0.04, decision: sign()},
		{state: 2, pull: 12, kind: catalog.KindNumbered, written: "11/15", paper: "wove", ink: "vine", holder: "loft", day: "2008-01-14 11:00", tone: 0.03, decision: sign()},
		{state: 2, pull: 17, kind: catalog.KindPrinter, written: "P.P.", paper: "buff", ink: "umber", holder: "loft", day: "2008-01-15 10:00", tone: 0.06, decision: keep("For the printer's set.")},
	}
	return w
}

func jug() work {
	w := work{key: "jug", scene: platesim.StillLife, tech: platesim.Engraved, seed: 96, life: 300, proofs: 3, weight: 1.1}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 6}, Titles: titles(title("Jug and Pears", "en", "artist")),
		Date: date("2011", "2011"), Techniques: []catalog.Technique{catalog.Engraving}, Metal: "copper",
		Copper: catalog.Size{HeightMM: 105.5, WidthMM: 125.7}, ThicknessMM: 1.6, Fate: catalog.FateKept,
		Subjects:   []string{"still life"},
		Literature: []catalog.Citation{{WorkID: id("copper"), Pages: "62, illustrated"}},
		Remarks:    "Engraved for the subscribers to Copper and Tide; the one plate here that does not show the estuary.",
	}
	w.states = []catalog.State{
		{Description: "Before the fly on the table.", Date: date("March 2011", "2011-03"), Work: []catalog.Work{tool(catalog.WorkBurin, date("winter 2010 to 2011", "2010-24"), "lozenge burins, a fine tint tool", "")}},
		{Description: "A fly added on the table, the shadow of the jug deepened and the wall hatched again at the right.", Date: date("May 2011", "2011-05"), Work: []catalog.Work{tool(catalog.WorkBurin, date("May 2011", "2011-05"), "lozenge burin", "Shadow of the jug strengthened.")}},
	}
	w.editions = []catalog.Edition{{ID: id("jug/edition"), Name: "subscribers' edition", Kind: "edition", Date: date("2011 to 2012", "2011/2012"), Size: 40, Artists: 4, Scheme: "arabic", PaperID: id("cream"), Publisher: id("press"), PrinterID: id("pellow"), PlateAfter: catalog.FateKept, Signed: "in pencil, lower right"}}
	w.sheets = []sheet{
		{state: 1, pull: 1, kind: catalog.KindTrial, written: "T.P. 1", paper: "thin", ink: "bone", holder: "loft", day: "2011-03-18 14:30", tone: 0.02, printer: "pellow", reference: true, decision: proof("")},
		{state: 1, pull: 3, kind: catalog.KindTrial, written: "T.P. 3", paper: "cream", ink: "bone", holder: "estate", day: "2011-03-18 16:00", tone: 0.02, printer: "pellow", decision: proof("")},
		{state: 2, pull: 1, kind: catalog.KindBAT, written: "B.A.T.", paper: "cream", ink: "bone", holder: "loft", day: "2011-06-06 10:00", tone: 0.02, printer: "pellow", reference: true, decision: keep("Approved.")},
		{state: 2, pull: 11, kind: catalog.KindNumbered, written: "10/40", paper: "cream", ink: "bone", holder: "verrow", day: "2011-06-07 10:00", tone: 0.02, printer: "pellow", decision: sign()},
		{state: 2, pull: 24, kind: catalog.KindNumbered, written: "22/40", paper: "cream", ink: "bone", holder: "library", inventory: "TL 300", day: "2011-06-09 14:00", tone: 0.03, printer: "pellow", decision: sign()},
		{state: 2, pull: 43, kind: catalog.KindNumbered, written: "40/40", paper: "cream", ink: "bone", holder: "loft", day: "2012-02-03 11:10", tone: 0.02, printer: "pellow", decision: sign()},
	}
	return w
}

func mill() work {
	w := work{key: "mill", scene: platesim.Marsh, tech: platesim.Etched, seed: 107, life: 120, proofs: 2, weight: 1.3}
	w.plate = catalog.Plate{
		Number: catalog.Number{N: 7}, Titles: titles(title("Drainage Mill, Maren Marsh", "en", "supplied")),
		Date: date("about 2016", "2016~"), Techniques: []catalog.Technique{catalog.Etching}, Metal: "zinc",
		Copper: catalog.Size{HeightMM: 90.4, WidthMM: 160.8}, ThicknessMM: 1, Fate: catalog.FateUnknown,
		Subjects: []string{"marsh", "drainage mill"}, Standing: catalog.Accepted,
		Literature: []catalog.Citation{{WorkID: id("diary"), Pages: "book 9, 3-8"}},
		Remarks:    "Unfinished; no edition was printed.",
		NotKnown:   []string{"fate_date"},
	}
	w.states = []catalog.State{
		{Description: "Before the cottage.", Date: date("2016", "2016"), Work: []catalog.Work{
			bite(date("April 2016", "2016-04"), "copper sulphate with salt", "saturated, for zinc", 19, 20, "", "No nitric acid on this plate, by the workbook."),
		}},
		{Description: "A cottage added at the left, a cloud and shade at the mill's foot; grass by the creek scraped out.", Date: date("2016 or 2017", "[2016,2017]"), Work: []catalog.Work{
			tool(catalog.WorkScrape, date("2016 or 2017", "[2016,2017]"), "scraper", ""),
			bite(date("2016 or 2017", "[2016,2017]"), "copper sulphate with salt", "saturated, for zinc", 20, 12, "all but the sky and the dyke", ""),
		}},
	}
	w.sheets = []sheet{
		{state: 1, pull: 1, kind: catalog.KindTrial, paper: "buff", ink: "bone", holder: "estate", day: "2016-04-20 15:00", tone: 0.05, reference: true, decision: proof("")},
		{state: 1, pull: 2, kind: catalog.KindTrial, paper: "thin", ink: "umber", holder: "loft", day: "2016-04-20 15:40", tone: 0.07, decision: proof("")},
		{state: 2, pull: 1, kind: catalog.KindTrial, paper: "buff", ink: "bone", holder: "loft", day: "2017-02-11 11:00", tone: 0.04, reference: true},
		{state: 2, pull: 2, kind: catalog.KindTrial, paper: "wove", ink: "bone", holder: "museum", inventory: "2020.1.1", day: "2017-02-11 11:40", tone: 0.05, provenance: gave("estate", "2020")},
	}
	return w
}
