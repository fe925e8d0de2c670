package exchange

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"strings"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/iiif"
	"pullbook/catalog/exchange/lido"
	"pullbook/catalog/exchange/linkedart"
	"pullbook/catalog/exchange/tables"
	"pullbook/catalog/exchange/webpages"
)

// Formats a catalogue can be written in.
const (
	AsLinkedArt = "linked-art"
	AsLIDO      = "lido"
	AsIIIF      = "iiif"
	AsCSV       = "csv"
	AsWeb       = "web"
)

// Formats lists them in the order they are offered.
func Formats() []string { return []string{AsLinkedArt, AsLIDO, AsIIIF, AsCSV, AsWeb} }

// Pictures makes picture files for an export; see entry.Pictures.
type Pictures = entry.Pictures

// Piece is one JPEG file to be made from a photograph; see entry.Piece.
type Piece = entry.Piece

// Options say how a catalogue is written. The zero Options are ready to use.
type Options struct {
	// Base is the web address at which the export will stand, http or https.
	// Linked Art and LIDO do without one; IIIF then assumes iiif.DefaultBase.
	// The other formats take none.
	Base string
	// Progress is told the share done, 0 to 1; may be nil.
	Progress func(float64)
}

// Write writes a catalogue into the folder dir in one of Formats. pics may be
// nil for formats without pictures. The error is a sentence.
func Write(ctx context.Context, as, dir string, snap *catalog.Snapshot, pics Pictures, progress func(float64)) error {
	return WriteWith(ctx, as, dir, snap, pics, Options{Progress: progress})
}

// WriteWith is Write with options.
func WriteWith(ctx context.Context, as, dir string, snap *catalog.Snapshot, pics Pictures, o Options) error {
	if err := checkBase(as, o.Base); err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w", dir, err)
	}
	switch as {
	case AsCSV:
		return tables.Write(ctx, dir, snap, o.Progress)
	case AsLinkedArt:
		return linkedart.Write(ctx, dir, entry.New(snap), linkedart.Options{Base: o.Base, Progress: o.Progress})
	case AsLIDO:
		return lido.Write(ctx, dir, entry.New(snap), lido.Options{Base: o.Base, Progress: o.Progress})
	case AsIIIF:
		if pics == nil {
			return fmt.Errorf("an export as IIIF shows pictures, but none can be made here")
		}
		return iiif.Write(ctx, dir, entry.New(snap), pics, iiif.Options{Base: o.Base, Progress: o.Progress})
	case AsWeb:
		return webpages.Write(ctx, dir, entry.New(snap), pics, webpages.Options{Progress: o.Progress})
	}
	return fmt.Errorf("%q is no format of export; there are %s", as, strings.Join(Formats(), ", "))
}

// checkBase refuses an address that identifiers cannot be made from.
func checkBase(as, base string) error {
	if base == "" {
		return nil
	}
	if as == AsCSV || as == AsWeb {
		return fmt.Errorf("an export as %s stands at no address; leave the address out", as)
	}
	u, err := url.Parse(base)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "" || u.RawQuery != "" || u.Fragment != "" {
		return fmt.Errorf("%q is not the address of a folder on the web; give one such as https://prints.example/catalogue", base)
	}
	return nil
}
