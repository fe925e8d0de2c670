package decode

// Points are carried between stored and upright pixels, with centres at whole
// numbers. Orientation counts as EXIF does (Exif 2.32, tag 0112): 1 upright,
// 2 mirrored left to right, 3 upside down, 4 mirrored top to bottom, 5 mirrored
// and lying, 6 lying on its left side, 7 mirrored and lying the other way,
// 8 lying on its right side. Anything else stands as 1.

// Turned is the size of the picture once it stands upright.
func (i *Info) Turned() (w, h int) {
	if i.Orientation >= 5 && i.Orientation <= 8 {
		return i.Height, i.Width
	}
	return i.Width, i.Height
}

// Stand carries a point from stored to upright pixels.
func (i *Info) Stand(x, y float64) (ux, uy float64) {
	r, b := float64(i.Width-1), float64(i.Height-1)
	switch i.Orientation {
	case 2:
		return r - x, y
	case 3:
		return r - x, b - y
	case 4:
		return x, b - y
	case 5:
		return y, x
	case 6:
		return b - y, x
	case 7:
		return b - y, r - x
	case 8:
		return y, r - x
	}
	return x, y
}

// Lay carries a point from upright to stored pixels.
func (i *Info) Lay(ux, uy float64) (x, y float64) {
	r, b := float64(i.Width-1), float64(i.Height-1)
	switch i.Orientation {
	case 2:
		return r - ux, uy
	case 3:
		return r - ux, b - uy
	case 4:
		return ux, b - uy
	case 5:
		return uy, ux
	case 6:
		return uy, b - ux
	case 7:
		return r - uy, b - ux
	case 8:
		return r - uy, ux
	}
	return ux, uy
}
