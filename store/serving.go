package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"banns/feed"
)

// Opening is what an address opens: a feed at its newest revision, or
// nothing any more.
type Opening struct {
	Feed     int64
	Revision int
	Revoked  bool
}

// Openings are all addresses by token, so that a server can answer a request
// without a read of the database.
func (s *Store) Openings(ctx context.Context) (map[string]Opening, error) {
	rows, err := s.db.QueryContext(ctx, `select a.id, a.feed, f.revision, a.revoked_at != '' from address a join feed f on f.id = a.feed`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[string]Opening{}
	for rows.Next() {
		var id []byte
		var o Opening
		if err := rows.Scan(&id, &o.Feed, &o.Revision, &o.Revoked); err != nil {
			return nil, err
		}
		all[s.token(id)] = o
	}
	return all, rows.Err()
}

// Calendar is a feed as it was published.
type Calendar struct {
	Revision int
	Changed  time.Time
	Gzip     []byte // the calendar, gzipped
	Body     []byte
}

// Calendar is the published calendar of a feed.
func (s *Store) Calendar(ctx context.Context, feed int64) (c Calendar, err error) {
	var changed string
	err = s.db.QueryRowContext(ctx, "select revision, changed_at, body from feed where id = ?", feed).Scan(&c.Revision, &changed, &c.Gzip)
	if errors.Is(err, sql.ErrNoRows) {
		return c, ErrUnknown
	}
	if err != nil {
		return c, err
	}
	if c.Changed, err = unstamp(changed); err != nil {
		return c, err
	}
	c.Body, err = unpack(c.Gzip)
	return c, err
}

// Page is what somebody's own page shows: their entries, and nothing else of
// the plan.
type Page struct {
	Wedding   string // its title
	Zone      string // the wedding's
	Name      string // the reader's
	Reminders feed.Reminders
	Entries   []feed.Published
}

// Page is the page that a token opens. ErrUnknown where it opens nothing.
func (s *Store) Page(ctx context.Context, token string) (p Page, err error) {
	f, err := s.feedAt(ctx, s.db, token)
	if err != nil {
		return p, err
	}
	readers, err := carried(ctx, s.db, f)
	if err != nil {
		return p, err
	}
	for _, r := range readers {
		l, err := ledgerOf(ctx, s.db, r)
		if err != nil {
			return p, err
		}
		p.Entries = append(p.Entries, feed.Shown(l.rows, time.Time{})...)
		if p.Reminders, err = remindersOf(ctx, s.db, r); err != nil {
			return p, err
		}
		w, err := scanWedding(s.db.QueryRowContext(ctx, selectWedding+" where id = ?", r.Wedding))
		if err != nil {
			return p, err
		}
		doc, err := load(ctx, s.db, w, w.Version)
		if err != nil {
			return p, err
		}
		p.Wedding, p.Zone = w.Title, doc.Plan.Wedding.Zone
		for _, who := range doc.Plan.People {
			if who.ID() == r.Person {
				p.Name = who.Name
			}
		}
	}
	return p, nil
}

// Tick publishes what time alone changes: withdrawn entries that have been
// shown for long enough.
func (s *Store) Tick(ctx context.Context, now time.Time) error {
	due, err := s.runOut(ctx, now)
	if err != nil || len(due) == 0 {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		for _, wedding := range due {
			if err := s.publishNewest(ctx, tx, wedding, now, false); err != nil {
				return err
			}
		}
		return nil
	})
}

// runOut are the weddings with entries that have been shown as withdrawn for
// long enough.
func (s *Store) runOut(ctx context.Context, now time.Time) (weddings []string, err error) {
	rows, err := s.db.QueryContext(ctx, "select distinct wedding from ledger where went != '' and gone = 0 and went <= ?",
		stamp(now.Add(-feed.WithdrawnFor)))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var w string
		if err := rows.Scan(&w); err != nil {
			return nil, err
		}
		weddings = append(weddings, w)
	}
	return weddings, rows.Err()
}

// PublishAll publishes every wedding anew: a new release of the program may
// word things otherwise. One whose plan this release cannot read keeps what
// was published of it; the errors of all such are returned, joined.
func (s *Store) PublishAll(ctx context.Context, now time.Time) error {
	return s.publishEach(ctx, now, true)
}

func (s *Store) publishEach(ctx context.Context, now time.Time, all bool) error {
	ws, err := weddings(ctx, s.db)
	for _, w := range ws {
		one := s.write(ctx, func(tx *sql.Tx) error { return s.publishNewest(ctx, tx, w.ID, now, all) })
		if one != nil {
			err = errors.Join(err, fmt.Errorf("publish %s: %w", w.Name, one))
		}
	}
	return err
}

// Watch calls changed after every commit to the database, by this process or
// another, until ctx ends. It looks every so often.
func (s *Store) Watch(ctx context.Context, every time.Duration, changed func(context.Context) error) error {
	// data_version tells of commits by other connections than its own, so
	// this one is kept apart and never writes.
	conn, err := s.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	tick := time.NewTicker(every)
	defer tick.Stop()
	for seen := int64(-1); ; {
		var version int64
		if err := conn.QueryRowContext(ctx, "pragma data_version").Scan(&version); err != nil {
			return err
		}
		if version != seen {
			if err := changed(ctx); err != nil {
				return err
			}
			seen = version
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-tick.C:
		}
	}
}

// Published is the calendar of one person's own feed, as it was published.
func (s *Store) Published(ctx context.Context, wedding, person string) ([]byte, error) {
	id, err := feedOf(ctx, s.db, Reader{wedding, person})
	if err != nil {
		return nil, err
	}
	c, err := s.Calendar(ctx, id)
	return c.Body, err
}
