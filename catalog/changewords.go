package catalog

import (
	"fmt"
	"math"

	"pullbook/catalog/say"
)

// ChangeWords describes a patch of changed work from its place, size and
// kind: "new drypoint shading, lower left, 14 x 9 mm". technique is the
// campaign's, empty where it was not recorded or is not one; plate is the
// size of the plate the box lies in. The size is height x width, as
// everywhere in the catalogue.
func ChangeWords(c Change, technique Technique, plate Size) string {
	return ChangeSaid(c, technique, plate).String()
}

// ChangeSaid is ChangeWords as a sentence.
func ChangeSaid(c Change, technique Technique, plate Size) say.Sentence {
	parts := []say.Sentence{say.Of("%s", say.Word(changeKind(c, technique)))}
	if p := ChangePlace(c.BoxMM, plate); p != "" {
		parts = append(parts, say.Of("%s", say.Word(p)))
	}
	h, w := c.BoxMM[3]-c.BoxMM[1], c.BoxMM[2]-c.BoxMM[0]
	if h > 0 && w > 0 {
		parts = append(parts, say.Of("%s x %s mm", wholeMM(h), wholeMM(w)))
	}
	return say.List(parts, len(parts))
}

// SoleTechnique is that of a state's new work, the plate's where the state names
// none; "" when it is not one alone.
func SoleTechnique(s *State, p *Plate) Technique {
	list := s.Techniques
	if len(list) == 0 {
		list = p.Techniques
	}
	if len(list) != 1 {
		return ""
	}
	return list[0]
}

// changeKind names the work: a small or thin patch is lines, a compact one
// shading, judged by the box and by how much of it the work fills.
func changeKind(c Change, technique Technique) string {
	h, w := c.BoxMM[3]-c.BoxMM[1], c.BoxMM[2]-c.BoxMM[0]
	short, long := min(h, w), max(h, w)
	what := "shading"
	switch {
	case long <= 3:
		what = "mark"
	case short < 1.2 || short*5 < long:
		what = "line"
	case h*w > 0 && c.AreaMM2 > 0 && c.AreaMM2 < 0.06*h*w:
		what = "lines"
	}
	switch c.Kind {
	case "added":
		name := ""
		switch technique {
		case "":
		case Engraving:
			name = "engraved "
		case Etching, SoftGround:
			name = "etched "
		case Aquatint:
			return "new aquatint tone"
		case Mezzotint:
			return "new mezzotint tone"
		default:
			name = string(technique) + " "
		}
		return "new " + name + what
	case "removed":
		return what + " removed"
	case "changed texture":
		return "texture changed"
	case "cannot see":
		return "not to be told"
	}
	return c.Kind
}

// ChangePlace says where on the plate a box lies, as the upright print shows
// it: "upper left", "centre", "along the lower edge". It is empty when the
// plate's size is not recorded.
func ChangePlace(box [4]float64, plate Size) string {
	if plate.HeightMM <= 0 || plate.WidthMM <= 0 {
		return ""
	}
	h, w := (box[3]-box[1])/plate.HeightMM, (box[2]-box[0])/plate.WidthMM
	x, y := (box[0]+box[2])/2/plate.WidthMM, (box[1]+box[3])/2/plate.HeightMM
	switch {
	case w > 0.7 && h > 0.7:
		return "over the whole plate"
	case w > 0.7:
		return along(y, "across the upper part", "across the middle", "across the lower part")
	case h > 0.7:
		return along(x, "down the left side", "down the middle", "down the right side")
	}
	v := along(y, "upper", "", "lower")
	s := along(x, "left", "", "right")
	switch {
	case v == "" && s == "":
		return "centre"
	case v == "":
		return s + " of centre"
	case s == "":
		return v + " centre"
	}
	return v + " " + s
}

// along names the thirds of a side.
func along(x float64, first, middle, last string) string {
	switch {
	case x < 1.0/3:
		return first
	case x > 2.0/3:
		return last
	}
	return middle
}

func wholeMM(x float64) string {
	if x < 1 {
		return "1"
	}
	return fmt.Sprintf("%.0f", math.Round(x))
}
