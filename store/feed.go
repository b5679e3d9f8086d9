package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"time"

	"banns/feed"
)

// feedRow is a feed as the database has it.
type feedRow struct {
	id       int64
	created  time.Time
	changed  time.Time
	revision int
	body     []byte // gzipped
}

// ensureFeed gives somebody a feed and its first address, where they have
// none.
func ensureFeed(ctx context.Context, tx *sql.Tx, r Reader, now time.Time) error {
	if _, err := feedOf(ctx, tx, r); !errors.Is(err, ErrUnknown) {
		return err
	}
	res, err := tx.ExecContext(ctx, "insert into feed (created_at) values (?)", stamp(now))
	if err != nil {
		return err
	}
	id, err := res.LastInsertId()
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "insert into carries values (?, ?, ?)", id, r.Wedding, r.Person); err != nil {
		return err
	}
	return issue(ctx, tx, id, now)
}

func readersOf(ctx context.Context, q querier, wedding string) ([]Reader, error) {
	return scanReaders(q.QueryContext(ctx, "select distinct wedding, person from carries where wedding = ? order by feed", wedding))
}

func carried(ctx context.Context, q querier, feed int64) ([]Reader, error) {
	return scanReaders(q.QueryContext(ctx, "select wedding, person from carries where feed = ?", feed))
}

func scanReaders(rows *sql.Rows, err error) ([]Reader, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Reader
	for rows.Next() {
		var r Reader
		if err := rows.Scan(&r.Wedding, &r.Person); err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	return all, rows.Err()
}

const selectFeed = "select id, created_at, changed_at, revision, body from feed"

func feedsOf(ctx context.Context, q querier, wedding string) ([]feedRow, error) {
	return scanFeeds(q.QueryContext(ctx, selectFeed+" where id in (select feed from carries where wedding = ?) order by id", wedding))
}

func scanFeeds(rows *sql.Rows, err error) ([]feedRow, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []feedRow
	for rows.Next() {
		var f feedRow
		var created, changed string
		if err := rows.Scan(&f.id, &created, &changed, &f.revision, &f.body); err != nil {
			return nil, err
		}
		var err1, err2 error
		f.created, err1 = unstamp(created)
		f.changed, err2 = unstamp(changed)
		if err := errors.Join(err1, err2); err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, rows.Err()
}

func remindersOf(ctx context.Context, q querier, r Reader) (feed.Reminders, error) {
	var v feed.Reminders
	err := q.QueryRowContext(ctx, "select reminders from reader where wedding = ? and person = ?", r.Wedding, r.Person).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return feed.ByAlarm, nil
	}
	return v, err
}

// feedOf is the feed that somebody was given.
func feedOf(ctx context.Context, q querier, r Reader) (feed int64, err error) {
	err = q.QueryRowContext(ctx, "select feed from carries where wedding = ? and person = ? order by feed limit 1",
		r.Wedding, r.Person).Scan(&feed)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, ErrUnknown
	}
	return feed, err
}

// SetReminders keeps what a reader chose to be reminded by, and publishes it.
func (s *Store) SetReminders(ctx context.Context, token string, choice feed.Reminders, now time.Time) error {
	if !slices.Contains(feed.AllReminders, choice) {
		return fmt.Errorf("%q is no choice of reminders", choice)
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		f, err := s.feedAt(ctx, tx, token)
		if err != nil {
			return err
		}
		readers, err := carried(ctx, tx, f)
		if err != nil {
			return err
		}
		for _, r := range readers {
			if _, err := tx.ExecContext(ctx, "insert or replace into reader values (?, ?, ?)", r.Wedding, r.Person, choice); err != nil {
				return err
			}
			if err := s.publishNewest(ctx, tx, r.Wedding, now, false); err != nil {
				return err
			}
		}
		return nil
	})
}
