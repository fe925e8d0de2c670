package platesim

// Scene names what a plate shows.
type Scene string

// The scenes. All are invented.
const (
	Estuary   Scene = "estuary"
	Willows   Scene = "willows"
	Hulls     Scene = "hulls"
	Boatyard  Scene = "boatyard"
	Heron     Scene = "heron"
	StillLife Scene = "still life"
	Marsh     Scene = "marsh"
	Furrows   Scene = "furrows"
)

// Scenes lists all scenes in a fixed order.
func Scenes() []Scene {
	return []Scene{Estuary, Willows, Hulls, Boatyard, Heron, StillLife, Marsh, Furrows}
}

// sceneDef is a drawing and the frame it is made for, which is also the size
// of its plate in millimetres unless another is asked for.
type sceneDef struct {
	w, h float64
	draw func(*kit)
}

var sceneBook = map[Scene]sceneDef{
	Estuary:   {140, 100, drawEstuary},
	Willows:   {120, 95, drawWillows},
	Hulls:     {150, 95, drawHulls},
	Boatyard:  {140, 105, drawBoatyard},
	Heron:     {95, 130, drawHeron},
	StillLife: {125, 105, drawStillLife},
	Marsh:     {160, 90, drawMarsh},
	Furrows:   {120, 95, drawFurrows},
}

// Pens that the scenes share.
var (
	firm   = pen{w: 0.24, depth: 0.95, tech: Etched}
	plain  = pen{w: 0.16, depth: 0.7, tech: Etched}
	light  = pen{w: 0.11, depth: 0.48, tech: Etched}
	faint  = pen{w: 0.075, depth: 0.3, tech: Etched}
	needle = pen{w: 0.10, depth: 0.4, tech: Drypoint, burr: 0.35}
	rich   = pen{w: 0.14, depth: 0.5, tech: Drypoint, burr: 0.55}
)
