package entry

import (
	"strings"

	"pullbook/catalog"
)

// AAT is where the identifiers of the Getty Art & Architecture Thesaurus begin.
const AAT = "http://vocab.getty.edu/aat/"

// Term is a word with its identifier in the thesaurus, which is empty where
// none has been confirmed.
type Term struct {
	ID    string // "300053228" or ""
	Label string
}

// URI is the term's full address, "" without an identifier.
func (t Term) URI() string {
	if t.ID == "" {
		return ""
	}
	return AAT + t.ID
}

// Terms used outside techniques and papers. Identifiers and labels are those
// confirmed in testdata/aat.csv; what is not confirmed there has none.
var (
	Prints            = Term{"300041273", "prints (visual works)"}
	Impressions       = Term{"300178549", "impressions"}
	Proofs            = Term{"300264637", "proofs (prints by function)"}
	PrintingPlates    = Term{"300022755", "printing plates"}
	Portfolios        = Term{"300179434", "portfolios (groups of works)"}
	Editions          = Term{"300121294", "editions"}
	EditionStatement  = Term{"300435435", "edition description / Edition Statement"}
	WatermarkNote     = Term{"300435421", "Watermarks (statement)"}
	DimensionsNote    = Term{"300435430", "dimensions description"}
	InscriptionNote   = Term{"300435414", "Inscription (statement)"}
	SignatureNote     = Term{"300028705", "signatures (names)"}
	ConditionNote     = Term{"300435425", "Condition (statement)"}
	Height            = Term{"300055644", "height"}
	Width             = Term{"300055647", "width"}
	Millimetres       = Term{"300379097", "millimeters"}
	Copper            = Term{"300011020", "copper (metal)"}
	PaperMaterial     = Term{"300014109", "paper (fiber product)"}
	TypeOfWork        = Term{"300435443", "Type of Work"}
	BriefText         = Term{"300418049", "Brief Text"}
	PrimaryName       = Term{"300404670", "Primary"}
	StateStatement    = Term{"", "state statement"}
	PlateMark         = Term{"", "plate mark"}
	IntaglioPrinting  = Term{"300053218", "intaglio printing"}
	ProvenanceNote    = Term{"", "provenance statement"}
	RemarksNote       = Term{"", "remarks"}
	TechniqueNote     = Term{"", "technique statement"}
	CatalogueNumber   = Term{"", "catalogue number"}
	InventoryNumber   = Term{"", "inventory number"}
	ArtistsProofs     = Term{"", "artist's proofs"}
	TrialProofs       = Term{"", "trial proofs"}
	StateProofs       = Term{"", "state proofs"}
	PrintersProofs    = Term{"", "printer's proofs"}
	HorsCommerce      = Term{"", "hors commerce proofs"}
	BonATirer         = Term{"", "bon a tirer proofs"}
	CancellationProof = Term{"", "cancellation proofs"}
)

// techniqueTerms pairs each technique with the thesaurus' process (the doing)
// and print (the thing made).
var techniqueTerms = map[catalog.Technique][2]Term{
	catalog.Engraving:  {{"300053225", "engraving (printing process)"}, {"300041340", "engravings (prints)"}},
	catalog.Etching:    {{"300053241", "etching (printing process)"}, {"300041365", "etchings (prints)"}},
	catalog.Drypoint:   {{"300053228", "drypoint (printing process)"}, {"300041349", "drypoints (prints)"}},
	catalog.Aquatint:   {{"300053242", "aquatint (printing process)"}, {"300041366", "aquatints (prints)"}},
	catalog.SoftGround: {{"300053251", "soft-ground etching (printing process)"}, {"300041376", "soft-ground etchings (visual works)"}},
	catalog.Mezzotint:  {{"300053233", "mezzotint (process)"}, {"300041356", "mezzotints (prints)"}},
	// A roulette is a tool in the thesaurus, not a process; the word stays local.
	catalog.Roulette: {{"", "roulette"}, {"", "roulette"}},
	"wood engraving": {{"300053303", "wood engraving (process)"}, {"300041402", "wood engravings (prints)"}},
	"woodcut":        {{"300053296", "woodcut (process)"}, {"300041405", "woodcuts (prints)"}},
	"linocut":        {{"300060720", "linoleum block printing"}, {"300041393", "linocuts (prints)"}},
	"photogravure":   {{"300053207", "photogravure (process)"}, {"300154382", "photogravures (prints)"}},
	"monotype":       {{"300053277", "monotype (planographic process)"}, {"300041538", "monotypes (planographic prints)"}},
	"sugar-lift":     {{"300190346", "sugar-lift"}, {"", "sugar-lift"}},
}

// Process is the thesaurus' term for doing a technique.
func Process(t catalog.Technique) Term {
	if pair, ok := techniqueTerms[t]; ok {
		return pair[0]
	}
	return Term{Label: string(t)}
}

// Print is the thesaurus' term for a print made by a technique.
func Print(t catalog.Technique) Term {
	if pair, ok := techniqueTerms[t]; ok {
		return pair[1]
	}
	return Term{Label: string(t)}
}

// PaperTerm is the thesaurus' term for a kind of paper.
func PaperTerm(p *catalog.Paper) Term {
	kind := strings.ToLower(p.Kind)
	switch {
	case strings.Contains(kind, "laid"):
		return Term{"300014184", "laid paper"}
	case strings.Contains(kind, "wove"):
		return Term{"300014187", "wove paper"}
	case strings.Contains(kind, "japan"):
		return Term{"300404752", "japan paper"}
	case strings.Contains(kind, "handmade"), strings.Contains(kind, "hand-made"):
		return Term{"300411543", "handmade paper"}
	}
	return PaperMaterial
}

// MetalTerm is the term for the metal of a plate.
func MetalTerm(metal string) Term {
	if strings.Contains(strings.ToLower(metal), "copper") {
		return Copper
	}
	return Term{Label: metal}
}

// KindTerm is the term for a kind of impression. Proofs have one confirmed
// term for all; their kinds stay local.
func KindTerm(k catalog.Kind) Term {
	switch k {
	case catalog.KindTrial:
		return TrialProofs
	case catalog.KindState:
		return StateProofs
	case catalog.KindBAT:
		return BonATirer
	case catalog.KindArtist:
		return ArtistsProofs
	case catalog.KindPrinter:
		return PrintersProofs
	case catalog.KindHorsCommerce:
		return HorsCommerce
	case catalog.KindCancellation:
		return CancellationProof
	}
	return Term{}
}
