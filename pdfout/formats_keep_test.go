package pdfout

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestBooksToLookAt leaves the sample in each format where PULLBOOK_KEEP asks.
func TestBooksToLookAt(t *testing.T) {
	dir := os.Getenv("PULLBOOK_KEEP")
	if dir == "" {
		t.Skip("PULLBOOK_KEEP is not set")
	}
	snap, pic := theSample(t)
	for _, f := range Formats() {
		path := filepath.Join(dir, "book-"+strings.ReplaceAll(f.Name, " ", "")+".pdf")
		if _, err := WriteBook(context.Background(), path, snap, BookOptions{Format: f, Picture: pic}); err != nil {
			t.Error(err)
		}
	}
}
