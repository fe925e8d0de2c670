package main

import (
	"crypto/sha256"
	"encoding/base32"
	"strings"
	"time"

	"pullbook/catalog"
)

// id is the same for the same name on every run.
func id(name string) catalog.ID {
	sum := sha256.Sum256([]byte("sample/" + name))
	return catalog.ID(strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10])))
}

func date(text, edtf string) catalog.Date { return catalog.Date{Text: text, EDTF: edtf} }

func year(y string) catalog.Date { return date(y, y) }

// at is a moment of the press's own calendar, UTC.
func at(s string) time.Time {
	t, err := time.Parse("2006-01-02 15:04", s)
	if err != nil {
		panic(err)
	}
	return t
}

// world is everything of the sample but plates and sheets. All of it is
// invented: there is no such press, estuary, printmaker, holder or book.
func world() catalog.Snapshot {
	return catalog.Snapshot{
		Imprint: catalog.Imprint{
			ID: "imprint", Title: "Ismay Thornquay", Subtitle: "The Estuary Plates: a catalogue of the intaglio prints",
			MakerID: id("thornquay"), Author: "Compiled at the press by Jorin Askelby", Publisher: "Ouselhithe Press",
			Place: "Ouselhithe", Year: "2025",
			Introduction: introduction, Rights: "Everything in this catalogue is invented, the pictures included; it may be copied freely.",
			Colophon:  "Set and laid out with Pullbook. The photographs were made at the press; ink loss and plate tone were measured against the reference pull of each state.",
			LossLimit: 0.12, ToneLimit: 0.15, DryHours: 48,
		},
		People: []catalog.Person{
			{ID: id("thornquay"), Name: "Ismay Thornquay", Sort: "Thornquay, Ismay", Born: date("1958", "1958"), Died: date("winter 2019", "2019-24"), Roles: "printmaker", Note: "Trained as a map engraver; lived at the sluice house from 1991."},
			{ID: id("askelby"), Name: "Jorin Askelby", Sort: "Askelby, Jorin", Born: date("1969", "1969"), Roles: "printer, compiler"},
			{ID: id("pellow"), Name: "Wren Pellowick", Sort: "Pellowick, Wren", Born: date("about 1990", "1990~"), Roles: "printer"},
			{ID: id("press"), Name: "Ouselhithe Press", Sort: "Ouselhithe Press", Roles: "publisher", Note: "Founded 1994 in the old sail loft."},
		},
		Holders: []catalog.Holder{
			{ID: id("loft"), Name: "Ouselhithe Press, file set", Place: "Ouselhithe", Short: "OP"},
			{ID: id("museum"), Name: "Maren Valley Museum", Place: "Upper Tarrowe", Short: "MVM", Note: "Works on paper shown by appointment."},
			{ID: id("library"), Name: "Saltgarth Town Library", Place: "Saltgarth", Short: "STL"},
			{ID: id("verrow"), Name: "Collection of the Verrow-Lisk family", Place: "Saltgarth", Private: true, Short: "V-L"},
			{ID: id("estate"), Name: "Estate of the artist", Place: "Tarrowe Sluice", Private: true, Short: "Estate"},
			{ID: id("gallery"), Name: "The Ropewalk Room", Place: "Ouselhithe", Short: "RR", Note: "Gallery; sold editions from 1998 to 2016."},
		},
		Papers: []catalog.Paper{
			{ID: id("wove"), Name: "Tarrowe white wove", Maker: "Tarrowe Mill", Kind: "wove", WeightGSM: 250, Watermark: "a heron within a circle", Note: "Damped in the stack overnight."},
			{ID: id("cream"), Name: "Maren cream", Maker: "Tarrowe Mill", Kind: "laid", WeightGSM: 190, Watermark: "MAREN and date", ChainLineMM: 26},
			{ID: id("buff"), Name: "Tidewrack buff", Maker: "made at the press", Kind: "wove", WeightGSM: 160, Note: "Small makings of 2007 and 2012, slightly uneven."},
			{ID: id("thin"), Name: "Reedpaper", Maker: "made at the press", Kind: "japan", WeightGSM: 45, Note: "Used for proofs before the edition."},
		},
		Inks: []catalog.Ink{
			{ID: id("bone"), Name: "Bone black, stiff", Maker: "ground at the press", Colour: "warm black"},
			{ID: id("umber"), Name: "Estuary brown", Maker: "ground at the press", Colour: "brown black", Note: "Bone black with a third of umber."},
			{ID: id("vine"), Name: "Vine black, loose", Maker: "ground at the press", Colour: "blue black"},
		},
		Presses: []catalog.Press{
			{ID: id("star"), Name: "The star-wheel press", Note: "Bed 60 x 110 cm, two blankets and a swanskin."},
			{ID: id("little"), Name: "The proofing press", Note: "Bed 35 x 60 cm, in the sluice house until 2003."},
		},
		Literature: []catalog.Literature{
			{ID: id("handlist"), Short: "Lisk 2006", Authors: "O. Lisk", Title: "A Handlist of the Prints of Ismay Thornquay", Published: "Saltgarth: Town Library Papers 4", Year: year("2006"), Catalogue: true, Note: "Counts trial proofs of Pollard Willows as states."},
			{ID: id("copper"), Short: "Askelby 2012", Authors: "Jorin Askelby", Title: "Copper and Tide: twenty years of printing at Ouselhithe", Published: "Ouselhithe: Ouselhithe Press", Year: year("2012")},
			{ID: id("review"), Short: "Maren Review 14", Authors: "D. Hask", Title: "The sluice-house drypoints", Published: "The Maren Review, number 14, pages 31-44", Year: year("2015")},
			{ID: id("diary"), Short: "Workbook", Authors: "Ismay Thornquay", Title: "Workbooks 1-9", Published: "manuscript, estate of the artist", Year: date("1991 to 2018", "1991/2018")},
		},
		Exhibitions: []catalog.Exhibition{
			{ID: id("slack"), Short: "Ouselhithe 1999", Title: "Slack Water", Venue: "The Ropewalk Room", Place: "Ouselhithe", Date: date("May to June 1999", "1999-05/1999-06")},
			{ID: id("drypoints"), Short: "Upper Tarrowe 2008", Title: "Burr: drypoints from the estuary", Venue: "Maren Valley Museum", Place: "Upper Tarrowe", Date: date("autumn 2008", "2008-23")},
			{ID: id("all"), Short: "Saltgarth 2021", Title: "Ismay Thornquay, a memorial exhibition", Venue: "Saltgarth Town Library", Place: "Saltgarth", Date: date("9 April to 30 May 2021", "2021-04-09/2021-05-30")},
		},
		Groups: []catalog.Group{
			{ID: id("estuary"), Title: "Estuary Plates", Kind: "portfolio", Date: date("1996 to 2004", "1996/2004"), Note: "Issued in a cloth case by the press, with a title leaf set by hand."},
			{ID: id("sluice"), Title: "Sluice-house drypoints", Kind: "series", Date: date("2005 to 2009", "2005/2009")},
		},
	}
}

const introduction = `Ismay Thornquay came to the estuary in 1991 with a map engraver's tools and no press. For three years her plates were proved on the small press in the sluice house; from 1994 nearly all were printed in the sail loft at Ouselhithe, by herself and by Jorin Askelby, and after her death the file set, the workbooks and most of the copper stayed there.

This catalogue describes the seven plates of the estuary. States are told apart on the sheets themselves, laid on one another; what each state gained or lost is given in millimetres from the top-left corner of the plate mark. Sizes are those of the plate mark, height before width. Impressions have been measured against the reference pull of their state wherever a photograph could be had; a value that could not be trusted is left out and the reason given.`
