package imaging

import "context"

// Report judges a photograph for measuring, before anything is measured: the
// quality report of [Quality], with the plate mark it rests on. size is that of
// the plate it is thought to show. Where no mark of such a plate is found there
// is none, and the error is a *RefusedError.
func Report(ctx context.Context, p *Photo, size Size) (Quality, PlateMark, error) {
	found, err := findMark(ctx, p, size)
	if err != nil {
		return Quality{}, PlateMark{}, err
	}
	h, err := quadMapping(size.rectangle(), found.Corners)
	if err != nil {
		return Quality{}, PlateMark{}, refuse("The four corners do not make a plate mark.")
	}
	m := &mapping{h: h}
	l, err := fitLight(p, m, size, &found.sheet)
	if err != nil {
		return Quality{}, PlateMark{}, err
	}
	s := &Sheet{Size: size, NativePx: m.scale(size), BlurMM: photoBlur(p, m, size), light: l, m: m}
	return quality(p, s), found.PlateMark, ctx.Err()
}
