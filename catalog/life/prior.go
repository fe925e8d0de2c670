package life

import (
	"math"

	"pullbook/catalog"
	"pullbook/catalog/say"
)

// Prior is what is expected of a plate before it has shown anything: the
// number of pulls to the limit, log-normally spread with heavy tails.
type Prior struct {
	Median float64 // pulls from the start of the stretch to the limit
	SDLog  float64 // scale of the natural logarithm
	Source string  // a few words for the reader
	faced  bool    // steel-faced
}

// steelFactor is how many times longer a faced plate prints: a thousand and
// more where bare copper gives about a hundred (a treatise on etching, Boston
// 1880, sections 98-99, in the published table of yields).
const steelFactor = 10

// tradePriors are customary yields (common practice: engraving 200-300 or
// more, etching about 75-100, drypoint 10-30; the published table of yields
// for the rest). The spreads are wide because archival counts break every
// rule: guidance, never a block.
var tradePriors = map[catalog.Technique]Prior{
	catalog.Engraving:  {Median: 280, SDLog: 0.60, Source: "engraving, customarily 200 to 300 or more"},
	catalog.Etching:    {Median: 90, SDLog: 0.50, Source: "etching, customarily about 75 to 100"},
	catalog.Drypoint:   {Median: 20, SDLog: 0.55, Source: "drypoint, customarily 10 to 30"},
	catalog.Aquatint:   {Median: 120, SDLog: 0.60, Source: "aquatint, fewer than 200 in the published table"},
	catalog.SoftGround: {Median: 240, SDLog: 0.50, Source: "soft-ground etching, 200 to 300 in the published table"},
	catalog.Mezzotint:  {Median: 110, SDLog: 0.60, Source: "mezzotint, about 130 in the published table"},
	catalog.Roulette:   {Median: 100, SDLog: 0.70, Source: "roulette work, no published figure"},
}

// PriorFor returns what the trade expects of a plate worked in the given
// techniques. Several techniques on one plate are pooled and spread widely,
// since nobody knows which of them carries the picture; an unnamed technique
// gets a very wide expectation. Steel-facing lengthens it about tenfold.
func PriorFor(techniques []catalog.Technique, steelFaced bool) Prior {
	var sum, lo, hi float64
	var known int
	p := Prior{Median: 90, SDLog: 1.0, Source: "no technique recorded"}
	for _, t := range techniques {
		q, ok := tradePriors[t]
		if !ok {
			continue
		}
		l := math.Log(q.Median)
		if known == 0 {
			p, lo, hi = q, l, l
		}
		lo, hi = min(lo, l), max(hi, l)
		sum += l
		known++
	}
	if known > 1 {
		p.Median = math.Exp(sum / float64(known))
		p.SDLog = math.Hypot(0.5, (hi-lo)/2)
		p.Source = "several techniques on one plate"
	}
	if steelFaced {
		p.Median *= steelFactor
		p.SDLog = math.Max(p.SDLog, 0.7)
		p.faced = true
	}
	return p
}

// said is where the expectation comes from.
func (p Prior) said() say.Sentence {
	if p.faced {
		return say.Of("%s, steel-faced", say.Word(p.Source))
	}
	return say.Of("%s", say.Word(p.Source))
}

// logDensity is the unnormalised log density of log N: Student's t with three
// degrees of freedom, so that a plate that breaks every rule can say so.
func (p Prior) logDensity(logN float64) float64 {
	z := (logN - math.Log(p.Median)) / p.SDLog
	return -2 * math.Log(1+z*z/3)
}
