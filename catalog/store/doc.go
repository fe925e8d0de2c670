// Package store keeps a catalogue on disk: a folder NAME.pullbook with a
// SQLite database, the photographs, what was derived from them, and backups.
package store
