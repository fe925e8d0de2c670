package platesim

import (
	"math"
	"math/rand/v2"
	"sync"
)

// Size is a width and a height in millimetres.
type Size struct{ W, H float64 }

// Plate is an invented plate: strokes, states and how the metal wears. Its
// methods may be used by several goroutines at once.
type Plate struct {
	Scene     Scene
	Technique Technique
	Size      Size
	States    int
	Changes   []Change // on the way into states 2, 3, …
	// ProofsBetween is how many impressions were pulled of each earlier state
	// before the next was worked: they wear the lines that stay.
	ProofsBetween int

	strokes  []stroke
	weight   float64
	wearRate float64
	mu       sync.Mutex
	measured map[[3]int]masses
}

// masses are integrals over the plate in mm2.
type masses struct{ all, line, burr float64 }

// Change is what the work between two states did, as boxes in plate mm.
type Change struct {
	IntoState int   `json:"into_state"`
	Added     []Box `json:"added"`
	Removed   []Box `json:"removed"`
}

// Options are the parts of a plate one may choose; zero values choose for
// themselves from the seed.
type Options struct {
	Size          Size    // default: the scene's own
	States        int     // default 2
	Added         int     // patches of new work for each later state, default 3
	Removed       int     // burnished patches for each later state; -1 none; default 0 or 1
	ProofsBetween int     // pulls of each earlier state
	Weight        float64 // widths of the lines as a factor; default 1
	// Campaigns gives later states the work that belongs to the scene, where it
	// has some; otherwise chance lays patches, as tests want them.
	Campaigns bool
	Life      float64 // pulls after which about a quarter of the ink is gone, default by technique
}

// New draws a plate. The same seed, technique, scene and options give the same
// plate. An unknown scene falls back on the first of Scenes.
func New(seed uint64, tech Technique, scene Scene, o Options) *Plate {
	r := rand.New(rand.NewPCG(seed, 0x706c617465))
	def, ok := sceneBook[scene]
	if !ok {
		scene = Scenes()[0]
		def = sceneBook[scene]
	}
	p := &Plate{Scene: scene, Technique: tech, Size: o.Size, States: max(o.States, 1),
		ProofsBetween: o.ProofsBetween, measured: map[[3]int]masses{}}
	if o.States == 0 {
		p.States = 2
	}
	p.weight = o.Weight
	if p.weight <= 0 {
		p.weight = 1
	}
	if p.Size.W <= 0 || p.Size.H <= 0 {
		p.Size = Size{def.w, def.h}
	}
	k := &kit{r: r, w: def.w, h: def.h, plate: p.Size, tech: tech, weight: p.weight, open: Box{4.5, 4.5, def.w - 4.5, def.h - 4.5}}
	def.draw(k)
	p.strokes = k.strokes
	p.wearRate = wearRate(tech, o.Life)
	for state := 2; state <= p.States; state++ {
		if later := campaigns[scene]; o.Campaigns && state-2 < len(later) {
			p.carryOut(k, state, later[state-2])
			continue
		}
		p.work(r, state, o)
	}
	return p
}

// wearRate sets how fast the face goes so that about a quarter of the ink is
// lost after life pulls. The default lives are common practice turned into
// something a test can run through: drypoint dozens, the others more.
func wearRate(tech Technique, life float64) float64 {
	if life <= 0 {
		life = map[Technique]float64{Drypoint: 60, Mixed: 80, Etched: 110, Engraved: 120}[tech]
	}
	return 0.2 / math.Pow(life, 0.9)
}

// pullsBetween counts the pulls taken of the states from born up to, not
// including, state.
func (p *Plate) pullsBetween(born, state int) int { return (state - max(born, 1)) * p.ProofsBetween }

// work changes the plate on the way into a state.
func (p *Plate) work(r *rand.Rand, state int, o Options) {
	added, removed := o.Added, o.Removed
	if added == 0 {
		added = 3
	}
	if removed == 0 && r.IntN(2) == 0 {
		removed = 1
	}
	c := Change{IntoState: state, Added: []Box{}, Removed: []Box{}}
	var taken []Box
	for _, earlier := range p.Changes {
		taken = append(append(taken, earlier.Added...), earlier.Removed...)
	}
	for range max(removed, 0) {
		if b, ok := p.burnish(r, state, taken); ok {
			c.Removed = append(c.Removed, b)
			taken = append(taken, b)
		}
	}
	for range max(added, 0) {
		if b, ok := p.addPatch(r, state, taken); ok {
			c.Added = append(c.Added, b)
			taken = append(taken, b)
		}
	}
	p.Changes = append(p.Changes, c)
}

// carryOut does a scene's own later work. New lines pass behind what stands in
// front of them.
func (p *Plate) carryOut(k *kit, state int, c campaign) {
	done := Change{IntoState: state, Added: []Box{}, Removed: []Box{}}
	sx, sy := p.Size.W/k.w, p.Size.H/k.h
	for _, b := range c.rubbed {
		b = Box{b[0] * sx, b[1] * sy, b[2] * sx, b[3] * sy}
		p.rubOut(b, state)
		done.Removed = append(done.Removed, b)
	}
	for _, draw := range c.drawn {
		k.strokes = nil
		draw(k)
		if len(k.strokes) > 0 {
			done.Added = append(done.Added, p.take(k.strokes, state))
		}
	}
	p.Changes = append(p.Changes, done)
}

