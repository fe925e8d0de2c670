// Package look is how the window looks: the theme with its colours, sizes and
// faces, the icons, and the small widgets the screens are made of. It knows
// nothing of plates.
package look
