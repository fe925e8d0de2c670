package accuracy

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"pullbook/imaging"
	"pullbook/imaging/platesim"
)

// Kind is how carefully a set was photographed.
type Kind string

// Kinds of photographs.
const (
	Even  Kind = "even"
	Rough Kind = "rough"
)

// Photo is a photograph with what is truly so of it.
type Photo struct {
	Path    string
	State   int
	Pull    int
	Tone    float64
	InkLoss *float64      // nil where there is no truth (other states than the reference's)
	Burr    *float64      // loss of burr
	Corners [4][2]float64 // stored px
	Grid    [][4]float64  // x mm, y mm, x px, y px (stored)
	PxPerMM float64
}

// Plate is a plate with its photographs; the first is the reference.
type Plate struct {
	Name    string
	Kind    Kind
	Size    imaging.Size
	Changes []platesim.Change
	Photos  []Photo
}

// sharedTruth is the truth file of a shared plate.
type sharedTruth struct {
	WidthMM  float64           `json:"width_mm"`
	HeightMM float64           `json:"height_mm"`
	Changes  []platesim.Change `json:"changes"`
	Photos   []struct {
		File     string        `json:"file"`
		State    int           `json:"state"`
		Pull     int           `json:"pull"`
		Tone     float64       `json:"tone"`
		InkLoss  *float64      `json:"ink_loss"`
		BurrLoss *float64      `json:"burr_loss"`
		Corners  [4][2]float64 `json:"corners"`
		Grid     [][4]float64  `json:"grid"`
		PxPerMM  float64       `json:"px_per_mm"`
	} `json:"photos"`
}

// LoadShared reads the shared plates: quay, photographed evenly, and grove,
// roughly.
func LoadShared(dir string) ([]Plate, error) {
	var out []Plate
	for _, name := range []string{"quay", "grove"} {
		b, err := os.ReadFile(filepath.Join(dir, name+".json"))
		if err != nil {
			return nil, fmt.Errorf("reading the truth of %s: %w", name, err)
		}
		var t sharedTruth
		if err := json.Unmarshal(b, &t); err != nil {
			return nil, fmt.Errorf("reading the truth of %s: %w", name, err)
		}
		p := Plate{Name: name, Kind: Even, Size: imaging.Size{Height: t.HeightMM, Width: t.WidthMM}, Changes: t.Changes}
		if name == "grove" {
			p.Kind = Rough
		}
		for _, f := range t.Photos {
			p.Photos = append(p.Photos, Photo{Path: filepath.Join(dir, f.File), State: f.State, Pull: f.Pull, Tone: f.Tone,
				InkLoss: f.InkLoss, Burr: f.BurrLoss, Corners: f.Corners, Grid: f.Grid, PxPerMM: f.PxPerMM})
		}
		out = append(out, p)
	}
	return out, nil
}

// Spec asks for one simulated plate.
type Spec struct {
	Seed   uint64
	Kind   Kind
	Scene  platesim.Scene
	Tech   platesim.Technique
	Weight float64 // of the lines
	Side   int     // longer side of the pictures in pixels; 0: 2800
	States int
	Pulls  []int // of the first state, besides the reference
	Later  []int // pulls of each later state
}

// Specs returns n plates of the seed given: scenes and techniques in turn,
// even and rough in turn. Two seeds share no plate.
func Specs(seed uint64, n int) []Spec {
	scenes := platesim.Scenes()
	techs := []platesim.Technique{platesim.Mixed, platesim.Etched, platesim.Engraved, platesim.Mixed, platesim.Drypoint}
	var out []Spec
	for i := range n {
		s := Spec{Seed: seed*1000 + uint64(i), Kind: Even, Scene: scenes[(i+i/len(scenes))%len(scenes)], Tech: techs[i%len(techs)],
			Weight: 1, States: 2 + i%2, Pulls: []int{3, 12, 30, 60}, Later: []int{2, 20}}
		if i%2 == 1 {
			s.Kind = Rough
		}
		if i%8 >= 4 {
			s.Weight = 1.3
		}
		out = append(out, s)
	}
	return out
}

// Simulate draws, prints and photographs a plate into dir. Photographs that
// are there already, from an earlier run of the same spec, are kept.
func Simulate(dir string, s Spec) (Plate, error) {
	name := fmt.Sprintf("sim-%d", s.Seed)
	plate := platesim.New(s.Seed, s.Tech, s.Scene, platesim.Options{States: s.States, Weight: s.Weight})
	out := Plate{Name: name, Kind: s.Kind, Changes: plate.Changes, Size: imaging.Size{Height: plate.Size.H, Width: plate.Size.W}}
	shots := [][2]int{{1, 3}}
	for _, n := range s.Pulls {
		shots = append(shots, [2]int{1, n})
	}
	for state := 2; state <= s.States; state++ {
		for _, n := range s.Later {
			shots = append(shots, [2]int{state, n})
		}
	}
	sheet := platesim.NewConditions(light(s.Kind), s.Seed)
	for i, shot := range shots {
		c := platesim.NewConditions(light(s.Kind), s.Seed*100+uint64(i))
		// One printmaker, one paper, one ink; and the reference is a careful
		// pull, not heavily toned.
		c.Paper, c.Ink, c.Laid, c.Background = sheet.Paper, sheet.Ink, sheet.Laid, sheet.Background
		if i == 0 {
			c.Tone = min(c.Tone, 0.05)
		}
		if s.Side > 0 {
			c.Width, c.Height = s.Side, s.Side*3/4
			if plate.Size.H > plate.Size.W {
				c.Width, c.Height = c.Height, c.Width
			}
		}
		path := filepath.Join(dir, fmt.Sprintf("%s-state-%d-pull-%03d.jpg", name, shot[0], shot[1]))
		if i == 0 {
			path = filepath.Join(dir, name+"-reference.jpg")
		}
		p, err := shoot(path, plate, shot[0], shot[1], c, s.Seed*100+uint64(i))
		if err != nil {
			return out, err
		}
		out.Photos = append(out.Photos, p)
	}
	return out, nil
}

func light(k Kind) platesim.Light {
	if k == Rough {
		return platesim.Rough
	}
	return platesim.Even
}

// shoot makes one photograph with its truth, or reads both back.
func shoot(path string, plate *platesim.Plate, state, pull int, c platesim.Conditions, seed uint64) (Photo, error) {
	var t platesim.Truth
	if b, err := os.ReadFile(path + ".json"); err == nil && json.Unmarshal(b, &t) == nil {
		return photoOf(path, t), nil
	}
	img, t := plate.Photograph(state, pull, c, seed)
	f, err := os.Create(path)
	if err != nil {
		return Photo{}, err
	}
	defer f.Close()
	if err := platesim.Encode(f, img, c); err != nil {
		return Photo{}, err
	}
	b, err := json.Marshal(t)
	if err != nil {
		return Photo{}, err
	}
	if err := os.WriteFile(path+".json", b, 0o644); err != nil {
		return Photo{}, err
	}
	return photoOf(path, t), nil
}

func photoOf(path string, t platesim.Truth) Photo {
	p := Photo{Path: path, State: t.State, Pull: t.Pull, Tone: t.Tone, Corners: t.Corners, Grid: t.Grid, PxPerMM: t.PxPerMM}
	if t.State == 1 {
		p.InkLoss = &t.InkLoss
		if t.HasBurr {
			p.Burr = &t.BurrLoss
		}
	}
	return p
}
