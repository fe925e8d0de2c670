// Package sheet takes the rows of somebody's own spreadsheet into a catalogue.
//
// It works in three steps, so that nothing happens unseen: Guess proposes what
// each column holds, the user corrects it, and Prepare reads every row and
// returns a Plan: the records that would be made, and for each row whether it
// is accepted, with remarks on what was odd, or refused, with the reason. The
// plan changes nothing; its records are taken into a catalogue together or
// not at all.
//
// No text is lost: what could not be read, or what the catalogue keeps in
// another form, stands as written in the remarks of the record.
package sheet
