// Package notation reads what printmakers, museums and dealers write down
// about prints - dates, sizes, states, numbers within an edition, catalogue
// numbers - and writes it back in one consistent way.
//
// Every reader follows the same rule: it returns what could be read, the text
// as it stood (Raw, never altered) and Flags that say in one sentence each
// what is odd. Text that can be read in two ways, or not at all, is flagged
// and left without a value: nothing is guessed. A reading is Certain when it
// has a value and no flag casts doubt on it.
//
// The Extended Date/Time Format is that of ISO 8601-2:2019 as specified by the
// Library of Congress on 4 February 2019, levels 0 to 2.
package notation
