package studio

import (
	"context"

	"pullbook/imaging"
)

// Likeness is two photographs and whether they show one impression.
type Likeness struct {
	First, Second string
	imaging.SameSheet
}

// SameFiles compares each two of a few photographs of impressions, all of one
// state, by way of its reference pull: do they show the same sheet?
func SameFiles(ctx context.Context, ref *imaging.Reference, paths []string) ([]Likeness, error) {
	sheets := make([]*imaging.Sheet, len(paths))
	results := make([]*imaging.Result, len(paths))
	err := each(ctx, bothCores(), len(paths), func(ctx context.Context, i int) error {
		photo, err := imaging.Open(ctx, paths[i])
		if err == nil {
			sheets[i], results[i], err = ref.Register(ctx, photo, imaging.MeasureOptions{})
		}
		if reason, ok := refusedBecause(err); ok && ctx.Err() == nil {
			results[i], err = &imaging.Result{Verdict: imaging.Refused, Reason: reason}, nil
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	var pairs []Likeness
	for i := range paths {
		for j := i + 1; j < len(paths); j++ {
			pairs = append(pairs, Likeness{paths[i], paths[j], compared(sheets[i], sheets[j], results[i], results[j])})
		}
	}
	return pairs, nil
}

// compared says what two measured photographs tell, or why they tell nothing.
func compared(a, b *imaging.Sheet, ra, rb *imaging.Result) imaging.SameSheet {
	for _, r := range []*imaging.Result{ra, rb} {
		if r.Verdict != imaging.Measured {
			return imaging.SameSheet{Probability: 0.5, Verdict: "cannot tell", Reason: r.Reason}
		}
	}
	return imaging.SameImpression(a, b, ra, rb)
}

// Repeated is what several photographs of one impression say of one score.
type Repeated struct {
	Score string
	imaging.Repeatability
}

// RepeatStudy sums up the scores of several photographs of one impression,
// taken anew each time: how well they repeat, and whether the stated
// uncertainty was honest. Photographs that were refused are left out.
func RepeatStudy(results []FileResult) []Repeated {
	ink, tone, burr := []imaging.Value{}, []imaging.Value{}, []imaging.Value{}
	add := func(list *[]imaging.Value, v *imaging.Value) {
		if v != nil {
			*list = append(*list, *v)
		}
	}
	for _, r := range results {
		if r.Result.Verdict == imaging.Measured {
			add(&ink, r.Result.Scores.InkLoss)
			add(&tone, r.Result.Scores.PlateTone)
			add(&burr, r.Result.Scores.BurrLoss)
		}
	}
	var out []Repeated
	for _, s := range []struct {
		name string
		list []imaging.Value
	}{{"ink loss", ink}, {"plate tone", tone}, {"burr loss", burr}} {
		if len(s.list) >= 2 {
			out = append(out, Repeated{s.name, imaging.Repeat(s.list)})
		}
	}
	return out
}
