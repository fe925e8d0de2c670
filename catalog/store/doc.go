// Package store keeps a catalogue on disk, and reads it.
//
// This comment describes the present form of a catalogue exactly enough that
// somebody without this program can read one with SQLite and a program that
// computes SHA-256. TestReadByAStranger does so.
//
// # The folder
//
// A catalogue is one folder, NAME.pullbook, which may be copied whole while
// it is closed:
//
//	catalogue.db                     everything that is known: a SQLite database
//	photographs/ab/ab12….jpg         the originals, never altered
//	derived/                         pictures and maps made from them; may be deleted
//	backups/2026-11-25.db            copies of catalogue.db, by day
//	backups/before-form-2-….db       copy made before a change of form
//	backups/set-aside-….db           what a restored backup took the place of
//	lock                             who has it open (see below)
//
// While it is open, and after the program was stopped by force, there are
// also catalogue.db-wal and catalogue.db-shm. The -wal file holds entries not
// yet in catalogue.db; it belongs to it and must be copied with it. SQLite
// brings the two together by itself when the database is next opened. Files
// whose names begin with a dot (.taking-in-…, .making-…, .restoring.db) are
// unfinished and may be deleted.
//
// # The database
//
// A SQLite 3 database (https://sqlite.org/fileformat.html), encoding UTF-8.
// Bytes 68 to 71 of the file, the application id, are 50 6C 42 6B ("PlBk").
// The user version (bytes 60 to 63, big-endian) is the form, [SchemaVersion]. All
// tables are STRICT; SQLite 3.37 or later reads them. The definition of each table, with
// a comment on each column, is in the database itself (SELECT sql FROM
// sqlite_schema) and in the files of schema.
//
// One table for each noun; each record has an id of 16 characters a-z and 2-7,
// made at random, that never changes:
//
//	plate            a worked plate        plate_title, plate_technique, plate_subject,
//	                                       plate_in_group, plate_inscription,
//	                                       plate_citation, plate_showing,
//	                                       plate_region
//	state            of a plate            state_change, state_work, state_technique,
//	                                       state_citation
//	edition          of a state
//	impression       one sheet             impression_inscription, provenance,
//	                                       impression_showing, impression_citation
//	printing_day     at the press
//	photograph       one file              shooting_session
//	score            one measurement       score_region
//	plate_group, person, holder, paper, ink, press, literature, exhibition
//	imprint          one row: what the       book_part
//	                 catalogue says of itself
//
// The tables on the right are lists of the record on the left: their first
// column is its id, position counts from 0. A column x_id holds the id of a
// record of table x, or of the table its REFERENCES clause names, or NULL.
//
// An empty text and the number 0 mean "not recorded"; not_known lists, as a JSON array,
// the fields that were looked into and are not known, by the names of the
// data dictionary (catalog.Dictionary). Sizes are millimetres, height before
// width. Times are UTC, 2006-01-02T15:04:05.000Z. A date of the world is two
// columns: x_text as written, x_edtf its reading in the Extended Date/Time
// Format (ISO 8601-2:2019; Library of Congress specification), empty where the
// text could not be read for certain. A measured quantity is two columns, x
// and x_u, its standard uncertainty (k = 1); both are NULL when it was not
// measured.
//
// JSON is in these columns only: not_known of plate, edition and impression
// (array of strings); mark_px of photograph (four corners [x,y]); quality of
// photograph and tiles of score (written by the measuring room, described
// there); said of score (a sentence and what fills its blanks); old and new of
// change.
//
// # Photographs
//
// The file of a row of photograph is
//
//	photographs/ + first two characters of sha256 + / + sha256 + ext
//
// and sha256 is the SHA-256 of its bytes, in lower-case hexadecimal. Two rows
// may name one file. A file no row names was taken out of the catalogue, or
// taken in just before the program was stopped; it may be deleted.
//
//	sqlite3 catalogue.db "SELECT sha256 || '  photographs/' || substr(sha256, 1, 2) || '/' || sha256 || ext FROM photograph" | sha256sum -c
//
// # History
//
// action has a row for everything done: when, by whom, its label, and whether
// it stands (done), was taken back (undone) or taken back and overtaken
// (dropped). change has a row for each record an action altered, with the
// fields that differ as JSON objects old and new, by the names of the data
// dictionary: old is NULL for a record created, new for one removed. Fields of
// a created or removed record that are empty are left out. An action of kind
// undo or redo names in of the action it took back or did again.
//
// # Search
//
// search_text has, for each record that can be searched, the words it is found
// by; search is an FTS5 index of it (external content; unicode61, accents
// folded). Both can be made again from the records. A reader without FTS5 can
// do without search.
//
// # Bookkeeping
//
// keeping: session counts sittings; closed is 'yes' when the last one ended
// properly; search_index is 'ready' when search agrees with search_text;
// written_by names the program that last wrote.
//
// # Writing
//
// Others are welcome to read. Who writes must hold an exclusive lock on the
// file lock (flock on Unix, LockFileEx on Windows) all the while, keep to the
// references and CHECK rules, and set search_index to 'none'. The lock, not
// the presence of the file, says that a catalogue is open; the text in it only
// names the holder: name, computer, process, since when, one a line. On a disk
// in another computer, or one that keeps no locks, who writes also puts a file
// alive there (JSON: sitting, who, host, at), renews its time twice a minute,
// keeps away where another's is less than two minutes old, and removes it when
// closing.
//
// # What is promised
//
//   - An action is there whole or not at all, also when the program or the
//     power is cut off (write-ahead log, synchronous FULL); a photograph's
//     row is written only when its file is safely on disk.
//   - Originals are never altered, and are made read-only.
//   - Damage is noticed: after a sitting that was cut short the database is
//     checked when it is opened; Verify reads every byte and tells, by the
//     names of impressions and plates, what is wrong.
//   - A later form is refused and left as it is; an earlier one is copied to
//     backups before it is brought up to date, in one transaction a step.
//   - Before the first change of a day a backup is made and read back. Kept
//     are those of the last seven days of work and one of each of the four
//     weeks of work before.
package store
