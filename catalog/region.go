package catalog

import (
	"math"
	"strconv"
	"strings"
)

// Region is a part of the plate that is scored by itself, such as "the sky".
type Region struct {
	Name string `json:"name"`
	// Outline is a polygon in plate millimetres, x to the right and y down from
	// the top-left corner of the plate mark, in the form of the points of an SVG
	// polygon: "5,5 135,5 135,40".
	Outline string `json:"outline"`
}

// RegionScore is what one region of the plate scored in a measurement. A nil
// Value could not be measured; Why says why not.
type RegionScore struct {
	Name      string `json:"name"`
	Outline   string `json:"outline"` // the region as it was then
	InkLoss   *Value `json:"ink_loss"`
	PlateTone *Value `json:"plate_tone"` // density
	Why       string `json:"why"`
}

// OutlineOf writes an outline, in tenths of a millimetre.
func OutlineOf(points [][2]float64) string {
	l := make([]string, len(points))
	for i, p := range points {
		l[i] = tenths(p[0]) + "," + tenths(p[1])
	}
	return strings.Join(l, " ")
}

func tenths(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64)
}

// What can be wrong with a region.
const (
	troubleCorner = "The corners of a region are written in millimetres, such as 12.5,40."
	troubleFew    = "A region has three corners or more; draw it round a part of the plate."
	troubleSmall  = "The region is too small to be measured; draw it larger."
	troubleName   = "A region needs a name, such as “the sky”."
	troubleTwice  = "Two regions of one plate cannot have the same name."
)

// RegionTroubles are the sentences that say what is wrong with a region.
var RegionTroubles = []string{troubleCorner, troubleFew, troubleSmall, troubleName, troubleTwice}

// leastRegion is the least area of a region, mm²: in less there is too little
// line work to tell anything.
const leastRegion = 4

// ParseOutline reads an outline of three corners or more that encloses an area.
// What is wrong with it is said in a sentence, "" nothing.
func ParseOutline(s string) (points [][2]float64, wrong string) {
	for _, f := range strings.Fields(s) {
		x, y, ok := strings.Cut(f, ",")
		px, errX := strconv.ParseFloat(x, 64)
		py, errY := strconv.ParseFloat(y, 64)
		if !ok || errX != nil || errY != nil || math.IsNaN(px+py) || math.IsInf(px+py, 0) {
			return nil, troubleCorner
		}
		points = append(points, [2]float64{px, py})
	}
	if len(points) < 3 {
		return nil, troubleFew
	}
	if area(points) < leastRegion {
		return nil, troubleSmall
	}
	return points, ""
}

// area is that of a polygon (the shoelace formula).
func area(points [][2]float64) float64 {
	sum := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return math.Abs(sum) / 2
}

// CheckRegions says in a sentence what is wrong with the regions of a plate, ""
// when they can be measured.
func CheckRegions(list []Region) string {
	seen := map[string]bool{}
	for _, r := range list {
		if strings.TrimSpace(r.Name) == "" {
			return troubleName
		}
		if seen[r.Name] {
			return troubleTwice
		}
		seen[r.Name] = true
		if _, wrong := ParseOutline(r.Outline); wrong != "" {
			return wrong
		}
	}
	return ""
}
