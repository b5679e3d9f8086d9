package store

import (
	"context"
	"database/sql"
	"time"
)

// NoteAsked notes that calendar programs have just asked for feeds, so that a
// planner can tell whose phone is subscribed.
func (s *Store) NoteAsked(ctx context.Context, feeds []int64, now time.Time) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		for _, feed := range feeds {
			if _, err := tx.ExecContext(ctx, "insert or replace into asked values (?, ?)", feed, stamp(now)); err != nil {
				return err
			}
		}
		return nil
	})
}

// Asked is when a calendar program last asked for a feed that carries
// somebody's dates of the wedding with that id, to the day, by the lasting ids
// of persons. Who is not in it was never asked for.
func (s *Store) Asked(ctx context.Context, wedding string) (map[string]time.Time, error) {
	rows, err := s.db.QueryContext(ctx, `select c.person, max(a.at) from carries c join asked a on a.feed = c.feed
		where c.wedding = ? group by c.person`, wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[string]time.Time{}
	for rows.Next() {
		var person, at string
		if err := rows.Scan(&person, &at); err != nil {
			return nil, err
		}
		if all[person], err = unstamp(at); err != nil {
			return nil, err
		}
	}
	return all, rows.Err()
}
