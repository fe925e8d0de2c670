package pdfout

import (
	"context"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"pullbook/catalog"
)

// A German book, record, label and day sheet say nothing of themselves in
// English, stand on their pages, and write numbers and dates as German does.
func TestGermanIsPrinted(t *testing.T) {
	snap, pictures := theSample(t)
	s := *snap
	s.Imprint.Language = "de"
	ctx := context.Background()
	book, warnings, err := LayBook(ctx, &s, BookOptions{Picture: pictures})
	if err != nil {
		t.Fatal(err)
	}
	im := s.Impressions[0]
	for i := range s.Impressions {
		if s.Impressions[i].EditionID != "" {
			im = s.Impressions[i]
		}
	}
	record, more, err := LayRecord(ctx, &s, im.ID, RecordOptions{Picture: pictures})
	if err != nil {
		t.Fatal(err)
	}
	labels, _, err := LayLabels(ctx, &s, []catalog.ID{im.ID}, LabelOptions{})
	if err != nil {
		t.Fatal(err)
	}
	day, _, err := LayDaySheet(ctx, &s, DaySheet{PlateID: im.PlateID, StateID: im.StateID, Day: time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC)}, A4)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for name, doc := range map[string]*Document{"book": book, "record": record, "labels": labels, "day": day} {
		nothingCut(t, doc, 0)
		for _, p := range doc.Pages {
			all = append(all, pageText(p))
		}
		if doc.Language != "de" {
			t.Errorf("the %s is in %q", name, doc.Language)
		}
	}
	text := strings.Join(all, "\n")
	for _, w := range []string{"Zustände", "Auflagen", "Abzüge", "Hinweise zur Benutzung", "wahre Größe", "farbverlust", "Angaben, nach denen", "Samstag, 14. März 2026", "Das örtliche Recht entscheidet"} {
		if !strings.Contains(strings.ToLower(text), strings.ToLower(w)) {
			t.Errorf("%q is not printed", w)
		}
	}
	// Texts of the book itself that a German reader must not meet.
	for _, w := range []string{"plate mark", "Index of", "actual size", "not known", "ink loss", "impression record", "Measured against", "Local law decides", "none recorded", "printing day", "Chain lines", "Used for"} {
		if regexp.MustCompile(`(?i)\b` + w + `\b`).MatchString(text) {
			t.Errorf("%q is printed", w)
		}
	}
	for _, w := range append(warnings, more...) {
		if strings.Contains(w, "the picture has") {
			t.Errorf("a warning is in English: %s", w)
		}
	}
}

// The parts stand in the order of the imprint, with its headings and texts;
// those it does not name follow their usual neighbours; those left out are not
// printed.
func TestPartsAreTheImprints(t *testing.T) {
	snap, pictures := theSample(t)
	s := *snap
	s.Imprint.Book = []catalog.BookPart{
		{Kind: "own text", Heading: "For the reader in a hurry", Text: "See *number one* first.\n\n## A head\n\n**Then** the rest."},
		{Kind: "chronology", Heading: "Year by year"}, {Kind: "introduction", Off: true}, {Kind: "of a later version"}}
	doc, _, err := LayBook(context.Background(), &s, BookOptions{Picture: pictures})
	if err != nil {
		t.Fatal(err)
	}
	var heads []string
	for _, b := range doc.Outline {
		if b.Level == 0 {
			heads = append(heads, b.Title)
		}
	}
	got := strings.Join(heads, ", ")
	if strings.Contains(got, "Introduction") || strings.Contains(got, "Chronology") || !strings.Contains(got, "Year by year") ||
		strings.Index(got, "hurry") > strings.Index(got, "Year by year") || strings.Index(got, "Year by year") > strings.Index(got, "The plates") {
		t.Errorf("the parts are %s", got)
	}
	var text strings.Builder
	for _, p := range doc.Pages {
		text.WriteString(pageText(p) + "\n")
	}
	for _, w := range []string{"number one", "Then"} {
		if !strings.Contains(text.String(), w) {
			t.Errorf("%q is not printed", w)
		}
	}
	if strings.Contains(text.String(), "**") {
		t.Error("marks of emphasis are printed")
	}
	if len(PartsOf(&catalog.Imprint{})) != len(DefaultParts()) {
		t.Error("an imprint that says nothing has other parts than the usual")
	}
	if dir := os.Getenv("PULLBOOK_KEEP"); dir != "" {
		if _, err := WriteBook(context.Background(), dir+"/parts.pdf", &s, BookOptions{Picture: pictures}); err != nil {
			t.Fatal(err)
		}
	}
}
