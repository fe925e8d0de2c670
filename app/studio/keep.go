package studio

import (
	"container/list"
	"context"
	"sync"
)

// keep holds things that are dear to make and large, each made once for all
// who want it; what was not used for longest goes when their weights together
// pass the most it may hold. The newest always stays.
type keep[T any] struct {
	most   int64
	making making
	mu     sync.Mutex
	order  list.List // of *keptThing[T], newest first
	weight int64
}

type keptThing[T any] struct {
	key    string
	thing  T
	weight int64
}

// get gives the thing of a key, making it if need be; make tells its weight. An
// error is not kept.
func (k *keep[T]) get(ctx context.Context, key string, make func() (T, int64, error)) (T, error) {
	var none T
	release, err := k.making.enter(ctx, key)
	if err != nil {
		return none, err
	}
	defer release()
	if t, ok := k.find(key); ok {
		return t, nil
	}
	t, weight, err := make()
	if err != nil {
		return none, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.order.PushFront(&keptThing[T]{key, t, weight})
	k.weight += weight
	for k.weight > k.most && k.order.Len() > 1 {
		last := k.order.Back()
		k.weight -= last.Value.(*keptThing[T]).weight
		k.order.Remove(last)
	}
	return t, nil
}

func (k *keep[T]) find(key string) (t T, ok bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	for e := k.order.Front(); e != nil; e = e.Next() {
		if x := e.Value.(*keptThing[T]); x.key == key {
			k.order.MoveToFront(e)
			return x.thing, true
		}
	}
	return t, false
}
