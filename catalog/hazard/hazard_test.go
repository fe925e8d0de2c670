package hazard

import (
	"os"
	"testing"

	"pullbook/catalog"
)

// The table is the shared one to the letter.
func TestTableIsTheSharedOne(t *testing.T) {
	shared, err := os.ReadFile("../../../shared/checks/hazards.csv")
	if err != nil {
		t.Skip("the shared table of hazards is not beside the checkout")
	}
	if string(shared) != table {
		t.Error("hazards.csv differs from the shared table")
	}
}

// No caution stands without what it does and where that is published.
func TestEveryAgentHasASource(t *testing.T) {
	if len(Agents()) < 15 {
		t.Fatalf("only %d agents", len(Agents()))
	}
	for _, a := range Agents() {
		if a.Source == "" || a.Hazard == "" || a.Basis == "" {
			t.Errorf("%s lacks its source, its hazard or its basis", a.Name)
		}
		if a.NIOSH == "" && a.OSHA == "" && a.Other == "" {
			t.Errorf("%s has no limit, not even the word that there is none", a.Name)
		}
	}
}

// Published: NIOSH IDLH documentation 1994 and Pocket Guide, as in the table.
func TestWorkNamesItsHazards(t *testing.T) {
	for _, c := range []struct {
		kind    catalog.WorkKind
		mordant string
		first   string
		n       int
		niosh   string
	}{
		{catalog.WorkBite, "Nitric acid 1:8", "nitric acid", 2, "TWA 2 ppm (5 mg/m3); ST 4 ppm (10 mg/m3)"},
		{catalog.WorkBite, "Salpetersäure", "nitric acid", 2, "TWA 2 ppm (5 mg/m3); ST 4 ppm (10 mg/m3)"},
		{catalog.WorkBite, "Dutch mordant", "hydrogen chloride / hydrochloric acid", 3, "C 5 ppm (7 mg/m3)"},
		{catalog.WorkBite, "Eisen(III)-chlorid 42 Bé", "ferric chloride (iron salts, soluble, as Fe)", 1, "TWA 1 mg/m3 (as Fe)"},
		{catalog.WorkBite, "", "nitric acid", 3, "TWA 2 ppm (5 mg/m3); ST 4 ppm (10 mg/m3)"},
		{catalog.WorkAquatint, "", "rosin (colophony) decomposition products", 2, "0.1 mg/m3 as formaldehyde (rosin-core solder pyrolysis)"},
		{catalog.WorkClean, "", "Stoddard solvent / mineral spirits", 2, "TWA 350 mg/m3; C 1800 mg/m3 15 min"},
	} {
		l := Of(c.kind, c.mordant)
		if len(l) != c.n || l[0].Name != c.first || l[0].NIOSH != c.niosh {
			t.Errorf("%s, %q: %+v", c.kind, c.mordant, l)
		}
	}
	if l := Of(catalog.WorkBurin, ""); l != nil {
		t.Errorf("the burin has %v", l)
	}
}
