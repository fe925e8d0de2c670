package studio

import (
	"context"
	"sync"

	"pullbook/imaging"
)

// FileResult is what measuring one photograph file came to.
type FileResult struct {
	Path   string
	Result *imaging.Result
}

// ScoreFiles measures photograph files, outside any catalogue, against a
// prepared reference. What cannot be opened or measured is a refused result;
// the error is the context's. Two photographs are in memory at a time.
func ScoreFiles(ctx context.Context, ref *imaging.Reference, paths []string, o imaging.MeasureOptions, p Progress) ([]FileResult, error) {
	results := make([]FileResult, len(paths))
	var mu sync.Mutex
	done := 0
	err := each(ctx, bothCores(), len(paths), func(ctx context.Context, i int) error {
		res, err := measureFile(ctx, ref, paths[i], o)
		if err != nil {
			return err
		}
		mu.Lock()
		defer mu.Unlock()
		results[i] = FileResult{paths[i], res}
		done++
		tell(p, float64(done)/float64(len(paths)), "measured %d of %d photographs", done, len(paths))
		return nil
	})
	return results, err
}

func measureFile(ctx context.Context, ref *imaging.Reference, path string, o imaging.MeasureOptions) (*imaging.Result, error) {
	photo, err := openPhoto(ctx, path)
	if err == nil {
		var res *imaging.Result
		res, err = abandon(ctx, func() (*imaging.Result, error) { return ref.Measure(ctx, photo, o) })
		if err == nil {
			return res, nil
		}
	}
	return refusedResult(ctx, err)
}

// refusedResult turns a refusal into a result; other errors pass.
func refusedResult(ctx context.Context, err error) (*imaging.Result, error) {
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if reason, ok := refusedBecause(err); ok {
		return &imaging.Result{Verdict: imaging.Refused, Reason: reason}, nil
	}
	return nil, err
}

// ReferenceFile prepares a photograph file as a reference; marks are the
// corners of its plate mark in stored pixels, nil to look for them.
func ReferenceFile(ctx context.Context, path string, marks *imaging.Quad, size imaging.Size) (*imaging.Reference, error) {
	photo, err := imaging.Open(ctx, path)
	if err != nil {
		return nil, err
	}
	var mark *imaging.PlateMark
	if marks != nil {
		m := imaging.MarkFromStored(photo, *marks)
		mark = &m
	}
	return PrepareReference(ctx, photo, mark, size)
}

// Refused is the sentence of an error that says that a photograph cannot be
// used, as against one that says that the work could not be done.
func Refused(err error) (string, bool) { return refusedBecause(err) }
