package iiif

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"pullbook/catalog"
	"pullbook/catalog/exchange/entry"
	"pullbook/catalog/exchange/xmp"
)

const (
	// tileSize is the edge of a tile in pixels.
	tileSize = 512
	// thumbSize is the longer side of a thumbnail in pixels.
	thumbSize = 200
)

// image is one picture as written: its address and sizes.
type image struct {
	id            string
	width, height int
	sizes         []areaSize
	factors       []int
}

// planImage works out sizes and scale factors: factors double until the whole
// picture fits into one tile.
func planImage(id string, width, height int) image {
	im := image{id: id, width: width, height: height}
	for f := 1; ; f *= 2 {
		im.factors = append(im.factors, f)
		im.sizes = append([]areaSize{{ceil(width, f), ceil(height, f)}}, im.sizes...)
		if ceil(max(width, height), f) <= tileSize {
			return im
		}
	}
}

func ceil(a, b int) int { return (a + b - 1) / b }

// thumb is the size of a thumbnail: a picture of its own beside the tiles.
func (im image) thumb() areaSize {
	long := max(im.width, im.height)
	if long <= thumbSize {
		return areaSize{im.width, im.height}
	}
	return areaSize{max(1, im.width*thumbSize/long), max(1, im.height*thumbSize/long)}
}

// pieces lists every file of a level 0 image (Image API 3.0, sections 4 and 5:
// {region}/{size}/{rotation}/{quality}.{format}, sizes as "w,h"): the tiles of
// every scale factor, the whole at every size, and the whole as "max".
func (im image) pieces() []entry.Piece {
	var out []entry.Piece
	seen := map[string]bool{}
	add := func(region, size string, p entry.Piece) {
		p.Path = filepath.Join(region, size, "0", "default.jpg")
		if !seen[p.Path] {
			seen[p.Path] = true
			out = append(out, p)
		}
	}
	for _, f := range im.factors {
		edge := tileSize * f
		for y := 0; y < im.height; y += edge {
			for x := 0; x < im.width; x += edge {
				w, h := min(edge, im.width-x), min(edge, im.height-y)
				tw, th := ceil(w, f), ceil(h, f)
				region := fmt.Sprintf("%d,%d,%d,%d", x, y, w, h)
				if w == im.width && h == im.height {
					region = "full" // canonical form of the whole
				}
				add(region, fmt.Sprintf("%d,%d", tw, th), entry.Piece{X: x, Y: y, W: w, H: h, Width: tw, Height: th})
			}
		}
	}
	for _, s := range append(im.sizes, im.thumb()) {
		add("full", fmt.Sprintf("%d,%d", s.Width, s.Height), entry.Piece{Width: s.Width, Height: s.Height})
	}
	add("full", "max", entry.Piece{Width: im.width, Height: im.height})
	return out
}

// writeImage makes the files of one photograph and its info.json.
func (w *writer) writeImage(ctx context.Context, p *catalog.Photograph) (image, error) {
	width, height, err := w.pics.Size(ctx, p)
	if err != nil {
		return image{}, err
	}
	if width < 1 || height < 1 {
		return image{}, fmt.Errorf("the photograph %s has no size", p.ID)
	}
	name := "images/" + fileName(string(p.ID))
	im := planImage(w.base+"/"+name, width, height)
	pieces := im.pieces()
	for i := range pieces {
		pieces[i].Path = filepath.Join(w.dir, filepath.FromSlash(name), pieces[i].Path)
		if err := os.MkdirAll(filepath.Dir(pieces[i].Path), 0o755); err != nil {
			return image{}, err
		}
	}
	if err := w.pics.Write(ctx, p, pieces); err != nil {
		return image{}, err
	}
	// The picture as a whole is what people save: it says what it shows.
	if err := xmp.MarkCopy(filepath.Join(w.dir, filepath.FromSlash(name), "full", "max", "0", "default.jpg"), xmp.For(w.Catalogue, p)); err != nil {
		return image{}, err
	}
	info := imageInfo{Context: "http://iiif.io/api/image/3/context.json", ID: im.id, Type: "ImageService3", Protocol: "http://iiif.io/api/image",
		Profile: "level0", Width: width, Height: height, Sizes: append(im.sizes, im.thumb()), Tiles: []tiling{{tileSize, tileSize, im.factors}}}
	return im, entry.WriteJSON(filepath.Join(w.dir, filepath.FromSlash(name), "info.json"), info)
}
