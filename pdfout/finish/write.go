package finish

import (
	"bytes"
	"compress/zlib"
	"context"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
	"os"
	"sort"
	"time"

	"pullbook/pdfout/jpegfile"
	"pullbook/pdfout/typeset"
)

// Options say what the finished file is.
type Options struct {
	Title, Author, Subject string
	Language               string // BCP 47
	Created                time.Time
	Archive                bool   // PDF/A-2b with sRGB; else PDF/X-4 where ICC is given
	ICC                    []byte // the printer's profile
	ICCName                string // how the printer names it
	Labels                 string // body of the page label tree
	Faces                  []*typeset.Face
	Pictures               []Picture // by the number in the stubs
}

// Picture is a picture file and its head.
type Picture struct {
	Path string
	Info jpegfile.Info
}

// Write finishes src, gofpdf's output, into w.
func Write(ctx context.Context, w io.Writer, src []byte, o Options) error {
	s, err := parse(src)
	if err != nil {
		return fmt.Errorf("the PDF could not be finished: %w", err)
	}
	s.nameFonts(o.Faces)
	if err := s.ownResources(); err != nil {
		return fmt.Errorf("the PDF could not be finished: %w", err)
	}
	s.countOutline()
	renumber, err := s.placePictures(o)
	if err != nil {
		return err
	}
	if err := s.describe(o); err != nil {
		return err
	}
	return s.write(ctx, w, renumber)
}

// documentID names the document by what it says of itself.
func documentID(o Options) string {
	sum := sha256.Sum256([]byte(o.Title + "\x00" + o.Author + "\x00" + o.Created.UTC().String()))
	return fmt.Sprintf("%x-%x-%x-%x-%x", sum[:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}

// output counts and hashes what is written.
type output struct {
	w   io.Writer
	n   int64
	sum hash.Hash
	err error
	zip deflaters
	buf []byte // for copying pictures
}

func (o *output) Write(b []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.w.Write(b)
	o.sum.Write(b[:n])
	o.n += int64(n)
	o.err = err
	return n, err
}

// write writes the objects that can be reached, then table and trailer.
func (s *source) write(ctx context.Context, w io.Writer, renumber map[int]int) error {
	order := s.reachable()
	for i, n := range order {
		if to, ok := renumber[n]; ok {
			order[i] = to
		}
	}
	// Numbers now name places: sorted, and closed up to run from 1.
	back := map[int]int{}
	for from, to := range renumber {
		back[to] = from
	}
	sort.Ints(order)
	final := map[int]int{} // original number -> written number
	for i, n := range order {
		if from, ok := back[n]; ok {
			n = from
		}
		final[n] = i + 1
	}
	out := &output{w: w, sum: sha256.New(), zip: deflaters{}, buf: make([]byte, 1<<18)}
	fmt.Fprint(out, "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	offsets := make([]int64, len(order)+1)
	for i, n := range order {
		if from, ok := back[n]; ok {
			n = from
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		offsets[i+1] = out.n
		if err := s.objects[n].write(out, i+1, final); err != nil {
			return err
		}
	}
	table := out.n
	id := out.sum.Sum(nil)[:16]
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", len(offsets))
	for _, off := range offsets[1:] {
		fmt.Fprintf(out, "%010d 00000 n \n", off)
	}
	fmt.Fprintf(out, "trailer\n<</Size %d /Root %d 0 R /Info %d 0 R /ID [<%x><%x>]>>\nstartxref\n%d\n%%%%EOF\n",
		len(offsets), final[s.root], final[s.info], id, id, table)
	return out.err
}

// reachable lists the objects the document refers to, from its catalogue and
// its information dictionary: the templates that registered glyphs are not.
func (s *source) reachable() []int {
	seen := map[int]bool{}
	queue := []int{s.root, s.info}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		o := s.objects[n]
		if o == nil || seen[n] {
			continue
		}
		seen[n] = true
		eachReference(o.dict, func(to int) int {
			queue = append(queue, to)
			return to
		})
	}
	var out []int
	for n := range seen {
		out = append(out, n)
	}
	return out
}

// write writes one object under its final number.
func (o *object) write(w *output, num int, final map[int]int) error {
	fmt.Fprintf(w, "%d 0 obj\n", num)
	d := eachReference(o.dict, func(n int) int { return final[n] })
	switch {
	case !o.stored:
		w.Write(d)
		fmt.Fprint(w, "\nendobj\n")
		return w.err
	case o.picture != "":
		if err := o.writePicture(w, d); err != nil {
			return err
		}
	default:
		data := o.stream
		if !o.keep {
			var err error
			if d, data, err = w.zip.compress(d, data); err != nil {
				return err
			}
		}
		fmt.Fprintf(w, "%s /Length %d>>\nstream\n", open(d), len(data))
		w.Write(data)
	}
	fmt.Fprint(w, "\nendstream\nendobj\n")
	return w.err
}

// open takes the closing brackets off a dictionary.
func open(d []byte) []byte { return bytes.TrimSuffix(bytes.TrimSpace(d), []byte(">>")) }

// writePicture copies a picture file into the stream.
func (o *object) writePicture(w *output, d []byte) error {
	f, err := os.Open(o.picture)
	if err != nil {
		return fmt.Errorf("the picture %s cannot be opened: %w", o.picture, err)
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		return fmt.Errorf("the picture %s cannot be read: %w", o.picture, err)
	}
	fmt.Fprintf(w, "%s /Length %d>>\nstream\n", open(d), st.Size())
	n, err := io.CopyBuffer(w, struct{ io.Reader }{f}, w.buf)
	if err != nil {
		return fmt.Errorf("the picture %s cannot be copied: %w", o.picture, err)
	}
	if n != st.Size() || o.size > 0 && n != o.size {
		return fmt.Errorf("the picture %s changed while it was copied; make the PDF again", o.picture)
	}
	return nil
}

// deflaters holds one compressor for each level: they are large, and made once.
type deflaters map[int]*zlib.Writer

// compress deflates a stream; what gofpdf deflated fast is done again, better.
func (z deflaters) compress(d, data []byte) ([]byte, []byte, error) {
	level := zlib.DefaultCompression
	if bytes.Contains(d, []byte("/Filter /FlateDecode")) {
		r, err := zlib.NewReader(bytes.NewReader(data))
		if err != nil {
			return nil, nil, fmt.Errorf("a compressed stream is damaged: %w", err)
		}
		if data, err = io.ReadAll(r); err != nil {
			return nil, nil, fmt.Errorf("a compressed stream is damaged: %w", err)
		}
		level = zlib.BestCompression
	} else {
		d = append(append([]byte(nil), open(d)...), " /Filter /FlateDecode>>"...)
	}
	var b bytes.Buffer
	w := z[level]
	if w == nil {
		var err error
		if w, err = zlib.NewWriterLevel(&b, level); err != nil {
			return nil, nil, err
		}
		z[level] = w
	} else {
		w.Reset(&b)
	}
	if _, err := w.Write(data); err != nil {
		return nil, nil, err
	}
	if err := w.Close(); err != nil {
		return nil, nil, err
	}
	return d, b.Bytes(), nil
}
