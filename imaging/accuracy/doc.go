// Package accuracy holds the measuring against truth: photographs of simulated
// plates, those of the shared set and fresh ones, are measured and the errors
// put in a table beside what is owed. It is test equipment; the program does
// not use it.
package accuracy
