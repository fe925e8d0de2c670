package batch

import (
	"flag"
	"slices"
	"strings"

	"pullbook/app/studio"
	"pullbook/catalog"
	"pullbook/catalog/store"
	"pullbook/pdfout"
)

var sampleCommand = command{
	name: "sample", line: "DIR", summary: "write the sample catalogue", run: runSample,
	help: `
Writes the sample catalogue, an invented press with invented plates, into a new
folder DIR. Open it with 'pullbook DIR'.`,
}

func runSample(c *call) error {
	if err := c.parse(func(*flag.FlagSet) {}); err != nil {
		return err
	}
	if len(c.args) != 1 {
		return usage("name one new folder for the sample catalogue")
	}
	s, err := studio.WriteSample(c.ctx, c.args[0], studio.Options{Who: "batch"}, nil)
	if err != nil {
		return err
	}
	dir := s.Dir()
	if err := s.Close(); err != nil {
		return err
	}
	c.say("The sample catalogue is in %s.", dir)
	return nil
}

var layOutCommand = command{
	name: "lay-out", line: "--catalogue DIR --to OUT.pdf [--format large|small|A4|letter] [--language TAG] [--for-the-printer [--profile PRINTER.icc]]",
	summary: "make the printed catalogue", run: runLayOut,
	help: `
Lays out the whole catalogue as a book and writes it as a PDF, whole or not at
all, its parts put together as the catalogue says. What its maker should see to
is listed afterwards.

    --catalogue DIR     the catalogue's folder
    --to OUT.pdf        where the book is written
    --format NAME       page: large 230 x 300 mm, small 170 x 240 mm, A4, letter
    --language TAG      language of the book's own words and of hyphenation: en, de;
                        else that of the catalogue's imprint
    --for-the-printer   with bleed and crop marks; --profile gives the printer's
                        colour profile

What a seller of prints must state is decided by local law; the book prints the
facts usually asked for, and does not say that a law is met.`,
}

func runLayOut(c *call) error {
	var format, profile, language string
	var printer bool
	w, err := c.parseWriting("OUT.pdf", func(f *flag.FlagSet) {
		f.StringVar(&format, "format", "large", "")
		f.StringVar(&profile, "profile", "", "")
		f.StringVar(&language, "language", "", "")
		f.BoolVar(&printer, "for-the-printer", false, "")
	})
	formats := map[string]pdfout.Format{"large": pdfout.Large, "small": pdfout.Small, "a4": pdfout.A4, "letter": pdfout.Letter}
	page, known := formats[strings.ToLower(format)]
	switch {
	case err != nil:
		return err
	case !known:
		return usage("there is no page format %q; there are large, small, A4 and letter", format)
	}
	o := pdfout.BookOptions{Format: page, Language: language}
	if printer {
		o.Preset, o.ProfilePath = pdfout.ForThePrinter, profile
	}
	return c.print(w, func(s *studio.Studio) (pdfout.Report, error) {
		return s.LayOut(c.ctx, w.to, o, c.progress())
	})
}

var recordCommand = command{
	name: "record", line: "--catalogue DIR --impression ID --to OUT.pdf", summary: "make the record of one impression", run: runRecord,
	help: `
Writes what is known of one impression on a page or two: for the buyer, the
lender, or the drawer. --impression takes the identifier that labels and exports
carry; 'pullbook labels' lists them.`,
}

func runRecord(c *call) error {
	var impression string
	w, err := c.parseWriting("OUT.pdf", func(f *flag.FlagSet) { f.StringVar(&impression, "impression", "", "") })
	switch {
	case err != nil:
		return err
	case impression == "":
		return usage("the impression is missing; give --impression ID")
	}
	id, ok := pdfout.ReadCode(impression)
	if !ok {
		id = catalog.ID(impression)
	}
	return c.print(w, func(s *studio.Studio) (pdfout.Report, error) {
		if _, err := s.Store().Impression(c.ctx, id); err != nil {
			return pdfout.Report{}, err
		}
		return s.LayOutRecord(c.ctx, w.to, id)
	})
}

var labelsCommand = command{
	name: "labels", line: "--catalogue DIR [--plate NUMBER] [--start N] --to OUT.pdf", summary: "print labels and slips with codes for impressions", run: runLabels,
	help: `
Writes a label for each impression, with a code that files a photograph by
itself when the label lies beside the sheet. The identifiers are listed.

    --plate NUMBER   only of this catalogue number
    --start N        place of the first label on its sheet, from 1`,
}

func runLabels(c *call) error {
	var number string
	start := 1
	w, err := c.parseWriting("OUT.pdf", func(f *flag.FlagSet) {
		f.StringVar(&number, "plate", "", "")
		f.IntVar(&start, "start", 1, "")
	})
	switch {
	case err != nil:
		return err
	case start < 1:
		return usage("places on a sheet of labels are counted from 1")
	}
	return c.print(w, func(s *studio.Studio) (pdfout.Report, error) {
		ids, err := c.listImpressions(s, number)
		if err != nil {
			return pdfout.Report{}, err
		}
		if len(ids) == 0 {
			return pdfout.Report{}, studio.Refuse("There is no impression to print a label for; enter impressions first, or name another plate.")
		}
		return s.LayOutLabels(c.ctx, w.to, ids, start-1)
	})
}

