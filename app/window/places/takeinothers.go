package places

import (
	"context"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// takeInLiterature asks for a list of literature and takes it in.
func (f *Frame) takeInLiterature() {
	f.pickFile([]string{".bib", ".json"}, func(path string) {
		f.change(func(ctx context.Context) error {
			added, refused, err := f.house.TakeInLiterature(ctx, path)
			if err != nil {
				return err
			}
			f.post.do(func() {
				f.tell(words.N("%d works taken in", added))
				if len(refused) > 0 {
					col := look.Column(8)
					for _, r := range refused {
						col.Add(look.Para(r, false))
					}
					f.dialog(words.T("Some entries stay outside"), col, fyne.NewSize(560, 420), "", nil)
				}
			})
			return nil
		})
	})
}

// takeInExport asks for the folder of an exported catalogue and takes it in as
// a job; its photographs may lie elsewhere.
func (f *Frame) takeInExport() {
	dir, photos := blank(), blank()
	choose := func(to *field) *look.Button {
		return look.QuietButton(words.T("Choose the folder…"), look.IconFolder, func() { f.folder(func(p string) { to.SetText(p) }) })
	}
	say := look.Para(words.T("The tables that Pullbook exported as CSV are taken into this catalogue, which must be empty. Where the tables name photographs, say also in which folder the photographs of that catalogue lie."), true)
	f.dialog(words.T("Take in an exported catalogue"), look.Column(8, say,
		labelled(words.T("Folder of the tables"), dir), look.Row(0, choose(dir)),
		labelled(words.T("Folder of the photographs"), photos), look.Row(0, choose(photos))), fyne.NewSize(560, 400), words.T("Take it in"), func() error {
		from, originals := strings.TrimSpace(dir.Text), strings.TrimSpace(photos.Text)
		if from == "" {
			return fmt.Errorf("%s", words.T("Name the folder of the tables."))
		}
		f.start(words.T("Taking in an exported catalogue"), func(ctx context.Context, p Progress) error {
			return f.house.TakeInExport(ctx, from, originals, p)
		})
		return nil
	})
	f.win.Canvas().Focus(dir)
}
