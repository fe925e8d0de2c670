// Package house holds the rules of the house as tests: which room may import
// which, that every path the documents name exists, and that what the program
// says of itself is the same everywhere. It has no code of its own to run.
package house
