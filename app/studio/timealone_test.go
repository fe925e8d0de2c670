package studio

import (
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
	"time"

	"pullbook/catalog"
)

// exifOf is an APP1 segment with the camera's model and the time of taking, as
// CIPA DC-008 (EXIF 2.32) lays it out: a TIFF header, the 0th IFD with Model
// (0x0110) and the pointer (0x8769) to the Exif IFD with DateTimeOriginal
// (0x9003). Little-endian; offsets count from the TIFF header. The model must
// have more than four letters, or it would stand in its entry.
func exifOf(model string, taken time.Time) []byte {
	le := binary.LittleEndian
	entry := func(b []byte, tag, kind uint16, n, v uint32) []byte {
		return le.AppendUint32(le.AppendUint32(le.AppendUint16(le.AppendUint16(b, tag), kind), n), v)
	}
	model += "\x00"
	when := taken.Format("2006:01:02 15:04:05") + "\x00"
	const ifd0, ascii, long = 8, 2, 4
	exif := uint32(ifd0 + 2 + 2*12 + 4)
	text := exif + 2 + 12 + 4
	t := append([]byte("II*\x00"), le.AppendUint32(nil, ifd0)...)
	t = le.AppendUint16(t, 2)
	t = entry(t, 0x0110, ascii, uint32(len(model)), text+uint32(len(when)))
	t = entry(t, 0x8769, long, 1, exif)
	t = le.AppendUint32(t, 0)
	t = le.AppendUint16(t, 1)
	t = entry(t, 0x9003, ascii, uint32(len(when)), text)
	t = le.AppendUint32(t, 0)
	t = append(append(t, when...), model...)
	body := append([]byte("Exif\x00\x00"), t...)
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(2+len(body))), body...)
}

// TestTimeAlone lays photographs that show nothing to recognise, with the time
// in their files, on a printing day of three sheets.
func TestTimeAlone(t *testing.T) {
	day := time.Date(2031, 5, 4, 10, 0, 0, 0, time.UTC)
	at := func(minutes ...int) (list []time.Time) {
		for _, m := range minutes {
			list = append(list, day.Add(time.Duration(m)*time.Minute))
		}
		return list
	}
	for _, c := range []struct {
		what    string
		taken   []time.Time
		cameras []string // one for all when shorter
		told    bool
	}{
		{"three photographs of three sheets, their files not in order of name", at(140, 120, 130), []string{"A"}, true},
		{"a clock six hours slow", at(-240, -235, -230), []string{"A"}, true},
		{"a clock nine hours fast", at(660, 661, 662), []string{"A"}, true},
		{"a clock set back to its factory's day", []time.Time{time.Date(2015, 1, 1, 0, 0, 1, 0, time.UTC), time.Date(2015, 1, 1, 0, 0, 9, 0, time.UTC), time.Date(2015, 1, 1, 0, 1, 0, 0, time.UTC)}, []string{"A"}, false},
		{"one photograph fewer", at(120, 130), []string{"A"}, false},
		{"one more", at(120, 130, 140, 150), []string{"A"}, false},
		{"two at one second", at(120, 120, 140), []string{"A"}, false},
		{"two cameras, whose clocks nobody compared", at(120, 130, 140), []string{"A", "A", "B"}, false},
		{"a month later", at(120+31*1440, 121+31*1440, 122+31*1440), []string{"A"}, false},
		{"the last on another day", at(120, 130, 140+2*1440), []string{"A"}, false},
	} {
		s, ctx, dir := newCatalogue(t), context.Background(), t.TempDir()
		plate := &catalog.Plate{Number: catalog.Number{N: 1}}
		must(t, s.Save(ctx, "plate", plate))
		state := &catalog.State{PlateID: plate.ID, N: 1}
		must(t, s.Save(ctx, "state", state))
		var sheets []catalog.ID
		for k := range 3 {
			i := &catalog.Impression{PlateID: plate.ID, StateID: state.ID, Pull: 1 + k, PulledAt: day.Add(time.Duration(10*k) * time.Minute)}
			must(t, s.Save(ctx, "sheet", i))
			sheets = append(sheets, i.ID)
		}
		order := map[string]int{} // by file name
		for n, when := range c.taken {
			img := image.NewGray(image.Rect(0, 0, 60, 40))
			img.Pix[n] = 200
			var b bytes.Buffer
			must(t, jpeg.Encode(&b, img, nil))
			whole := append([]byte{0xff, 0xd8}, exifOf("camera "+c.cameras[min(n, len(c.cameras)-1)], when)...)
			name := fmt.Sprintf("p%d.jpg", n)
			must(t, os.WriteFile(filepath.Join(dir, name), append(whole, b.Bytes()[2:]...), 0o644))
			for _, other := range c.taken {
				if other.Before(when) {
					order[name]++
				}
			}
		}
		r, err := s.FileAll(ctx, []string{dir}, FileOptions{}, nil)
		must(t, err)
		if len(r.Filed) != 0 || len(r.Left) != len(c.taken) {
			t.Errorf("%s: %d filed, %d left; time alone must never file", c.what, len(r.Filed), len(r.Left))
		}
		for _, a := range r.Left {
			if a.Photo.TakenAt.IsZero() || a.Photo.Camera == "" {
				t.Fatalf("%s: the file's time or camera is not read: %+v", c.what, a.Photo)
			}
			switch {
			case !c.told && a.How != "":
				t.Errorf("%s: %s is proposed by %s", c.what, a.Photo.Name, a.How)
			case c.told && (a.How != ByTimeOrder || a.ImpressionID != sheets[order[a.Photo.Name]] || a.Sure >= DefaultSure):
				t.Errorf("%s: %s proposed %q, sheet %s, sure %.2f", c.what, a.Photo.Name, a.How, a.ImpressionID, a.Sure)
			}
		}
	}
}
