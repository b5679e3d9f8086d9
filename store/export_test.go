package store

import "database/sql"

// DB is the database itself, for tests that look at rows and pragmas.
func (s *Store) DB() *sql.DB { return s.db }
