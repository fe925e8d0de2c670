package places

import (
	"context"
	"image"
	"time"

	"pullbook/catalog"
	"pullbook/catalog/exchange/cells"
	"pullbook/catalog/exchange/sheet"
	"pullbook/catalog/life"
)

// Progress is told how far long work is, 0..1, and what it is doing.
type Progress = func(done float64, what string)

// House is what the screens ask of an open catalogue. Every method that takes
// a context may be slow and is called from worker goroutines only.
type House interface {
	Dir() string
	// Notice says in a sentence what the user should know of how the
	// catalogue was opened, "" nothing. ReadOnly forbids every change.
	Notice() string
	ReadOnly() bool
	// BackupTrouble says that the day's backup could not be made, "" when all
	// is well.
	BackupTrouble() string

	Snapshot(ctx context.Context) (*catalog.Snapshot, error)
	// Save writes records (pointers to catalogue nouns) as one undo step. A
	// record without an ID gets one.
	Save(ctx context.Context, label string, records ...any) error
	// Delete removes records (pointers) as one undo step.
	Delete(ctx context.Context, label string, records ...any) error
	Undo(ctx context.Context) (string, error)
	Redo(ctx context.Context) (string, error)
	NextUndo() string
	NextRedo() string
	// OnChange calls f after every change of the catalogue, on any goroutine.
	OnChange(f func())
	// History gives the last alterations of some records, of all where none is
	// named, newest first, at most so many.
	History(ctx context.Context, most int, records ...catalog.ID) ([]Altered, error)
	// Pack writes the whole catalogue into one file.
	Pack(ctx context.Context, path string, p Progress) error
	// Search finds plates and impressions by any of their words.
	Search(ctx context.Context, text string) ([]catalog.ID, error)

	// Thumb, Glance, Proxy and Original are paths of picture files of a
	// photograph, from the smallest to the one taken in.
	Thumb(ctx context.Context, photo catalog.ID) (string, error)
	Glance(ctx context.Context, photo catalog.ID) (string, error)
	Proxy(ctx context.Context, photo catalog.ID) (string, error)
	Original(ctx context.Context, photo catalog.ID) (string, error)

	// TakeIn takes photographs or folders of them in, and proposes where each
	// belongs.
	TakeIn(ctx context.Context, paths []string, hint Hint, p Progress) ([]Taken, error)
	// Propose says where photographs taken in before are thought to belong.
	Propose(ctx context.Context, photos []catalog.ID, hint Hint, p Progress) ([]Taken, error)
	// Watch takes in every picture that appears in a folder from now on, until the
	// context ends. It tells each at once, and again when it is known where it
	// belongs.
	Watch(ctx context.Context, dir string, hint func() Hint, came func(Taken)) error
	// Confirm files photographs where their proposals say, measures them, and
	// reports.
	Confirm(ctx context.Context, t []Taken, p Progress) (*Filed, error)
	// Mark sets the plate mark of a photograph by hand, upright pixels of the
	// proxy scaled to 0..1 of its sides.
	Mark(ctx context.Context, photo catalog.ID, corners [4][2]float64) error
	// BlankSheet says that a photograph shows a blank sheet, whose light the
	// others of its session share, and how many do; said again it is taken
	// back.
	BlankSheet(ctx context.Context, photo catalog.ID) (with int, err error)
	// SetUpSession sets a shooting session up for all photographs of its time.
	// Wedge is what a photograph of a grey wedge told before; ReadDensities reads
	// the densities of its steps as they are typed, UsualDensities are those of a
	// usual one.
	SetUpSession(ctx context.Context, u SetUp) (*Standing, error)
	Wedge(ctx context.Context, photo catalog.ID) (WedgeFacts, error)
	ReadDensities(text string) ([]float64, error)
	UsualDensities() string
	// Check judges a photograph that was not measured yet, and says why it cannot
	// be judged.
	Check(ctx context.Context, photo, plate catalog.ID) (reason string, err error)
	// Report is what is known of a photograph as a photograph.
	Report(ctx context.Context, photo catalog.ID) (*Report, error)
	// Measure scores impressions against the reference pull of their state.
	Measure(ctx context.Context, impressions []catalog.ID, p Progress) error
	// ToneMap is the plate tone over a sheet.
	ToneMap(ctx context.Context, impression catalog.ID) (*Map, error)
	// PickReference makes an impression's photograph the one the others of its
	// state are measured against.
	PickReference(ctx context.Context, impression, photo catalog.ID) error
	// Sheets registers two photographs on the plate of the first.
	Sheets(ctx context.Context, a, b catalog.ID, p Progress) (*Pair, error)
	// Compare finds the new and removed work of a state and records it.
	Compare(ctx context.Context, state catalog.ID, p Progress) error
	// Decide records what was decided of a sheet.
	Decide(ctx context.Context, impression catalog.ID, d catalog.Decision) error
	// Forecast says how much of the plate's life is left.
	Forecast(ctx context.Context, plate catalog.ID) (*life.Forecast, error)
	// Outlook says how large an edition it can still give, and what the sheets
	// of its last state are good for.
	Outlook(ctx context.Context, plate catalog.ID, wish life.Wish) (*Outlook, error)

	// Preview draws the entry of a plate as the book will print it.
	Preview(ctx context.Context, plate catalog.ID, page, widthPX int) (image.Image, int, error)
	// BookParts are the parts of the printed catalogue as an imprint says, and
	// what each kind is called in the user's language. PreviewPart draws a page
	// of one of them, and says how many it has.
	BookParts(m *catalog.Imprint) (parts []catalog.BookPart, names map[string]string)
	PreviewPart(ctx context.Context, m *catalog.Imprint, part, page, widthPX int) (image.Image, int, error)
	// LayOut makes the printed catalogue and says what its maker should see
	// to, in sentences.
	LayOut(ctx context.Context, to string, o BookWish, p Progress) (warnings []string, err error)
	// LabelSheets are the label sheets there are. Print makes what is printed
	// for sheets, says which files it made, and what should be seen to.
	LabelSheets() []LabelSheet
	Print(ctx context.Context, x Printing, p Progress) (made, warnings []string, err error)
	Export(ctx context.Context, as, dir, base string, p Progress) error
	Verify(ctx context.Context, p Progress) (string, error)

	// OpenTables reads the tables of a spreadsheet file. PlanTable says what
	// taking one in would do and changes nothing; TakeInTable does it, as one
	// undo step.
	OpenTables(ctx context.Context, path string) ([]cells.Sheet, error)
	PlanTable(ctx context.Context, t cells.Sheet, m sheet.Matching) (*sheet.Plan, error)
	TakeInTable(ctx context.Context, plan *sheet.Plan) error
	// TakeInLiterature takes in a list of literature and says how many works
	// were new, and of each entry that could not be read, why.
	TakeInLiterature(ctx context.Context, path string) (added int, refused []string, err error)
	// TakeInExport takes an exported catalogue into this empty one; originals
	// is the folder of its photographs, "" when it has none.
	TakeInExport(ctx context.Context, dir, originals string, p Progress) error

	// Start begins long work shown in the job strip.
	Start(name string, run func(ctx context.Context, p Progress) error) Job
	Jobs() []Job
	OnJobs(f func())
	// Input tells that the window is in use, so that long work rests.
	Input()
}

