package places

import (
	"context"
	"errors"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// work runs f on a worker goroutine and what it returns on the interface
// goroutine.
func (f *Frame) work(do func(ctx context.Context) func()) {
	f.busy.Add(1)
	f.atWork.Add(1)
	go func() {
		defer f.busy.Done()
		defer f.atWork.Add(-1)
		then := do(f.ctx)
		if then != nil && f.ctx.Err() == nil {
			f.post.do(then)
		}
	}()
}

// read fetches the catalogue as it is now. While a reading is under way another
// is only noted, so that a burst of changes costs two readings.
func (f *Frame) read() {
	if f.reading {
		f.again = true
		return
	}
	f.reading = true
	f.work(func(ctx context.Context) func() {
		snap, err := f.house.Snapshot(ctx)
		var b *book
		var rows []plateRow
		if err == nil {
			b = newBook(snap)
			rows = rowsOf(b)
		}
		return func() {
			f.reading = false
			if err != nil {
				f.fail(err)
			} else {
				f.have(b, rows)
			}
			if f.again {
				f.again = false
				f.read()
			}
		}
	})
}

// have shows a catalogue that was read.
func (f *Frame) have(b *book, rows []plateRow) {
	f.book = b
	if b.plates[f.plate] == nil {
		f.plate = ""
		if len(rows) > 0 {
			f.plate = rows[0].id
		}
	}
	f.list.rows = rows
	f.list.find()
	f.foretell(b)
	f.showHead()
	f.showUndo()
	f.strip.show()
	f.showPlace()
	f.log("catalogue shown: %d plates, %d impressions, %d photographs, %d scores", len(b.Plates), len(b.Impressions), len(b.Photographs), len(b.Scores))
	f.post.do(func() { // once all this is laid out
		f.log("window full")
		f.expect(0)
	})
	if l := f.toTake; len(l) > 0 {
		f.toTake = nil
		f.TakeIn(l)
	}
	f.notice()
}

// notice says once how the catalogue was opened. What can only be read may be
// free later, so opening it again is offered.
func (f *Frame) notice() {
	s := f.house.Notice()
	if s == "" || f.noticed {
		return
	}
	f.noticed = true
	if f.house.ReadOnly() && f.needs.Again != nil {
		f.note.offer(look.IconWarn, look.Unsure, s, words.T("Open it again"), f.needs.Again)
		return
	}
	f.note.say(look.IconWarn, look.Unsure, s)
}

// save writes records and says so when it cannot.
func (f *Frame) save(label string, records ...any) {
	f.change(func(ctx context.Context) error { return f.house.Save(ctx, label, records...) })
}

// change runs a change of the catalogue on a worker.
func (f *Frame) change(do func(ctx context.Context) error) {
	if f.house.ReadOnly() {
		f.fail(errors.New(words.T("This catalogue is open for reading only, so nothing can be changed here.")))
		return
	}
	f.work(func(ctx context.Context) func() {
		if err := do(ctx); err != nil {
			return func() { f.fail(err) }
		}
		return nil
	})
}

// start begins long work in the job strip; what goes wrong with it is said.
func (f *Frame) start(name string, run func(ctx context.Context, p Progress) error) {
	f.house.Start(name, func(ctx context.Context, p Progress) error {
		err := run(ctx, p)
		if err != nil && !errors.Is(err, context.Canceled) {
			f.post.do(func() { f.fail(err) })
		}
		return err
	})
}

// fail shows an error as the sentence it is.
func (f *Frame) fail(err error) {
	if err == nil || errors.Is(err, context.Canceled) {
		return
	}
	f.log("trouble: %v", err)
	f.note.say(look.IconWarn, look.Outside, words.Error(err))
}

// tell shows good news for a while.
func (f *Frame) tell(s string) {
	f.log("told: %s", s)
	f.strip.tell(s)
}
