package studio

import "context"

// abandon runs a computation and gives its result, or, once the context ends,
// the context's error at once: cancelling must not wait for some seconds of
// arithmetic. The computation is then left to come to its own end, which it does
// soon, since it asks the same context; nobody looks at what it gives. f must
// change nothing that outlives it.
func abandon[T any](ctx context.Context, f func() (T, error)) (T, error) {
	type outcome struct {
		v   T
		err error
	}
	ended := make(chan outcome, 1)
	go func() {
		var o outcome
		err := asBefits(ctx)(func() error {
			o.v, o.err = f()
			return nil
		})
		if err != nil { // a fault of ours
			o.err = err
		}
		ended <- o
	}()
	select {
	case o := <-ended:
		return o.v, o.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
