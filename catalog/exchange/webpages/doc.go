// Package webpages writes a catalogue as a folder of static web pages that can
// be opened from disk or put on any web server: a list of the plates, a page
// for each plate with its states, impressions and editions, states compared by
// a movable edge, pictures that can be enlarged. No page asks anything of any
// other computer: no tracking, no fonts from elsewhere, no frameworks.
package webpages
