package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"image"
	"image/png"
	"os"
	"path"
	"path/filepath"

	"golang.org/x/image/draw"
)

// file is one file of the tree, with its path below /usr.
type file struct {
	path string
	mode os.FileMode
	data []byte
}

// iconSizes are those of the hicolor theme that the painted icon is reduced to
// (freedesktop.org, Icon Theme Specification); larger ones are drawn from the
// SVG file.
var iconSizes = []int{16, 22, 24, 32, 48, 64, 128, 256}

// tree is every file that is installed, the same for tarball and package.
func (r *release) tree() ([]file, error) {
	name := r.command()
	program, err := os.ReadFile(r.program)
	if err != nil {
		return nil, err
	}
	manual, err := r.manual()
	if err != nil {
		return nil, err
	}
	notices, err := r.notices()
	if err != nil {
		return nil, err
	}
	own, err := os.ReadFile("LICENSE")
	if err != nil {
		return nil, err
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		return nil, err
	}
	files := []file{
		{"bin/" + name, 0o755, program},
		{"share/applications/" + name + ".desktop", 0o644, r.fill(desktopEntry)},
		{"share/mime/packages/" + name + ".xml", 0o644, r.fill(mimeType)},
		{"share/man/man1/" + name + ".1.gz", 0o644, zipped(manual)},
		{path.Join("share/doc", name, "copyright"), 0o644, r.copyright(own, notices)},
		{path.Join("share/doc", name, noticesFile), 0o644, zipped(joined(notices))},
		{path.Join("share/doc", name, "changelog.gz"), 0o644, zipped(r.news)},
		{path.Join("share/doc", name, "README.md.gz"), 0o644, zipped(readme)},
	}
	icons, err := r.icons()
	return append(files, icons...), err
}

// zipped compresses as Debian Policy 12.1 and 12.7 want manuals and changelogs:
// as small as can be, with no time in it.
func zipped(data []byte) []byte {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err == nil {
		_, err = z.Write(data)
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		panic(err) // a buffer takes everything
	}
	return b.Bytes()
}

// icons are the painted icon in every size and the drawn one.
func (r *release) icons() ([]file, error) {
	in, err := os.Open(filepath.FromSlash(r.Icon))
	if err != nil {
		return nil, err
	}
	defer in.Close()
	painted, err := png.Decode(in)
	if err != nil {
		return nil, err
	}
	drawn, err := os.ReadFile(r.Icon[:len(r.Icon)-len(path.Ext(r.Icon))] + ".svg")
	if err != nil {
		return nil, err
	}
	const folder = "share/icons/hicolor"
	files := []file{{path.Join(folder, "scalable/apps", r.command()+".svg"), 0o644, drawn}}
	for _, size := range iconSizes {
		if size > painted.Bounds().Dx() {
			return nil, fmt.Errorf("%s is smaller than %d pixels", r.Icon, size)
		}
		small := image.NewNRGBA(image.Rect(0, 0, size, size))
		draw.CatmullRom.Scale(small, small.Bounds(), painted, painted.Bounds(), draw.Src, nil)
		var b bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, small); err != nil {
			return nil, err
		}
		files = append(files, file{path.Join(folder, fmt.Sprintf("%dx%d/apps", size, size), r.command()+".png"), 0o644, b.Bytes()})
	}
	return files, nil
}
