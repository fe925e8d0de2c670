package platesim

// Truth is what is exactly known of one photograph. Its JSON is that of the
// shared photographs' truth files.
type Truth struct {
	File         string        `json:"file"`
	State        int           `json:"state"`
	Pull         int           `json:"pull"`
	Tone         float64       `json:"tone"`          // mean density of the ground
	Coverage     float64       `json:"coverage"`      // mm2, all ink of lines and burr
	LineCoverage float64       `json:"line_coverage"` // mm2
	Burr         float64       `json:"burr"`          // mm2
	Corners      [4][2]float64 `json:"corners"`       // stored px, from the top-left as the plate stands
	Grid         [][4]float64  `json:"grid"`          // x mm, y mm, x px, y px (stored)
	PxPerMM      float64       `json:"px_per_mm"`
	Pixels       [2]int        `json:"pixels"`
	InkLoss      float64       `json:"ink_loss"`  // against the reference pull of the same state
	BurrLoss     float64       `json:"burr_loss"` // 0 where the reference has no burr
	HasBurr      bool          `json:"has_burr"`
}

// PlateTruth is a plate with its photographs' truths, as one JSON document.
type PlateTruth struct {
	Plate   string   `json:"plate"`
	WidthMM float64  `json:"width_mm"`
	Height  float64  `json:"height_mm"`
	Scene   string   `json:"scene"`
	Changes []Change `json:"changes"`
	Photos  []Truth  `json:"photos"`
}

// Truth starts the document of a plate.
func (p *Plate) Truth(name string) PlateTruth {
	return PlateTruth{Plate: name, WidthMM: p.Size.W, Height: p.Size.H, Scene: string(p.Scene), Changes: p.Changes}
}

// truth fills in what is known of a photograph.
func (p *Plate) truth(state, pull int, c *Conditions, k *camera, ink *inkPlanes, tone, gain *field) Truth {
	t := Truth{State: state, Pull: pull, Tone: groundTone(tone, ink, p.Size), PxPerMM: c.scale(p.Size)}
	t.Pixels[0], t.Pixels[1] = c.storedSize()
	var share func(x, y float64) float64
	if c.OverWipe > 0 {
		share = gain.at
	}
	t.Coverage, t.LineCoverage, t.Burr = ink.masses(share)
	if share == nil {
		p.remember(state, pull, ink.res, masses{t.Coverage, t.LineCoverage, t.Burr})
	}
	ref := p.reference(state, c.Reference, ink.res)
	t.InkLoss = 1 - t.Coverage/ref.all
	// A trace of burr makes no halo worth measuring: below 1 % of the ink.
	if t.HasBurr = ref.burr > 0.01*ref.all; t.HasBurr {
		t.BurrLoss = 1 - t.Burr/ref.burr
	}
	place := func(x, y float64) (float64, float64) { return c.stored(k.toPhoto(x, y)) }
	for i, q := range [4]pt{{0, 0}, {p.Size.W, 0}, {p.Size.W, p.Size.H}, {0, p.Size.H}} {
		t.Corners[i][0], t.Corners[i][1] = place(q.x, q.y)
	}
	const cols, rows = 16, 12
	for j := range rows + 1 {
		for i := range cols + 1 {
			x, y := p.Size.W*float64(i)/cols, p.Size.H*float64(j)/rows
			px, py := place(x, y)
			t.Grid = append(t.Grid, [4]float64{x, y, px, py})
		}
	}
	return t
}

// reference gives the ink of an undisturbed pull, reckoned once.
func (p *Plate) reference(state, pull int, res float64) masses {
	p.mu.Lock()
	m, ok := p.measured[inkKey(state, pull, res)]
	p.mu.Unlock()
	if !ok {
		m.all, m.line, m.burr = p.ink(state, pull, res).masses(nil)
		p.remember(state, pull, res, m)
	}
	return m
}

func (p *Plate) remember(state, pull int, res float64, m masses) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.measured[inkKey(state, pull, res)] = m
}

// inkKey tells pulls apart, and drawings of one pull at other resolutions.
func inkKey(state, pull int, res float64) [3]int { return [3]int{state, pull, int(res * 1000)} }