// listImpressions lists the impressions of the plate with a catalogue number,
// or of all plates for "", and gives their identifiers.
func (c *call) listImpressions(s *studio.Studio, number string) ([]catalog.ID, error) {
	plates, err := s.Store().Plates(c.ctx, store.PlateFilter{})
	if err != nil {
		return nil, err
	}
	var ids []catalog.ID
	for _, p := range plates {
		if number != "" && p.Number.String() != number {
			continue
		}
		sheets, err := s.Store().Impressions(c.ctx, store.ImpressionFilter{PlateID: p.ID})
		if err != nil {
			return nil, err
		}
		for _, i := range sheets {
			ids = append(ids, i.ID)
			c.say("%s  %s  %s, %s", i.ID, p.Number, p.Title, i.Name())
		}
	}
	return ids, nil
}

var exportCommand = command{
	name: "export", line: "--catalogue DIR --as linked-art|lido|iiif|csv|web --to DIR [--base ADDRESS]", summary: "write the catalogue for others", run: runExport,
	help: `
Writes the catalogue into a folder:

    linked-art   Linked Art 1.0, JSON-LD, one file a record
    lido         LIDO 1.1, one XML file
    iiif         IIIF Presentation 3.0, with its pictures
    web          pages to be read with a browser
    csv          tables with a data dictionary, everything, to the letter

--base is the web address at which the folder will stand. IIIF needs it for its
pictures to be found; Linked Art and LIDO take their identifiers from it.

Private holders are named nowhere but in csv, which is your own copy.`,
}

func runExport(c *call) error {
	var as, base string
	w, err := c.parseWriting("DIR", func(f *flag.FlagSet) {
		f.StringVar(&as, "as", "", "")
		f.StringVar(&base, "base", "", "")
	})
	switch {
	case err != nil:
		return err
	case !slices.Contains(studio.Exports(), as):
		return usage("say what to write: --as %s", strings.Join(studio.Exports(), "|"))
	}
	return c.read(w.catalogue, func(s *studio.Studio) error {
		if err := s.ExportAt(c.ctx, as, w.to, base, c.progress()); err != nil {
			return err
		}
		c.say("The catalogue is written as %s into %s.", as, w.to)
		return nil
	})
}

var verifyCommand = command{
	name: "verify", line: "--catalogue DIR", summary: "read every byte, check every rule", run: runVerify,
	help: `
Reads the database, every photograph and the newest backup to the last byte, and
checks every rule. Changes nothing. The exit code is 1 when something is wrong.`,
}

func runVerify(c *call) error {
	var dir string
	err := c.parse(func(f *flag.FlagSet) { f.StringVar(&dir, "catalogue", "", "") })
	if err != nil {
		return err
	}
	if err := c.noMore(); err != nil {
		return err
	}
	return c.read(dir, func(s *studio.Studio) error {
		r, err := s.Verify(c.ctx, nil)
		if err != nil {
			return err
		}
		c.say("%s", strings.TrimSpace(studio.VerifyWords(r)))
		if !r.Clean() {
			return errShort
		}
		return nil
	})
}

var packCommand = command{
	name: "pack", line: "--catalogue DIR --to NAME.pullbook.zip", summary: "put a whole catalogue into one file", run: runPack,
	help: `
Writes the catalogue with all its photographs into one file, with a list of
hashes, to be sent or put away. 'pullbook unpack' makes a catalogue of it again,
and so does opening it from the desktop, which knows it by its ending
.pullbook.zip. Any program for ZIP archives can look into it.`,
}

func runPack(c *call) error {
	w, err := c.parseWriting("NAME"+store.PackedSuffix, nil)
	if err != nil {
		return err
	}
	return c.read(w.catalogue, func(s *studio.Studio) error {
		if err := s.Pack(c.ctx, w.to, nil); err != nil {
			return err
		}
		c.say("The catalogue is packed into %s.", w.to)
		return nil
	})
}

var unpackCommand = command{
	name: "unpack", line: "NAME.pullbook.zip --to DIR", summary: "make a catalogue of a packed file", run: runUnpack,
	help: `
Makes a catalogue folder of a packed file and checks every hash. DIR must not
exist yet.`,
}

func runUnpack(c *call) error {
	var to string
	err := c.parse(func(f *flag.FlagSet) { f.StringVar(&to, "to", "", "") })
	switch {
	case err != nil:
		return err
	case len(c.args) != 1 || to == "":
		return usage("give the packed file and the new folder: NAME.pullbook.zip --to DIR")
	}
	if err := studio.Unpack(c.ctx, c.args[0], to, nil); err != nil {
		return err
	}
	c.say("The catalogue is in %s.", to)
	return nil
}
