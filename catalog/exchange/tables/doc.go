// Package tables writes a whole catalogue as comma-separated tables and reads
// them back exactly: one table for each noun, one more for each list within a
// noun, and a data dictionary that says what every column means, its unit and
// the element of published descriptive standards it answers to.
//
// A record's own list stands in a table named after both ("plate_titles.csv"),
// each row with the identifier of its record in the column "of" and its place
// in the list, from 1, in the column "order".
//
// The tables are the owner's own copy: they hold everything, the names of
// private holders included. The other formats are for others and leave those
// out.
//
// Texts that a spreadsheet program would run as a formula are made harmless
// with an apostrophe in front, which reading takes off again.
package tables
