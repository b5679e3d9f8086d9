package store

import (
	"context"
	"database/sql"
)

// DB is the database itself, for tests that look at rows and pragmas.
func (s *Store) DB() *sql.DB { return s.db }

// Hold takes the store in dir as a restore does.
func Hold(ctx context.Context, dir string) (release func(), err error) {
	p, err := hold(ctx, dir)
	if err != nil {
		return nil, err
	}
	return p.release, nil
}

// Pack is a document as the database keeps it.
func Pack(text []byte) []byte { return pack(text) }

// WithdrawnBy is the query of every minute, for a test of how it is answered.
const WithdrawnBy = withdrawnBy
