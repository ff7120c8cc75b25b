// Package store keeps facts and derived sessions in one SQLite file, readable
// by its owner alone. It is the only package that knows the driver.
//
// # Changes
//
// Everything that one command or one input brought is a change: a row of table
// change, with the moment, the command and a text for the log. Every fact row
// names its change. Facts are never altered or removed; they are taken back by
// a later change, which table retraction records: an undo, or a better reading
// of the same content that supersedes the first. A change holds unless a change
// that holds takes it back, so that an undo can itself be undone. Column active
// of table change is this rule worked out, and view active_change lists the
// changes that hold. Only their facts are ever read. Store.Erase is the one
// exception: what a person wants gone is removed.
//
// # Facts
//
// Table athlete has one row for each telling; NULL leaves a field as it was, so
// the last value that is not NULL holds, field by field. Table scale is read the
// same way, and trip adds to athlete. Table activity has one row for each bout,
// with its samples as one packed blob and the SHA-256 of that blob. Table
// weigh_in has one row for each reading; a reading that a later export of the
// same scale repeats gets no second row but another entry in weigh_in_change, so
// that it stands as long as one of the files does. Table background counts, by
// scale, whole kilogram and hour of the day, the readings that were not kept.
// Tables note, screen, sodium_test, answer, correction and weather hold one
// record to a row. Table source says of every input how it ended and, where
// facts were taken, by which change; another copy of the same content names the
// change it relies on. Table session_key keeps the keys that sessions were given;
// they belong to no change, for a key once given stays.
//
// # Derived rows
//
// Tables session and digest hold what was derived from the facts, with the
// version of the method; they can be emptied and rebuilt. Table meta keeps words
// about them.
//
// # Columns
//
// Names carry the unit. Moments are milliseconds since 1970 UTC (…_utc_ms), the
// time a scale wrote is the same count with the wall clock taken for UTC
// (wall_ms), durations are milliseconds (…_ms). NULL is "not known". Lists are
// JSON text (…_json), read and written whole.
//
// # Files and migrations
//
// Application id and user version mark the file; a file of another program or of
// a newer version is refused untouched. Each file in migrations is run once, in
// number order, in a transaction of its own. Writing transactions take the lock
// when they begin and wait up to ten seconds for it; readers never wait.
package store
