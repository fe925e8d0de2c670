package look

import "fyne.io/fyne/v2"

// PassOn gives Escape and F1 to the window, whatever widget has the focus: the
// toolkit gives keys to the focused widget alone. It reports whether the key
// was one of these.
func PassOn(from fyne.CanvasObject, e *fyne.KeyEvent) bool {
	if e.Name != fyne.KeyEscape && e.Name != fyne.KeyF1 {
		return false
	}
	c := fyne.CurrentApp().Driver().CanvasForObject(from)
	if c == nil || c.OnTypedKey() == nil {
		return false
	}
	c.OnTypedKey()(e)
	return true
}
