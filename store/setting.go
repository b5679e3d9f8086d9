package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// setting is what was kept under name, or empty.
func setting(ctx context.Context, q querier, name string) (string, error) {
	var v string
	err := q.QueryRowContext(ctx, "select value from setting where name = ?", name).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return v, err
}

const settingPublic = "public address"

// SetPublic sets the address under which the world reaches the server, such
// as https://dates.example.org, and publishes every wedding anew with it.
func (s *Store) SetPublic(ctx context.Context, base string, now time.Time) error {
	if _, err := s.db.ExecContext(ctx, "insert or replace into setting values (?, ?)", settingPublic, base); err != nil {
		return err
	}
	return s.publishEach(ctx, now, false)
}

// Public is the address that SetPublic set, or empty.
func (s *Store) Public(ctx context.Context) (string, error) { return setting(ctx, s.db, settingPublic) }
