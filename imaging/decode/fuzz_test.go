package decode

import (
	"context"
	"encoding/binary"
	"errors"
	"flag"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

var mutateFor = flag.Duration("mutate", time.Second, "how long TestMutated goes on")

// seeds are small files of the decoder set and two that once cost memory.
func seeds() [][]byte {
	var out [][]byte
	for _, pattern := range []string{"made_here/*", "png_suite/*", "other_formats/*", "tiff/*", "progressive_odd/*"} {
		names, _ := filepath.Glob(filepath.Join(shared, "decoder", pattern))
		for _, n := range names {
			if b, err := os.ReadFile(n); err == nil && len(b) < 12_000 {
				out = append(out, b)
			}
		}
	}
	return append(out, []byte("II*\x00\x00\x00\x00\x10"), []byte("\xff\xd8\xff\xe2\x00\x10ICC_PROFILE\x00\x01\x01"))
}

// probe reads bytes as a file: a picture within its own bounds, or an *Error
// with a sentence. A panic, in our goroutine or another, ends the test.
func probe(t *testing.T, path string, b []byte) (picture bool) {
	t.Helper()
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	if info, err := Config(path); err == nil && info.Width*info.Height > 1_000_000 {
		return false // decoding so much would only slow the search down
	}
	p, err := Read(context.Background(), path)
	if err != nil {
		var e *Error
		if !errors.As(err, &e) || e.Sentence == "" {
			t.Fatalf("error without a sentence: %v", err)
		}
		return false
	}
	pix, w, h, err := p.Luminance(context.Background())
	if err != nil || len(pix) != w*h || len(pix) == 0 {
		t.Fatalf("luminance of %dx%d: %d, %v", w, h, len(pix), err)
	}
	p.TopCode(w-1, h-1)
	p.LinearRGB(0, h-1)
	if p.RGBA(50).Bounds().Empty() {
		t.Fatal("empty proxy")
	}
	return true
}

// FuzzRead searches for files that do harm.
func FuzzRead(f *testing.F) {
	for _, b := range seeds() {
		f.Add(b)
	}
	path := filepath.Join(f.TempDir(), "fuzz.jpg")
	f.Fuzz(func(t *testing.T, b []byte) { probe(t, path, b) })
}

// TestMutated damages the files of the set at random, always in the same way,
// for a second or for as long as -mutate says.
func TestMutated(t *testing.T) {
	all := seeds()
	if len(all) < 100 {
		t.Skip("the decoder set is not beside the project")
	}
	r := rand.New(rand.NewPCG(1, 2))
	path := filepath.Join(t.TempDir(), "mutated.jpg")
	tried, pictures := 0, 0
	for start := time.Now(); time.Since(start) < *mutateFor; tried++ {
		b := slices.Clone(all[r.IntN(len(all))])
		for range 1 + r.IntN(4) {
			b = damage(r, b)
		}
		if r.IntN(4) > 0 {
			if f, _ := sniff(b[:min(len(b), sniffLen)]); f == PNG {
				mendPNG(b)
			}
		}
		if probe(t, path, b) {
			pictures++
		}
	}
	t.Logf("%d damaged files: %d still pictures, the others refused", tried, pictures)
}

// mendPNG makes the checksums of a PNG right again, so that damage gets past
// them to the decoder.
func mendPNG(b []byte) {
	for at := 8; at+12 <= len(b); {
		n := int(binary.BigEndian.Uint32(b[at:]))
		if n < 0 || n > len(b)-at-12 {
			return
		}
		binary.BigEndian.PutUint32(b[at+8+n:], crc32.ChecksumIEEE(b[at+4:at+8+n]))
		at += 12 + n
	}
}

// damage changes a few bytes: a flip, a number that means trouble, a cut, a
// piece doubled or moved.
func damage(r *rand.Rand, b []byte) []byte {
	if len(b) < 8 {
		return append(b, byte(r.Uint32()))
	}
	// Heads are where the decisions are made: damage them more often.
	at := r.IntN(len(b) - 4)
	if r.IntN(2) == 0 {
		at = r.IntN(min(len(b)-4, 400))
	}
	switch r.IntN(6) {
	case 0:
		b[at] ^= 1 << r.IntN(8)
	case 1:
		b[at] = byte(r.Uint32())
	case 2:
		odd := []uint32{0, 1, 0xff, 0x7fff, 0xffff, 0x10000, 0x7fffffff, 0x80000000, 0xffffffff}
		binary.BigEndian.PutUint32(b[at:], odd[r.IntN(len(odd))])
	case 3:
		binary.LittleEndian.PutUint16(b[at:], uint16(r.Uint32()>>r.IntN(17)))
	case 4:
		b = b[:at+4]
	case 5:
		n := min(r.IntN(64), len(b)-at)
		to := r.IntN(len(b))
		b = append(b[:to:to], append(append([]byte{}, b[at:at+n]...), b[to:]...)...)
	}
	return b
}
