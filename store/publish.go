package store

import (
	"bytes"
	"context"
	"database/sql"
	"slices"
	"time"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
)

// publication brings ledgers and feeds up to plans. It is the only thing that
// changes a feed, whatever the cause.
type publication struct {
	*Store
	tx   *sql.Tx
	now  time.Time
	only int64 // the feed to look at; 0: every feed of the weddings

	tells  bool // readers are told what they see otherwise
	edited bool // somebody edited the plan

	feeds   map[int64]feedRow
	ledgers map[part]ledger
}

func (s *Store) publication(tx *sql.Tx, now time.Time) publication {
	return publication{Store: s, tx: tx, now: now, feeds: map[int64]feedRow{}, ledgers: map[part]ledger{}}
}

// publish brings every feed of a wedding up to its plan. Feeds in whose part
// of the ledger nothing changed are left alone, unless all of people's own
// are to be looked at: more of their calendars than the entries may have
// changed. Readers are told what they see otherwise; of other words alone
// only where somebody edited.
func (s *Store) publish(ctx context.Context, tx *sql.Tx, plan *milestones.Plan, now time.Time, all, edited bool) error {
	for i := range plan.People {
		if err := ensureFeed(ctx, tx, Reader{plan.ID, plan.People[i].ID()}, now); err != nil {
			return err
		}
	}
	p := s.publication(tx, now)
	p.tells, p.edited = true, edited
	if err := p.revise(ctx, plan); err != nil {
		return err
	}
	var touched []int64
	for at, l := range p.ledgers {
		f := p.feeds[at.feed]
		if l.changed || all && !f.joint() || f.revision == 0 {
			touched = append(touched, at.feed)
		}
	}
	slices.Sort(touched)
	for _, id := range slices.Compact(touched) {
		if err := p.reissue(ctx, id); err != nil {
			return err
		}
	}
	return nil
}

// publishNewest publishes the newest plan of the wedding with that id.
func (s *Store) publishNewest(ctx context.Context, tx *sql.Tx, wedding string, now time.Time, all bool) error {
	doc, err := newest(ctx, tx, wedding)
	if err != nil {
		return err
	}
	return s.publish(ctx, tx, doc.Plan, now, all, false)
}

// revise brings the ledgers of all who read the plans up to them. Whoever is
// no longer in one sees nothing more of it.
func (p *publication) revise(ctx context.Context, plans ...*milestones.Plan) error {
	base, err := setting(ctx, p.tx, settingPublic)
	if err != nil {
		return err
	}
	restored, err := restoredAt(ctx, p.tx)
	if err != nil {
		return err
	}
	for _, plan := range plans {
		closures, _ := conflicts.ClosuresFor(plan.Wedding.Region)
		items := milestones.Schedule(plan, closures)
		keys := map[string]string{}
		for i := range plan.People {
			keys[plan.People[i].ID()] = plan.People[i].Key
		}
		parts, err := partsOf(ctx, p.tx, plan.ID, p.only)
		if err != nil {
			return err
		}
		for _, at := range parts {
			wanted, err := p.wanted(ctx, at, feed.View(plan, items, keys[at.Person]), base)
			if err != nil {
				return err
			}
			day := milestones.DateOf(p.now.In(plan.Wedding.Location()))
			was, is, err := p.turn(ctx, at, func(rows []feed.Row) []feed.Row { return feed.Revise(rows, wanted, p.now, day, restored) })
			if err != nil {
				return err
			}
			if err := p.tell(ctx, at, feed.Turns(was, is), day); err != nil {
				return err
			}
		}
	}
	return nil
}

// turn makes of a part's ledger what into does, and returns it as it was and
// as it is.
func (p *publication) turn(ctx context.Context, at part, into func([]feed.Row) []feed.Row) (was, is []feed.Row, err error) {
	l, err := p.ledger(ctx, at)
	if err != nil {
		return nil, nil, err
	}
	is = into(l.rows)
	p.ledgers[at], err = l.turn(ctx, p.tx, is)
	return l.rows, is, err
}

