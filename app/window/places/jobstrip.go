package places

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// jobStrip is the foot of the window: long work with progress and a way to
// stop it, and what the catalogue holds.
type jobStrip struct {
	f     *Frame
	slots [2]*jobSlot
	more  *look.Text
	count *look.Text
	said  string
	until time.Time

	wrong   *look.Text // what is wrong with the backup
	trouble *fyne.Container

	box fyne.CanvasObject
}

// jobSlot shows one job.
type jobSlot struct {
	name  *look.Text
	gauge *look.Gauge
	stop  *look.Button
	job   Job
	box   *fyne.Container
}

func newJobStrip(f *Frame) *jobStrip {
	s := &jobStrip{f: f, more: look.Small(""), count: look.Small("").Giving().Aligned(fyne.TextAlignTrailing), wrong: look.Small("").Coloured(look.Unsure)}
	row := look.Row(14)
	for i := range s.slots {
		sl := &jobSlot{name: look.Small(""), gauge: look.NewGauge(look.Blue)}
		sl.stop = look.QuietButton("", look.IconCross, func() {
			if sl.job != nil {
				sl.job.Cancel()
			}
		})
		sl.box = look.Row(8, sl.name, look.Wide(110, sl.gauge), sl.stop)
		sl.box.Hide()
		s.slots[i] = sl
		row.Add(sl.box)
	}
	row.Add(s.more)
	s.trouble = look.Row(6, look.NewDrawn(look.IconWarn, look.Unsure, 15), s.wrong)
	s.trouble.Hide()
	row.Add(s.trouble)
	s.box = container.NewStack(look.NewFill(look.Panel), look.Border(look.HRule(), nil, nil, nil,
		container.New(&tall{28}, look.InsetEach(look.Border(nil, nil, row, nil, s.count), 12, 1, 12, 1))))
	return s
}

// show shows the jobs as they stand.
func (s *jobStrip) show() {
	var running []Job
	for _, j := range s.f.house.Jobs() {
		if !j.Status().Finished {
			running = append(running, j)
		}
	}
	for i, sl := range s.slots {
		sl.job = nil
		if i >= len(running) {
			sl.box.Hide()
			continue
		}
		sl.job = running[i]
		st := sl.job.Status()
		say := st.Name
		switch {
		case st.Waiting:
			say += " · " + words.T("waiting its turn")
		case st.What != "":
			say += " · " + st.What
		}
		left := ""
		if st.Left > time.Second {
			left = " · " + words.T("%s left", short(st.Left))
		}
		if r, most := []rune(say), stripLength-len([]rune(left)); len(r) > most {
			say = string(r[:most-1]) + "…" // the time left always shows
		}
		sl.name.SetText(say + left)
		sl.gauge.Set(st.Done)
		sl.box.Show()
	}
	s.more.SetText("")
	if n := len(running) - len(s.slots); n > 0 {
		s.more.SetText(words.T("and %d more", n))
	}
	s.showTrouble(len(running) > 0)
	s.count.SetText(s.counted())
	s.box.Refresh()
}

// stripLength is how many letters a job's line may have.
const stripLength = 70

// showTrouble says that there is no backup of today; shortly, and in full when
// it is asked for.
func (s *jobStrip) showTrouble(busy bool) {
	say := s.f.house.BackupTrouble()
	s.trouble.Hidden = say == ""
	if say == "" {
		return
	}
	if r := []rune(say); busy {
		say = words.T("no backup today")
	} else if len(r) > 90 {
		say = string(r[:89]) + "…"
	}
	s.wrong.SetText(say)
}

func (s *jobStrip) counted() string {
	if s.said != "" && time.Now().Before(s.until) {
		return s.said
	}
	b := s.f.book
	if b == nil {
		return ""
	}
	return words.N("%d plates", len(b.Plates)) + " · " + words.N("%d states", len(b.States)) + " · " +
		words.N("%d impressions", len(b.Impressions)) + " · " + words.N("%d photographs", len(b.Photographs))
}

// tellFor is how long good news stands.
const tellFor = 6 * time.Second

func (s *jobStrip) tell(say string) {
	s.said, s.until = say, time.Now().Add(tellFor)
	s.count.SetText(say)
	time.AfterFunc(tellFor+50*time.Millisecond, func() {
		s.f.post.do(func() { s.count.SetText(s.counted()) })
	})
}

func short(d time.Duration) string {
	if d >= time.Minute {
		return words.T("%d min", int(d.Minutes()+0.5))
	}
	return words.T("%d s", int(d.Seconds()+0.5))
}

// noteBar is one sentence across the place: what went wrong, or what should be
// known, until it is put away. It may offer one thing to do about it.
type noteBar struct {
	icon *look.Drawn
	text *look.Paragraph
	act  *look.Button
	box  *fyne.Container
}

func newNoteBar() *noteBar {
	n := &noteBar{icon: look.NewDrawn(look.IconWarn, look.Outside, 16), text: look.Para("", false), act: look.NewButton("", "", nil)}
	n.act.Hide()
	away := look.QuietButton("", look.IconCross, n.hide)
	n.box = container.NewStack(look.NewFill(look.Leaf), look.Border(nil, look.HRule(), nil, nil,
		look.Inset(look.Border(nil, nil, look.InsetEach(n.icon, 4, 0, 9, 0), look.Middle(look.Row(4, n.act, away)), n.text), 10, 5)))
	n.box.Hide()
	return n
}

func (n *noteBar) say(i look.Icon, c fyne.ThemeColorName, s string) { n.offer(i, c, s, "", nil) }

// offer says a sentence with something to do about it.
func (n *noteBar) offer(i look.Icon, c fyne.ThemeColorName, s, verb string, do func()) {
	n.icon.Set(i, c)
	n.text.SetText(s)
	n.act.SetText(verb)
	n.act.Do = func() {
		n.hide()
		do()
	}
	n.act.Hidden = do == nil
	n.box.Show()
	n.box.Refresh()
}

func (n *noteBar) hide() { n.box.Hide() }

// words is what the bar says, "" when it is put away.
func (n *noteBar) words() string {
	if !n.box.Visible() {
		return ""
	}
	return n.text.Words()
}
