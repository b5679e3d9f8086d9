package store

import "database/sql"

// DB is the database itself, for tests that look at rows and pragmas.
func (s *Store) DB() *sql.DB { return s.db }

// Pack is a document as the database keeps it.
func Pack(text []byte) []byte { return pack(text) }
