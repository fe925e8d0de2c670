// Package hazard knows what can hurt in the work on a plate, with the exposure
// limits that authorities publish and where each is published. It is for
// cautions; the maker's data sheet, local rules and trained practice come
// first.
//
// The table hazards.csv was gathered from the NIOSH Pocket Guide to Chemical
// Hazards and the NIOSH IDLH documentation (1994), OSHA sampling pages and 29
// CFR 1910, HSE SIM 03/2002/26, and university safety pages on etching; its
// last column says what was looked up and what was written down from memory.
package hazard

import (
	_ "embed" // the table
	"encoding/csv"
	"strings"
	"sync"

	"pullbook/catalog"
)

//go:embed hazards.csv
var table string

// Agent is something that can hurt: a substance, a gas it gives off, or a dust.
// Limits are as published, with their units in them; an empty one is not
// known.
type Agent struct {
	Name   string
	Use    string // where it is met
	NIOSH  string // recommended exposure limit
	OSHA   string // permissible exposure limit
	Danger string // concentration immediately dangerous to life or health
	Other  string // limits of others
	Hazard string // what it does
	Source string // where all this is published
	Basis  string // what was looked up, what is from memory
}

// Agents are all that the table knows, in its order.
var Agents = sync.OnceValue(func() []Agent {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		panic("hazard: hazards.csv: " + err.Error()) // built in; a test reads it
	}
	var list []Agent
	for _, r := range rows[1:] {
		list = append(list, Agent{Name: r[0], Use: r[2], NIOSH: r[3], OSHA: r[4], Danger: r[5], Other: r[6], Hazard: r[7], Source: r[8], Basis: r[9]})
	}
	return list
})

// Bath is what a mordant is made of, as far as its hazards go.
type Bath string

// Baths.
const (
	Nitric  Bath = "nitric acid"
	Dutch   Bath = "dutch mordant"
	Ferric  Bath = "ferric chloride"
	Unnamed Bath = ""
)

// BathOf reads the name of a mordant as people write it, in English, German or
// French; Unnamed when it says nothing known.
func BathOf(mordant string) Bath {
	m := strings.ToLower(mordant)
	for _, b := range []struct {
		bath  Bath
		words string
	}{{Nitric, "nitric salpeter nitrique hno3 aquafort"}, {Dutch, "dutch hollän holländ chlorate chlorat hydrochlor salzsäure hollandais"},
		{Ferric, "ferric eisen perchlor chloride fecl"}} {
		for _, w := range strings.Fields(b.words) {
			if strings.Contains(m, w) {
				return b.bath
			}
		}
	}
	return Unnamed
}

// Of lists what can hurt in one kind of work; mordant is for a bite.
func Of(kind catalog.WorkKind, mordant string) []Agent {
	switch kind {
	case catalog.WorkBite:
		switch BathOf(mordant) {
		case Nitric:
			return named("nitric acid", "nitrogen dioxide")
		case Dutch:
			return named("hydrogen chloride", "chlorine", "potassium chlorate")
		case Ferric:
			return named("ferric chloride")
		}
		return named("nitric acid", "hydrogen chloride", "ferric chloride")
	case catalog.WorkAquatint:
		return named("rosin (colophony)", "rosin / asphaltum")
	case catalog.WorkClean:
		return named("Stoddard solvent", "turpentine")
	case catalog.WorkScrape, catalog.WorkBurnish, catalog.WorkRecut:
		return named("copper dusts")
	}
	return nil
}

// named finds agents by how their names begin.
func named(begins ...string) []Agent {
	var list []Agent
	for _, b := range begins {
		for _, a := range Agents() {
			if strings.HasPrefix(a.Name, b) {
				list = append(list, a)
				break
			}
		}
	}
	return list
}
