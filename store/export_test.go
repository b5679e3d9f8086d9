package store

import "database/sql"

// DB is the database itself, for tests that look at rows and pragmas.
func (s *Store) DB() *sql.DB { return s.db }

// Opens reports whether the key file of s signed token.
func (s *Store) Opens(token string) bool {
	_, ok := s.open(token)
	return ok
}
