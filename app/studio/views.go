package studio

import (
	"context"
	"math"

	"pullbook/catalog"
	"pullbook/imaging"
)

// Limits on how a photograph was lit, in the terms of [imaging.Manner]: judgements,
// set on simulated photographs and not yet tried on many real ones. Between the
// ordinary and the sure nothing is told, and the user is asked. Ordinary
// photographs, simulated by hand and on copy stands, have a falloff up to 1.45 and a
// texture up to 0.0045; both are far more under a raking lamp. Paper against the
// light is darker than the table that shines through it.
const (
	ordinaryFall, rakingFall       = 1.5, 1.7
	ordinaryTexture, rakingTexture = 0.0075, 0.015
	ordinaryAround, throughAround  = 1.15, 1.5
	throughTexture, throughCloud   = 0.008, 0.010
)

// lightOf tells raking and transmitted light from ordinary light, which is the
// view of the whole sheet or of a detail; false when it cannot be told.
func lightOf(m imaging.Manner) (view catalog.View, ok bool) {
	if math.IsNaN(m.Falloff) || math.IsNaN(m.Texture) {
		return "", false
	}
	around := m.Surround // not a number where the sheet fills the picture: no comparison holds
	switch {
	case around > throughAround && m.Falloff < ordinaryFall && (m.Texture > throughTexture || m.Cloud > throughCloud):
		return catalog.ViewTransmitted, true
	case around > ordinaryAround:
		return "", false
	case m.Falloff > rakingFall && m.Texture > rakingTexture:
		return catalog.ViewRaking, true
	case m.Falloff > ordinaryFall || m.Texture > ordinaryTexture:
		return "", false
	}
	return catalog.ViewWhole, true
}

// What is said when the view cannot be told.
const (
	askLight = "It may be a photograph by raking or by transmitted light; say which it is."
	askView  = "No whole plate mark was found: say whether it shows the whole sheet or a detail."
)

// viewOf tells what a photograph shows, "" with a question when it cannot be
// told: a whole sheet has its whole plate mark in view, a detail lies within a
// known plate. Lines within a plate may look like a mark, so that one by itself
// counts only with the whole sheet in view.
func viewOf(ctx context.Context, photo *imaging.Photo, seen *recognised) (view catalog.View, ask string, err error) {
	m, err := abandon(ctx, func() (imaging.Manner, error) { return imaging.MannerOf(photo, seen.mark), nil })
	if err != nil {
		return "", "", err
	}
	view, ask = viewBy(m, seen)
	return view, ask, nil
}

func viewBy(m imaging.Manner, seen *recognised) (view catalog.View, ask string) {
	light, ok := lightOf(m)
	switch {
	case !ok && seen.detail == nil:
		return "", askLight
	case ok && light != catalog.ViewWhole:
		return light, ""
	case seen.detail != nil:
		// A part of a sheet has no edges to read the light along.
		return catalog.ViewDetail, ""
	case seen.plate != nil || seen.mark != nil && m.Edges:
		return catalog.ViewWhole, ""
	}
	return "", askView
}
