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
	Whose    string // what commands call a joint feed, or WEDDING/PERSON
	Revision int
	Changed  time.Time
	Gzip     []byte // the calendar, gzipped
	Body     []byte
}

// Calendar is the published calendar of a feed.
func (s *Store) Calendar(ctx context.Context, feed int64) (c Calendar, err error) {
	var changed string
	err = s.db.QueryRowContext(ctx, `select revision, changed_at, body, coalesce(nullif(name, ''),
		(select w.name || '/' || c.person from carries c join wedding w on w.id = c.wedding where c.feed = feed.id), '')
		from feed where id = ?`, feed).Scan(&c.Revision, &changed, &c.Gzip, &c.Whose)
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

// Page is what the page of a feed shows: its entries, and nothing else of
// the plans.
type Page struct {
	Joint     string   // what a joint feed is called; empty: the page is one person's own
	Weddings  []string // their titles; of a person's own page one
	Zone      string   // the wedding's, on a person's own page
	Name      string   // the reader's, on a person's own page
	Reminders feed.Reminders
	Entries   []feed.Published
	// Turned is what they came to see otherwise, of each wedding the newest day
	// first. While no calendar has asked for the feed, nothing is new to them:
	// all of it is.
	Turned []Turned
}

// Page is the page that a token opens. ErrUnknown where it opens nothing.
func (s *Store) Page(ctx context.Context, token string) (p Page, err error) {
	id, err := s.feedAt(ctx, s.db, token)
	if err != nil {
		return p, err
	}
	return s.page(ctx, id)
}

// PageOf is the page of somebody's own feed, whatever opens it. ErrUnknown
// where they have none.
func (s *Store) PageOf(ctx context.Context, r Reader) (p Page, err error) {
	id, err := feedOf(ctx, s.db, r)
	if err != nil {
		return p, err
	}
	return s.page(ctx, id)
}

func (s *Store) page(ctx context.Context, id int64) (p Page, err error) {
	f, err := feedByID(ctx, s.db, id)
	if err != nil {
		return p, err
	}
	p.Joint, p.Reminders = f.title, f.reminders
	parts, err := carried(ctx, s.db, id)
	if err != nil {
		return p, err
	}
	var asked bool
	if err := s.db.QueryRowContext(ctx, "select exists (select 1 from asked where feed = ?)", id).Scan(&asked); err != nil {
		return p, err
	}
	for _, at := range parts {
		l, err := ledgerOf(ctx, s.db, at)
		if err != nil {
			return p, err
		}
		p.Entries = append(p.Entries, feed.Shown(l.rows)...)
		w, err := scanWedding(s.db.QueryRowContext(ctx, selectWedding+" where id = ?", at.Wedding))
		if err != nil {
			return p, err
		}
		p.Weddings = append(p.Weddings, w.Title)
		turned, err := turnsOf(ctx, s.db, at, "")
		if err != nil {
			return p, err
		}
		for _, t := range turned {
			if t.Before == nil && !asked {
				continue
			}
			t.Wedding = w.Title
			p.Turned = append(p.Turned, t)
		}
		if !f.joint() {
			if err := p.own(ctx, s.db, w, at.Person); err != nil {
				return p, err
			}
		}
	}
	return p, nil
}

// own adds what a person's own page tells of them and of their wedding. A
// plan that this release cannot read tells nothing, and the page does without.
func (p *Page) own(ctx context.Context, q querier, w Wedding, person string) error {
	doc, err := load(ctx, q, w, w.Version)
	var faults Faults
	if errors.As(err, &faults) {
		return nil
	} else if err != nil {
		return err
	}
	p.Zone = doc.Plan.Wedding.Zone
	for _, who := range doc.Plan.People {
		if who.ID() == person {
			p.Name = who.Name
		}
	}
	return nil
}

// Tick publishes what time alone changes: withdrawn entries that have been
// shown for long enough. A wedding whose plan this release cannot read keeps
// them; the errors of all such are returned, joined.
func (s *Store) Tick(ctx context.Context, now time.Time) error {
	due, err := s.runOut(ctx, now)
	for _, wedding := range due {
		one := s.write(ctx, func(tx *sql.Tx) error { return s.publishNewest(ctx, tx, wedding, now, false) })
		err = errors.Join(err, one)
	}
	return err
}

// withdrawnBy asks as the index ledger_withdrawn answers.
const withdrawnBy = "select distinct wedding from ledger where went != '' and gone = 0 and went <= ?"

// runOut are the weddings with entries that have been shown as withdrawn for
// long enough.
func (s *Store) runOut(ctx context.Context, now time.Time) (weddings []string, err error) {
	rows, err := s.db.QueryContext(ctx, withdrawnBy, stamp(now.Add(-feed.WithdrawnFor)))
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
	if !all {
		return err
	}
	ids, one := jointIDs(ctx, s.db)
	err = errors.Join(err, one)
	for _, id := range ids { // each once, and not with every wedding that it carries
		err = errors.Join(err, s.write(ctx, func(tx *sql.Tx) error {
			p := s.publication(tx, now)
			return p.reissue(ctx, id)
		}))
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

// Told is what somebody's own feed carries: their entries, and for a while
// what was withdrawn. ErrUnknown where they have none.
func (s *Store) Told(ctx context.Context, r Reader) ([]feed.Published, error) {
	id, err := feedOf(ctx, s.db, r)
	if err != nil {
		return nil, err
	}
	l, err := ledgerOf(ctx, s.db, part{id, r})
	return feed.Shown(l.rows), err
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
