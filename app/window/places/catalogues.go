package places

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"pullbook/app/window/look"
	"pullbook/app/window/words"
)

// packedEnd is how the name of a packed catalogue ends.
const packedEnd = ".pullbook.zip"

// openRecent offers the catalogues opened last that are still there.
func (f *Frame) openRecent() {
	var dirs, names []string
	for _, d := range f.prefs.recent() {
		if _, err := os.Stat(d); err == nil && d != f.house.Dir() {
			dirs = append(dirs, d)
			names = append(names, strings.TrimSuffix(filepath.Base(d), filepath.Ext(d))+"   "+filepath.Dir(d))
		}
	}
	title := words.T("Open one of the last")
	if len(dirs) == 0 {
		f.dialog(title, look.Para(words.T("There is no other catalogue that was opened here."), false), fyne.NewSize(420, 200), "", nil)
		return
	}
	which := look.NewOneOf(nil, names...)
	f.dialog(title, which, fyne.NewSize(620, 340), words.T("Open it"), func() error {
		f.needs.OpenAt(dirs[which.Chosen])
		return nil
	})
	f.win.Canvas().Focus(which)
}

// openPacked asks for a packed catalogue.
func (f *Frame) openPacked() { f.pickFile([]string{".zip"}, f.needs.OpenAt) }

// pack asks for a file and packs the catalogue into it.
func (f *Frame) pack() {
	path := newField(filepath.Join(homeFolder(f), catalogueName(f)+packedEnd), false, nil)
	choose := look.QuietButton(words.T("Choose the folder…"), look.IconFolder, func() {
		f.folder(func(dir string) { path.SetText(filepath.Join(dir, filepath.Base(path.Text))) })
	})
	form := look.Form(70, look.Small(words.T("File")), path, look.Small(""), look.Row(0, choose))
	say := look.Para(words.T("The whole catalogue with its photographs in one file, to keep elsewhere or to give away. It can be opened again here."), true)
	f.dialog(words.T("Pack into one file"), look.Column(8, form, say), fyne.NewSize(600, 280), words.T("Pack it"), func() error {
		to := strings.TrimSpace(path.Text)
		if !strings.HasSuffix(to, packedEnd) {
			return errors.New(words.T("Give the file a name, ending in %s.", packedEnd))
		}
		if exists(to) {
			return errors.New(words.T("There is a file of this name already; choose another."))
		}
		f.prefs.setFolder(filepath.Dir(to))
		f.start(words.T("Packing the catalogue"), func(ctx context.Context, p Progress) error {
			err := f.house.Pack(ctx, to, p)
			if err == nil {
				f.post.do(func() { f.tell(words.T("The catalogue is packed in %s", to)) })
			}
			return err
		})
		return nil
	})
	f.win.Canvas().Focus(path)
}
