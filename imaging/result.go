package imaging

// Method is the version of the measuring method, stored with every value.
// It changes whenever a score of an unchanged photograph would.
const Method = "3"

// Size is a height and a width in millimetres.
type Size struct {
	Height, Width float64
}

// Point is a place: pixels or millimetres as the holder says.
type Point struct {
	X, Y float64
}

// Quad is the four corners of a plate mark: top-left, top-right,
// bottom-right, bottom-left as the reference stands upright.
type Quad [4]Point

// Value is a measured quantity with its standard uncertainty (k = 1).
type Value struct {
	V, U float64
}

// PlateMark is a plate mark found in, or marked by hand on, a photograph.
type PlateMark struct {
	Corners Quad    // upright pixels
	How     string  // "found", "by hand", "from the reference"
	Sure    float64 // 0..1
}

// Verdict says whether a photograph could be measured.
type Verdict string

// Verdicts of a measurement.
const (
	Measured Verdict = "measured"
	Refused  Verdict = "refused"
)

// Quality is what the photograph itself is worth for measuring.
type Quality struct {
	PxPerMM      float64
	BlurMM       float64 // standard deviation of the blur, mm on the plate
	LightFalloff float64 // (max-min)/mean of the light over the plate
	Clipped      float64 // share of margin pixels at the top of the scale
	Noise        float64 // standard deviation of blank paper, 8-bit counts
	Findings     []Finding
}

// Finding is one line of the quality report after the FADGI 2016 table for
// prints and photographs: what, how much, which star level (0 to 4), and what
// to do about it in one sentence, empty when all is well.
type Finding struct {
	What   string
	Value  float64
	Unit   string
	Stars  int
	Advice string
}

// Scores are the quantities of one impression against its reference. A nil
// Value was not measurable; Why then holds the sentence under the quantity's
// name ("burr_loss").
type Scores struct {
	InkLoss        *Value // fraction
	WearLoss       *Value // fraction, inking divided out
	PlateTone      *Value // density
	ToneP5         float64
	ToneP95        float64
	ToneUnevenness *Value // density, spread at 3-30 mm
	StreakDegrees  *Value // direction of wiping streaks, 0..180
	BurrLoss       *Value // fraction
	LinesLostMM    *Value // mm
	LinesLost      *Value // fraction of reference line length
	OverInking     *Value // fraction gained by the strong lines
	Why            map[string]string
}

// Map is a grid of values over the plate, row by row from its top-left
// corner. Cells that cannot be told are NaN.
type Map struct {
	StepMM     float64
	Rows, Cols int
	V          []float64
}

// Registration says how well two sheets lie on one another.
type Registration struct {
	State       string  // "registered", "doubtful", "failed"
	ResidualMM  float64 // estimated rms over the plate
	Correlation float64
	// Lattice maps the plate to the photograph: [x_mm, y_mm, x_px, y_px],
	// stored pixels, (rows+1) x (cols+1) nodes row by row, edges included.
	Lattice [][4]float64
	plate   *laidPlate // for SettleFrame
}

// Result is everything measured of one photograph.
type Result struct {
	Verdict      Verdict
	Reason       string        // why refused, or what limits trust; a sentence
	Refusal      *RefusedError // the refusal that Reason is of, nil when there is none
	Mark         Quad          // stored pixels
	MarkHow      string
	MarkSure     float64
	Registration Registration
	Quality      Quality
	Scores       Scores
	InkLossMap   Map // fraction per 5 mm tile
	ToneMap      Map // density, per 5 mm tile
	Regions      []RegionScore
	Budget       []Component // what makes the scores uncertain
}

// why is the Reason, to be said in other languages.
func (r *Result) why() Wording {
	if r.Refusal != nil {
		return r.Refusal.Wording
	}
	return wording("%s", r.Reason)
}

// Change is one patch of new or removed work in the plate's frame.
type Change struct {
	Kind    string // "added", "removed", "changed texture", "cannot see"
	Box     [4]float64
	AreaMM2 float64
	Sure    float64
}

// Placement answers which state an impression shows and how worn it is.
type Placement struct {
	State      int // index from 1 of the states given; 0 none of these, or cannot be told
	Reason     string
	Confidence float64
	Order      *Value // estimated pull number, or a quantity rising with wear
}

// Progress is told how far a long computation is, 0..1, and what it is doing.
// It must return quickly; nil means nobody listens.
type Progress func(done float64, what string)
