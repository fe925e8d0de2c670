package accuracy

import (
	"context"
	"io"
)

// states measures what needs several states of a plate: changes, which state,
// and order of printing.
func (f *Figures) states(_ context.Context, _ Plate, _ io.Writer) error { return nil }
