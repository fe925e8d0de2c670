package notation

// Flag is one remark about a text that was read. Its string is a whole
// sentence that can be shown as it stands.
type Flag string

// Flags about any text.
const (
	// FlagEmpty: there was no text.
	FlagEmpty Flag = "Nothing is written here."
	// FlagUnread: the text follows no notation this package knows.
	FlagUnread Flag = "This text could not be read; it is kept as written."
	// FlagMoreText: more is written than the value read; it stays in the text.
	FlagMoreText Flag = "More is written here than the value read; the rest is kept in the text."
	// FlagSeveral: the text holds several statements and the first was read.
	FlagSeveral Flag = "The text makes several statements; the first is the one read."
)

// Flags about dates.
const (
	// FlagNoDate: the text says that the date is not known.
	FlagNoDate Flag = "The text says that there is no date or that it is not known."
	// FlagYearOrMonth: "1911-12" is two years or a month of one.
	FlagYearOrMonth Flag = "Read as two years; it could also be a year and a month."
	// FlagDayOrMonth: "6/4/1930" may put the day or the month first.
	FlagDayOrMonth Flag = "Day and month could stand in either order; both days are kept as possible."
	// FlagDecadeOrCentury: "1900s".
	FlagDecadeOrCentury Flag = "Read as the whole century; its first ten years may be meant."
	// FlagReversed: "1950-1940".
	FlagReversed Flag = "The dates run backwards."
	// FlagNoSuchDay: 31 April, or a thirteenth month.
	FlagNoSuchDay Flag = "The calendar has no such day; correct it, or write the month or the year alone."
	// FlagPartOfPeriod: "early 1620s"; the reading covers the whole period.
	FlagPartOfPeriod Flag = "Only a part of the period is meant (early, middle, late); the reading covers the whole of it."
	// FlagOtherEvent: the text also dates something else, such as a later printing.
	FlagOtherEvent Flag = "The text also dates another event; only the making is read."
	// FlagNamedPeriod: the span is that of a named period of history.
	FlagNamedPeriod Flag = "The span is that of a named period."
	// FlagBeforeChrist: the text counts years before the common era.
	FlagBeforeChrist Flag = "Years before the common era; the format counts a year 0."
)

// Flags about sizes.
const (
	// FlagDisagree: inches and centimetres say different things.
	FlagDisagree Flag = "Inches and centimetres disagree; the metric figures were read."
	// FlagNoUnit: figures without a unit.
	FlagNoUnit Flag = "No unit is written; the figures were not read as a size."
	// FlagSwapped: the two systems agree only when one pair is turned round.
	FlagSwapped Flag = "Height and width stand in opposite order in the two units."
	// FlagInchesOnly: converted from inches.
	FlagInchesOnly Flag = "Only inches are written; millimetres are converted from them."
	// FlagIrregular: the text calls the shape irregular.
	FlagIrregular Flag = "The sheet or plate is called irregular."
	// FlagApproximate: the text calls the size approximate.
	FlagApproximate Flag = "The size is called approximate."
	// FlagEach: the size is that of each of several pieces.
	FlagEach Flag = "The size is that of each of several pieces."
	// FlagOneFigure: a single figure, such as a diameter.
	FlagOneFigure Flag = "Only one figure is written; height and width are not both known."
	// FlagOddFraction: a fraction of an inch that no ruler shows.
	FlagOddFraction Flag = "A fraction of an inch is written oddly."
	// FlagOddSize: a size no print has.
	FlagOddSize Flag = "The size is outside what a plate or sheet can have."
	// FlagWideFirst: the text names the width first; it was turned.
	FlagWideFirst Flag = "The text gives the width first; it is kept as height by width."
)

// Flags about states.
const (
	// FlagAboveTotal: "v/iv".
	FlagAboveTotal Flag = "The state is higher than the number of states known."
	// FlagArabicState: "2/4" reads as a number within an edition.
	FlagArabicState Flag = "Arabic figures read as a number within an edition: is a state meant?"
	// FlagZero: a count of nought.
	FlagZero Flag = "Nought cannot be counted here."
	// FlagNotRoman: letters that are no roman figure.
	FlagNotRoman Flag = "This is not a proper roman figure."
	// FlagHalf: one side of the stroke is missing.
	FlagHalf Flag = "One of the two figures is missing."
	// FlagRange: several states at once.
	FlagRange Flag = "A range of states is written; one sheet is in one state."
	// FlagUnnumberedState: a state without its number ("later state").
	FlagUnnumberedState Flag = "A state is named without its number."
	// FlagSeveralCounts: catalogues count differently.
	FlagSeveralCounts Flag = "Several catalogues count the states differently; each count belongs to its catalogue."
)

// Flags about editions.
const (
	// FlagAboveSize: "31/30".
	FlagAboveSize Flag = "The number is higher than the size of the edition."
	// FlagRomanKind: roman figures alone do not say what kind of impression it is.
	FlagRomanKind Flag = "Roman figures alone do not say whether this is a proof or a numbered impression: choose the kind."
	// FlagSeparator: "7-30".
	FlagSeparator Flag = "The figures are not parted by a stroke, so they were not read as a number within an edition."
	// FlagMaybeDate: "5/98" after a signature.
	FlagMaybeDate Flag = "This may be a month and a year rather than a number within an edition."
	// FlagStockNumber: "#249/ 244".
	FlagStockNumber Flag = "This looks like a stock or mount number rather than a number within an edition."
	// FlagSpreadsheetDate: "10/Jan".
	FlagSpreadsheetDate Flag = "A spreadsheet seems to have turned the number into a date; look it up on the sheet."
	// FlagSizeOnly: only the size of the edition is written.
	FlagSizeOnly Flag = "Only the size of the edition is written, not a number within it."
	// FlagSeveralEditions: two sizes of edition.
	FlagSeveralEditions Flag = "More than one edition is described; the first is the one read."
)

// doubts are the flags under which a value must not be taken without asking.
// The others only remark on it.
var doubts = map[Flag]bool{
	FlagEmpty: true, FlagUnread: true, FlagNoUnit: true, FlagSwapped: true, FlagDisagree: true,
	FlagOneFigure: true, FlagOddFraction: true, FlagOddSize: true, FlagAboveTotal: true,
	FlagArabicState: true, FlagZero: true, FlagNotRoman: true, FlagHalf: true, FlagRange: true,
	FlagUnnumberedState: true, FlagSeveralCounts: true, FlagAboveSize: true, FlagRomanKind: true,
	FlagSeparator: true, FlagMaybeDate: true, FlagStockNumber: true, FlagSpreadsheetDate: true,
	FlagSizeOnly: true, FlagSeveralEditions: true, FlagNoDate: true, FlagYearOrMonth: true,
	FlagDayOrMonth: true, FlagReversed: true, FlagNoSuchDay: true,
}

// Doubtful reports whether a value carrying f should be confirmed by a person
// before it is relied on.
func (f Flag) Doubtful() bool { return doubts[f] }

// Flags are all remarks about one text, in the order they arose.
type Flags []Flag

// Has reports whether f is among the flags.
func (fs Flags) Has(f Flag) bool {
	for _, g := range fs {
		if g == f {
			return true
		}
	}
	return false
}

// Doubtful reports whether any flag casts doubt on the value.
func (fs Flags) Doubtful() bool {
	for _, f := range fs {
		if f.Doubtful() {
			return true
		}
	}
	return false
}

// add appends f once.
func (fs *Flags) add(f Flag) {
	if !fs.Has(f) {
		*fs = append(*fs, f)
	}
}
