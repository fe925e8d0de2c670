package colour

import "math"

// Density is the reflection density of a reflectance factor: -log10 R.
// Source: ISO 5-1, ISO 5-4. R = 0 gives +Inf.
func Density(r float64) float64 { return -math.Log10(r) }

// Reflectance is the reflectance factor of a density.
func Reflectance(d float64) float64 { return math.Pow(10, -d) }

// DotArea is the covered share of a tint of density dt on paper of density dp
// printed with solid of density ds. Source: Murray and Davies 1936. It is NaN
// where the solid is no darker than the paper.
func DotArea(dt, dp, ds float64) float64 {
	if ds <= dp {
		return math.NaN()
	}
	return (1 - Reflectance(dt-dp)) / (1 - Reflectance(ds-dp))
}
