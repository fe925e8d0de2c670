// Package catalog holds what is known about a printmaker's work and the rules
// that keep it true. It knows no pixels, no window and no database: the nouns
// below are plain values. The SQLite store is in catalog/store, photographs on
// disk in catalog/archive, the reading of written statements (dimensions,
// states, editions, dates) in catalog/notation, the life of a plate in
// catalog/life, and exchange with others in catalog/exchange.
//
// # Vocabulary
//
//   - plate: the worked metal. Sizes are height x width, in millimetres, in
//     that order, the convention of published descriptive standards.
//   - state: a plate as it stood between two campaigns of work, numbered from
//     one and written in roman figures.
//   - impression: one printed sheet. A pull is the act; pulls of a plate are
//     counted from its first.
//   - reference pull: the impression the others of its state are measured
//     against, often the bon à tirer.
//   - edition: impressions of one state issued together.
//   - holder: who has an impression; provenance: who had it, in order.
//
// # Conventions
//
// Zero means "not recorded" for every number with a unit and for every
// string; Unknown flags say "looked for and not known". Times are UTC. Dates
// of the world (a plate's year, an acquisition) are Date values: the text as
// written together with its Extended Date/Time Format reading.
//
// Every field, its meaning, unit and the elements of published standards it
// answers to are in dictionary.csv (Dictionary). The rules that keep records
// true are the Check functions: each gives sentences that name the sheets, and
// how much they weigh; the store refuses what contradicts.
package catalog
