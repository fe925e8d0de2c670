// Package window is the window: it opens a catalogue through the studio and
// shows it in the four places of the working day. The screens are in places,
// their look in look, the sheet viewer in sheetview, the texts in words; none
// of them knows the studio. Only app/main.go may bring a driver.
package window