// Job is one long work.
type Job interface {
	Cancel()
	Status() JobStatus
}

// JobStatus is where a job stands.
type JobStatus struct {
	Name, What string
	Done       float64
	Waiting    bool
	Finished   bool
	Cancelled  bool
	Err        error
	Left       time.Duration
}

// Hint is what the window knows when photographs are taken in: the plate and
// state in hand.
type Hint struct{ Plate, State catalog.ID }

// Taken is one photograph taken in, with where it is thought to belong.
type Taken struct {
	PhotoID          catalog.ID // empty when the file was refused
	Name             string
	PlateID, StateID catalog.ID
	ImpressionID     catalog.ID   // empty: a new impression
	View             catalog.View // what of the sheet it shows; "" not told, to be asked for
	Sure             float64      // 0..1
	Why              string       // how it was told: "slip", "recognised", "time order", "by hand"
	Words            string       // what that rests on, a sentence
	Refused          string       // why the file cannot be used, a sentence
	Already          bool         // the same bytes were in the catalogue before
	Again            bool         // told before, without where it belongs
	Poor             []string     // what to do about a photograph that is poor for measuring, sentences
}

// Report is what is known of a photograph as a photograph.
type Report struct {
	Findings []Finding
	// Corners is the plate mark as fractions of the upright picture's sides,
	// when HasMark.
	Corners  [4][2]float64
	HasMark  bool
	MarkBy   string
	MarkSure float64
	Refused  string      // why it cannot be measured, a sentence
	Wedge    *WedgeFacts // of a photograph of a grey wedge
}

// Finding is one line of a quality report.
type Finding struct {
	What   string
	Value  string
	Stars  int // 0..4
	Advice string
}

// Pair is two sheets on one plate's millimetres.
type Pair struct {
	A, B     image.Image
	PxPerMM  float64
	OX, OY   float64 // place of the pictures' top-left edge, mm
	Residual float64 // registration, rms mm
	Words    string  // how well they lie on one another, or why not
}

// Map is a grid of values over the plate, row by row from the top-left corner
// of its mark; NaN cannot be told.
type Map struct {
	StepMM     float64
	Rows, Cols int
	V          []float64
}

// BookWish is how the printed catalogue is wanted.
type BookWish struct {
	Format      int // of BookFormats
	ForPrinter  bool
	Profile     string // the printer's colour profile, a file
	ShowPrivate bool   // name private holders
}
