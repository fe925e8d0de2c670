package webpages

import (
	"context"
	"fmt"

	"pullbook/catalog/exchange/entry"
)

// Options say how the pages are written. The zero Options are ready to use.
type Options struct {
	// Progress is told the share done, 0 to 1; may be nil.
	Progress func(float64)
}

// Write writes the pages into the folder dir. pics may be nil: then the pages
// are written without pictures.
func Write(ctx context.Context, dir string, c *entry.Catalogue, pics entry.Pictures, o Options) error {
	return fmt.Errorf("the web pages cannot be written to %s yet", dir)
}
