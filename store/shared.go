package store

import (
	"context"
	"database/sql"
	"errors"
	"slices"
	"strings"
	"time"

	"banns/conflicts"
	"banns/milestones"
)

// Shared is a link that shows some days of one wedding side by side.
type Shared struct {
	Wedding string // its lasting id
	Token   string
	Days    []milestones.Date
	Avoid   []conflicts.Tradition // whose days count
	Issued  time.Time
	Closed  bool
}

// Share makes a link that shows some days of the wedding called name.
func (s *Store) Share(ctx context.Context, name string, days []milestones.Date, avoid []conflicts.Tradition, now time.Time) (token string, err error) {
	var said, kept []string
	for _, d := range days {
		said = append(said, d.String())
	}
	for _, t := range avoid {
		kept = append(kept, string(t))
	}
	id := newID(idSize)
	err = s.write(ctx, func(tx *sql.Tx) error {
		w, err := weddingCalled(ctx, tx, name)
		if err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, "insert into shared (id, wedding, days, avoid, issued_at) values (?, ?, ?, ?, ?)",
			id, w.ID, strings.Join(said, " "), strings.Join(kept, " "), stamp(now))
		return err
	})
	if err != nil {
		return "", err
	}
	return s.signed(sharedKind, id), nil
}

const selectShared = "select id, wedding, days, avoid, issued_at, revoked_at != '' from shared"

// Shared is what a link shows. ErrUnknown where there is none.
func (s *Store) Shared(ctx context.Context, token string) (Shared, error) {
	id, ok := s.open(sharedKind, token)
	if !ok {
		return Shared{}, ErrUnknown
	}
	one, err := s.scanShared(s.db.QueryRowContext(ctx, selectShared+" where id = ?", id))
	if errors.Is(err, sql.ErrNoRows) {
		err = ErrUnknown
	}
	return one, err
}

// AllShared are the links of the wedding called name that are open, the
// newest first.
func (s *Store) AllShared(ctx context.Context, name string) ([]Shared, error) {
	w, err := weddingCalled(ctx, s.db, name)
	if err != nil {
		return nil, err
	}
	rows, err := s.db.QueryContext(ctx, selectShared+" where wedding = ? and revoked_at = '' order by issued_at desc, id", w.ID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Shared
	for rows.Next() {
		one, err := s.scanShared(rows)
		if err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, rows.Err()
}

func (s *Store) scanShared(row interface{ Scan(...any) error }) (one Shared, err error) {
	var id []byte
	var days, avoid, issued string
	if err := row.Scan(&id, &one.Wedding, &days, &avoid, &issued, &one.Closed); err != nil {
		return one, err
	}
	one.Token = s.signed(sharedKind, id)
	for _, text := range strings.Fields(days) {
		d, err := milestones.ParseDate(text)
		if err != nil {
			return one, err
		}
		one.Days = append(one.Days, d)
	}
	for _, t := range strings.Fields(avoid) {
		one.Avoid = append(one.Avoid, conflicts.Tradition(t))
	}
	slices.SortFunc(one.Days, milestones.Date.Compare)
	one.Issued, err = unstamp(issued)
	return one, err
}

// CloseShared closes a link of the wedding called name, for good. ErrUnknown
// where there is none that is open.
func (s *Store) CloseShared(ctx context.Context, name, token string, now time.Time) error {
	id, ok := s.open(sharedKind, token)
	if !ok {
		return ErrUnknown
	}
	w, err := weddingCalled(ctx, s.db, name)
	if err != nil {
		return err
	}
	return changeOne(s.db.ExecContext(ctx, "update shared set revoked_at = ? where id = ? and wedding = ? and revoked_at = ''", stamp(now), id, w.ID))
}
