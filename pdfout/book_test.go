package pdfout

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// TestBook writes the sample book; with PULLBOOK_KEEP set to a folder it is
// left there to be looked at.
func TestBook(t *testing.T) {
	dir := t.TempDir()
	snap, pic := sampleBook(t, dir, 8)
	out := filepath.Join(dir, "book.pdf")
	if keep := os.Getenv("PULLBOOK_KEEP"); keep != "" {
		out = filepath.Join(keep, "book.pdf")
	}
	rep, err := WriteBook(context.Background(), out, snap, BookOptions{Picture: pic})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", rep)
}
