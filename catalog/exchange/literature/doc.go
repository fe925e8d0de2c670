// Package literature reads lists of literature that other programs write:
// BibTeX and CSL-JSON. Each entry becomes a catalog.Literature or is listed
// with the reason it did not; nothing is taken in here.
package literature
