package decode

import (
	"io"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// readEXIF adds orientation, time, camera and lens. A file whose EXIF part is
// broken is still a picture, so trouble here only leaves fields empty.
func readEXIF(info *Info, r io.ReadSeeker) {
	format, ok := map[Format]imagemeta.ImageFormat{
		JPEG: imagemeta.JPEG, PNG: imagemeta.PNG, TIFF: imagemeta.TIFF, WebP: imagemeta.WebP,
	}[info.Format]
	if !ok {
		return
	}
	defer func() {
		// The library contains its own panics; this is for the ones it does not.
		_ = recover()
	}()
	var tags imagemeta.Tags
	wanted := map[string]bool{
		"Orientation": true, "Make": true, "Model": true, "LensModel": true,
		"DateTimeOriginal": true, "DateTime": true, "OffsetTimeOriginal": true, "OffsetTime": true,
	}
	// The error is left aside on purpose: tags read before it are still good.
	_, _ = imagemeta.Decode(imagemeta.Options{
		R: r, ImageFormat: format, Sources: imagemeta.EXIF, LimitNumTags: 2000,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			return strings.HasPrefix(t.Namespace, "IFD0") && wanted[t.Tag]
		},
		HandleTag: func(t imagemeta.TagInfo) error { tags.Add(t); return nil },
	})
	fillEXIF(info, tags)
}

func fillEXIF(info *Info, tags imagemeta.Tags) {
	exif := tags.EXIF()
	if t, ok := exif["Orientation"]; ok {
		if o, ok := wholeNumber(t.Value); ok && o >= 1 && o <= 8 {
			info.Orientation = o
		}
	}
	maker, model := tagText(exif["Make"].Value), tagText(exif["Model"].Value)
	if strings.HasPrefix(strings.ToLower(model), strings.ToLower(maker)) {
		maker = ""
	}
	info.Camera = strings.TrimSpace(maker + " " + model)
	info.Lens = tagText(exif["LensModel"].Value)
	when := tagText(exif["DateTimeOriginal"].Value)
	offset := tagText(exif["OffsetTimeOriginal"].Value)
	if when == "" {
		when, offset = tagText(exif["DateTime"].Value), tagText(exif["OffsetTime"].Value)
	}
	info.Taken = cameraTime(when, offset)
}

// cameraTime reads EXIF's "2026:05:17 09:41:12". Cameras seldom say their time
// zone; without one the hour on the camera's own clock is kept, as UTC.
func cameraTime(when, offset string) time.Time {
	const layout = "2006:01:02 15:04:05"
	if t, err := time.Parse(layout+"-07:00", when+offset); err == nil {
		return t
	}
	t, err := time.Parse(layout, when)
	if err != nil || t.Year() < 1900 {
		return time.Time{}
	}
	return t
}

func wholeNumber(v any) (int, bool) {
	switch n := v.(type) {
	case uint16:
		return int(n), true
	case uint32:
		return int(n), true
	case uint8:
		return int(n), true
	case int:
		return n, true
	case []uint16:
		if len(n) > 0 {
			return int(n[0]), true
		}
	}
	return 0, false
}

// tagText is a tag's text, short and printable.
func tagText(v any) string {
	s, _ := v.(string)
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == 0xfffd {
			return -1
		}
		return r
	}, s)
	if len([]rune(s)) > 80 {
		s = string([]rune(s)[:80])
	}
	return strings.TrimSpace(s)
}
