package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"time"

	"banns/feed"
	"banns/milestones"
)

// Reader is one person of one wedding, as feeds carry them.
type Reader struct {
	Wedding string // its id
	Person  string // the lasting id of the person
}

// part is what one reader gives to a feed.
type part struct {
	feed int64
	Reader
}

// feedRow is a feed as the database has it.
type feedRow struct {
	id        int64
	name      string // of a joint feed; empty: one person's own
	title     string // of a joint feed
	brief     bool
	reminders feed.Reminders
	revision  int
	changed   time.Time
	body      []byte // gzipped
}

// joint reports whether f is made for several weddings, even while it
// carries one.
func (f *feedRow) joint() bool { return f.name != "" }

const selectFeed = "select id, name, title, brief, reminders, revision, changed_at, body from feed"

func scanFeed(row *sql.Row) (f feedRow, err error) {
	var changed string
	err = row.Scan(&f.id, &f.name, &f.title, &f.brief, &f.reminders, &f.revision, &changed, &f.body)
	if errors.Is(err, sql.ErrNoRows) {
		return f, ErrUnknown
	}
	if err != nil {
		return f, err
	}
	f.changed, err = unstamp(changed)
	return f, err
}

func feedByID(ctx context.Context, q querier, id int64) (feedRow, error) {
	return scanFeed(q.QueryRowContext(ctx, selectFeed+" where id = ?", id))
}

// ensureFeed gives somebody a feed of their own and its first address, where
// they have none.
func ensureFeed(ctx context.Context, tx *sql.Tx, r Reader, now time.Time) error {
	if _, err := feedOf(ctx, tx, r); !errors.Is(err, ErrUnknown) {
		return err
	}
	id, err := newFeed(ctx, tx, "", "", now)
	if err != nil {
		return err
	}
	return carry(ctx, tx, part{id, r})
}

// newFeed is a feed that carries nobody yet, with its first address.
func newFeed(ctx context.Context, tx *sql.Tx, name, title string, now time.Time) (id int64, err error) {
	res, err := tx.ExecContext(ctx, "insert into feed (created_at, name, title) values (?, ?, ?)", stamp(now), name, title)
	if err != nil {
		return 0, err
	}
	if id, err = res.LastInsertId(); err != nil {
		return 0, err
	}
	return id, issue(ctx, tx, id, now)
}

func carry(ctx context.Context, tx *sql.Tx, p part) error {
	_, err := tx.ExecContext(ctx, "insert or ignore into carries values (?, ?, ?)", p.feed, p.Wedding, p.Person)
	return err
}

// drop takes a part out of its feed. Its entries were not called off, so
// nothing is shown as withdrawn: they go, without a word, and come back where
// they were, should the feed carry the part again.
func drop(ctx context.Context, tx *sql.Tx, p part, now time.Time) error {
	if _, err := tx.ExecContext(ctx, "delete from carries where feed = ? and wedding = ? and person = ?", p.feed, p.Wedding, p.Person); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, `update ledger set gone = 1, went = case went when '' then ? else went end
		where feed = ? and wedding = ? and person = ? and gone = 0`, stamp(now), p.feed, p.Wedding, p.Person)
	return err
}

// feedOf is the feed of their own that somebody was given.
func feedOf(ctx context.Context, q querier, r Reader) (feed int64, err error) {
	err = q.QueryRowContext(ctx, `select f.id from feed f join carries c on c.feed = f.id
		where c.wedding = ? and c.person = ? and f.name = '' order by f.id limit 1`, r.Wedding, r.Person).Scan(&feed)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, ErrUnknown
	}
	return feed, err
}

// partsOf are the parts that a wedding gives to feeds: to the one only, or to
// all where only is 0.
func partsOf(ctx context.Context, q querier, wedding string, only int64) ([]part, error) {
	return scanParts(q.QueryContext(ctx, `select feed, wedding, person from carries
		where wedding = ?1 and ?2 in (0, feed) order by feed, person`, wedding, only))
}

// carried are the parts of a feed.
func carried(ctx context.Context, q querier, feed int64) ([]part, error) {
	return scanParts(q.QueryContext(ctx, "select feed, wedding, person from carries where feed = ? order by wedding, person", feed))
}

func scanParts(rows *sql.Rows, err error) ([]part, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []part
	for rows.Next() {
		var p part
		if err := rows.Scan(&p.feed, &p.Wedding, &p.Person); err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, rows.Err()
}

// SetReminders keeps what the reader of a feed chose to be reminded by in
// that feed, and publishes it.
func (s *Store) SetReminders(ctx context.Context, token string, choice feed.Reminders, now time.Time) error {
	if !slices.Contains(feed.AllReminders, choice) {
		return fmt.Errorf("%q is no choice of reminders", choice)
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		f, err := s.feedAt(ctx, tx, token)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "update feed set reminders = ? where id = ?", choice, f); err != nil {
			return err
		}
		return s.publishFeed(ctx, tx, f, now)
	})
}

// publishFeed publishes one feed. A wedding whose plan this release cannot
// read keeps what was published of it.
func (s *Store) publishFeed(ctx context.Context, tx *sql.Tx, id int64, now time.Time) error {
	parts, err := carried(ctx, tx, id)
	if err != nil {
		return err
	}
	var plans []*milestones.Plan
	for _, p := range parts {
		doc, err := newest(ctx, tx, p.Wedding)
		var faults Faults
		switch {
		case errors.As(err, &faults):
			continue
		case err != nil:
			return err
		}
		plans = append(plans, doc.Plan)
	}
	p := s.publication(tx, now)
	p.only = id
	if err := p.revise(ctx, plans...); err != nil {
		return err
	}
	return p.reissue(ctx, id)
}
