package main

import (
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/widget"
	_ "github.com/disintegration/imaging"
	_ "github.com/go-text/typesetting/harfbuzz"
	_ "github.com/gofrs/flock"
	_ "github.com/jung-kurt/gofpdf"
	_ "github.com/makiuchi-d/gozxing"
	_ "github.com/makiuchi-d/gozxing/qrcode"
	_ "github.com/mattn/go-sqlite3"
	_ "golang.org/x/image/tiff"
	_ "golang.org/x/image/webp"
	_ "golang.org/x/text/unicode/norm"
	_ "gonum.org/v1/gonum/mat"
	_ "github.com/fsnotify/fsnotify"
	_ "github.com/bep/imagemeta"
	_ "github.com/xuri/excelize/v2"
)

func main() {
	a := app.NewWithID("x")
	w := a.NewWindow("x")
	w.SetContent(widget.NewLabel("x"))
	w.ShowAndRun()
}
