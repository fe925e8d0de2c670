package life

import "math"

// family is a kind of wear curve. All rise from 0 at x = 0 to 1 at x = 1,
// where x is the share of the plate's life that is gone.
type family int

const (
	fading     family = iota // a constant share lost with every pull
	power                    // faster or slower with time
	twoPhase                 // burr and edges first, then the lines
	lateFall                 // holds, then gives way
	familyKind               // how many there are
)

// particle is one candidate for the truth. z are shape parameters, standard
// normal before any observation.
type particle struct {
	kind  family
	logN  float64
	z     [3]float64
	logSD float64 // of the inking scatter from pull to pull
}

// curve is a particle made ready for evaluation.
type curve struct {
	kind       family
	n          float64 // pulls to the limit
	a, b, c, d float64 // meaning depends on kind
	level      float64 // A of the package comment
	sRef       float64 // s at the reference pull
}

// curve prepares the wear curve of p for limit T and reference pull ref.
func (p *particle) curve(limit, ref float64) curve {
	c := curve{kind: p.kind, n: math.Exp(p.logN)}
	switch p.kind {
	case fading:
		c.a, c.b = math.Log(1-limit), 1/limit
	case power:
		c.a = math.Exp(0.45 * p.z[0])
	case twoPhase:
		c.a = 0.75 / (1 + math.Exp(0.6-p.z[0]))
		c.b = math.Exp(1.9 - 0.6*p.z[1])
		c.c = 1 / (1 - math.Exp(-c.b))
		c.d = math.Exp(0.15 + 0.4*p.z[2])
	case lateFall:
		c.b = 4 * math.Exp(0.4*p.z[0])
		c.a = sigmoid(-c.b)
		c.c = 1 / (0.5 - c.a)
	}
	c.sRef = c.shape(ref / c.n)
	c.level = limit / (1 - c.sRef + limit*c.sRef)
	return c
}

func sigmoid(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// shape is s(x).
func (c *curve) shape(x float64) float64 {
	if x <= 0 {
		return 0
	}
	switch c.kind {
	case fading:
		return (1 - math.Exp(c.a*x)) * c.b
	case power:
		return math.Pow(x, c.a)
	case twoPhase:
		return c.a*(1-math.Exp(-c.b*x))*c.c + (1-c.a)*math.Pow(x, c.d)
	default:
		return (sigmoid(c.b*(x-1)) - c.a) * c.c
	}
}

// loss is the loss against the reference at pull n of the stretch.
func (c *curve) loss(n float64) float64 {
	s := c.shape(n / c.n)
	return c.level * (s - c.sRef) / (1 - c.level*c.sRef)
}
