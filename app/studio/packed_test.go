package studio

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A packed catalogue opens into a folder beside it, and never over one.
func TestOpenPacked(t *testing.T) {
	dir := t.TempDir()
	s, err := Create(filepath.Join(dir, "Own.pullbook"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	packed := filepath.Join(dir, "Sent.pullbook.zip")
	if err := s.Pack(context.Background(), packed, nil); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if !IsPacked(packed) || IsPacked(filepath.Join(dir, "Own.pullbook")) {
		t.Error("the ending of a packed catalogue is not told from that of a folder")
	}
	s, err = OpenPacked(context.Background(), packed, Options{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if want := filepath.Join(dir, "Sent.pullbook"); s.Dir() != want {
		t.Errorf("opened %s, want %s", s.Dir(), want)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := OpenPacked(context.Background(), packed, Options{}, nil); err == nil || !strings.Contains(err.Error(), "already") {
		t.Errorf("opened over the folder beside it: %v", err)
	}
	if after, _ := os.ReadDir(dir); len(after) != len(before) {
		t.Error("a refusal left something behind")
	}
}