// tell keeps for a page what its reader sees otherwise. To a feed that is new
// all is new, and what one feed alone is published anew for, such as another
// wedding in it, is no change of a date.
func (p *publication) tell(ctx context.Context, at part, turns []feed.Turn, day milestones.Date) error {
	if f, err := p.feed(ctx, at.feed); err != nil || !p.tells || f.revision == 0 {
		return err
	}
	if !p.edited {
		turns = slices.DeleteFunc(turns, func(t feed.Turn) bool { return !t.Less && t.Reworded() })
	}
	return note(ctx, p.tx, at, turns, stamp(p.now), day)
}

// feed is a feed as it was before this publication.
func (p *publication) feed(ctx context.Context, id int64) (f feedRow, err error) {
	f, ok := p.feeds[id]
	if !ok {
		f, err = feedByID(ctx, p.tx, id)
		p.feeds[id] = f
	}
	return f, err
}

// wanted are entries as their reader should have them published in a feed.
func (p *publication) wanted(ctx context.Context, at part, entries []feed.Entry, base string) ([]feed.Published, error) {
	f, err := p.feed(ctx, at.feed)
	if err != nil {
		return nil, err
	}
	page, err := p.pageOf(ctx, p.tx, base, at.feed)
	for i := range entries {
		entries[i].Among = f.joint()
	}
	all := feed.Publishable(entries, at.Wedding, at.Person, page, f.reminders)
	for i := range all {
		all[i].Brief = f.brief
	}
	return all, err
}

// reissue writes a feed's calendar anew, and raises its revision where the
// bytes changed.
func (p *publication) reissue(ctx context.Context, id int64) error {
	f, err := p.feed(ctx, id)
	if err != nil {
		return err
	}
	body, err := p.fitted(ctx, f)
	if err != nil {
		return err
	}
	if had, err := unpack(f.body); err == nil && bytes.Equal(had, body) {
		return nil
	}
	_, err = p.tx.ExecContext(ctx, "update feed set revision = revision + 1, changed_at = ?, body = ? where id = ?",
		stamp(later(p.now, f.changed)), pack(body), f.id)
	return err
}

// fitted is the calendar that f should have. One that is too long says less
// from now on.
func (p *publication) fitted(ctx context.Context, f feedRow) ([]byte, error) {
	body, err := p.encode(ctx, f)
	if err != nil || len(body) <= feed.MostBytes || f.brief {
		return body, err
	}
	if err := p.shorten(ctx, f.id); err != nil {
		return nil, err
	}
	return p.encode(ctx, f)
}

// encode is the calendar of f from the ledgers.
func (p *publication) encode(ctx context.Context, f feedRow) ([]byte, error) {
	cal := feed.Calendar{Name: f.title}
	parts, err := carried(ctx, p.tx, f.id)
	if err != nil {
		return nil, err
	}
	for _, at := range parts {
		l, err := p.ledger(ctx, at)
		if err != nil {
			return nil, err
		}
		cal.Published = append(cal.Published, feed.Shown(l.rows)...)
		if !f.joint() {
			w, err := scanWedding(p.tx.QueryRowContext(ctx, selectWedding+" where id = ?", at.Wedding))
			if err != nil {
				return nil, err
			}
			cal.Name = w.Title
		}
	}
	return feed.Fit(cal, milestones.DateOf(p.now.UTC())), nil
}

// ledger is the ledger of a part as this publication left it.
func (p *publication) ledger(ctx context.Context, at part) (l ledger, err error) {
	l, ok := p.ledgers[at]
	if !ok { // of another wedding
		l, err = ledgerOf(ctx, p.tx, at)
		p.ledgers[at] = l
	}
	return l, err
}

// shorten has a feed leave to its page what it can.
func (p *publication) shorten(ctx context.Context, id int64) error {
	if _, err := p.tx.ExecContext(ctx, "update feed set brief = 1 where id = ?", id); err != nil {
		return err
	}
	parts, err := carried(ctx, p.tx, id)
	if err != nil {
		return err
	}
	for _, at := range parts {
		if _, _, err := p.turn(ctx, at, func(rows []feed.Row) []feed.Row { return feed.Shorten(rows, p.now) }); err != nil {
			return err
		}
	}
	return nil
}

// later is now, or a second after the last change where the clock was set
// back: Last-Modified never goes back.
func later(now, last time.Time) time.Time {
	if next := last.Add(time.Second); now.Before(next) {
		return next
	}
	return now
}
