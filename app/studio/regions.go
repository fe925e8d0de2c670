package studio

import (
	"pullbook/catalog"
	"pullbook/imaging"
)

// regionsOf are the regions of a plate as the measuring knows them; one whose
// outline cannot be read is left out.
func regionsOf(p *catalog.Plate) []imaging.Region {
	var out []imaging.Region
	for _, r := range p.Regions {
		points, wrong := catalog.ParseOutline(r.Outline)
		if wrong != "" {
			continue
		}
		g := imaging.Region{Name: r.Name}
		for _, c := range points {
			g.Outline = append(g.Outline, imaging.Point{X: c[0], Y: c[1]})
		}
		out = append(out, g)
	}
	return out
}

// regionScores are what the regions of a plate scored, each with its outline as
// it was measured.
func regionScores(p *catalog.Plate, res *imaging.Result) []catalog.RegionScore {
	outline := map[string]string{}
	for _, r := range p.Regions {
		outline[r.Name] = r.Outline
	}
	var out []catalog.RegionScore
	for _, r := range res.Regions {
		out = append(out, catalog.RegionScore{Name: r.Name, Outline: outline[r.Name], InkLoss: valueOf(r.InkLoss), PlateTone: valueOf(r.PlateTone), Why: r.Why})
	}
	return out
}