// take puts strokes on the plate that were drawn in a state, and gives their
// extent.
func (p *Plate) take(strokes []stroke, state int) Box {
	box := emptyBox()
	for _, s := range strokes {
		s.born = state
		e := s.box()
		box.add(e[0], e[1])
		box.add(e[2], e[3])
		p.strokes = append(p.strokes, s)
	}
	return box
}

// place finds a free box of about the given size at least 6 mm from the edge
// and 2.5 mm from every box taken.
func (p *Plate) place(r *rand.Rand, w, h float64, taken []Box, good func(Box) bool) (Box, bool) {
	for range 400 {
		x := 6 + r.Float64()*(p.Size.W-12-w)
		y := 6 + r.Float64()*(p.Size.H-12-h)
		b := Box{x, y, x + w, y + h}
		free := true
		for _, t := range taken {
			if b.grown(2.5).meets(t) {
				free = false
				break
			}
		}
		if free && good(b) {
			return b, true
		}
	}
	return Box{}, false
}

// addPatch lays a patch of parallel strokes, mostly where the ground is open.
func (p *Plate) addPatch(r *rand.Rand, state int, taken []Box) (Box, bool) {
	w, h := 7+7*r.Float64(), 7+7*r.Float64()
	crowd := 0.10 + 0.5*r.Float64()*r.Float64()
	b, ok := p.place(r, w, h, taken, func(b Box) bool { return p.inkIn(b, state) < crowd*(b[2]-b[0])*(b[3]-b[1]) })
	if !ok {
		return b, false
	}
	tech := p.Technique
	if tech == Mixed {
		tech = []Technique{Drypoint, Etched}[r.IntN(2)]
	}
	k := &kit{r: r, w: p.Size.W, h: p.Size.H, plate: p.Size, tech: tech, weight: p.weight, open: Box{0, 0, p.Size.W, p.Size.H}}
	angle := r.Float64() * 180
	cx, cy := (b[0]+b[2])/2, (b[1]+b[3])/2
	sin, cos := math.Sincos(angle * math.Pi / 180)
	length, gap := math.Min(w, h)*(0.8+0.3*r.Float64()), 0.75+0.7*r.Float64()
	width := 0.09 + 0.12*r.Float64()
	n := int(math.Min(w, h) / gap)
	for i := range n {
		v := (float64(i) - float64(n-1)/2) * gap
		from, to := -length/2*k.between(0.8, 1), length/2*k.between(0.8, 1)
		k.line([]pt{{cx + from*cos - v*sin, cy + from*sin + v*cos}, {cx + to*cos - v*sin, cy + to*sin + v*cos}},
			pen{w: width * k.between(0.8, 1.2), depth: k.between(0.35, 0.8), taper: 0.1}, nil)
	}
	return p.take(k.strokes, state), len(k.strokes) > 0
}

// inkIn is about how much ink lies in a box, in mm2.
func (p *Plate) inkIn(b Box, state int) float64 {
	sum := 0.0
	for i := range p.strokes {
		s := &p.strokes[i]
		if s.gone != 0 && s.gone <= state {
			continue
		}
		for j := 1; j < len(s.pts); j++ {
			q := s.pts[j]
			if b.holds(q.x, q.y) {
				sum += q.w * math.Hypot(q.x-s.pts[j-1].x, q.y-s.pts[j-1].y)
			}
		}
	}
	return sum
}

// burnish rubs all lines out of a patch that held some.
func (p *Plate) burnish(r *rand.Rand, state int, taken []Box) (Box, bool) {
	w, h := 7+8*r.Float64(), 6+8*r.Float64()
	b, ok := p.place(r, w, h, taken, func(b Box) bool { return p.inkIn(b, state-1) > 0.10*(b[2]-b[0])*(b[3]-b[1]) })
	if ok {
		p.rubOut(b, state)
	}
	return b, ok
}

// rubOut takes all lines out of a box on the way into a state.
func (p *Plate) rubOut(b Box, state int) {
	var kept []stroke
	for _, s := range p.strokes {
		if (s.gone != 0 && s.gone <= state) || !s.box().meets(b) {
			kept = append(kept, s)
			continue
		}
		kept = append(kept, split(s, b, state)...)
	}
	p.strokes = kept
}

// split cuts a stroke at a box: what lies inside is gone from the state on.
func split(s stroke, b Box, state int) []stroke {
	var out []stroke
	var run []node
	inside := b.holds(s.pts[0].x, s.pts[0].y)
	flush := func(gone bool) {
		if len(run) < 2 {
			return
		}
		part := s
		part.pts = append([]node{}, run...)
		if gone {
			part.gone = state
		}
		out = append(out, part)
	}
	for i, q := range s.pts {
		in := b.holds(q.x, q.y)
		if in != inside && i > 0 {
			m := crossing(s.pts[i-1], q, b)
			run = append(run, m)
			flush(inside)
			run = []node{m}
			inside = in
		}
		run = append(run, q)
	}
	flush(inside)
	return out
}

// crossing finds by halving where a segment passes the side of a box.
func crossing(a, c node, b Box) node {
	in := b.holds(a.x, a.y)
	for range 24 {
		m := node{(a.x + c.x) / 2, (a.y + c.y) / 2, (a.w + c.w) / 2}
		if b.holds(m.x, m.y) == in {
			a = m
		} else {
			c = m
		}
	}
	return c
}
