package store

import (
	"bytes"
	"context"
	"database/sql"
	"slices"
	"strings"
	"time"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
)

// Reader is one person of one wedding, as feeds carry them.
type Reader struct {
	Wedding string // its id
	Person  string // the lasting id of the person
}

// publish brings the ledger and the feeds of a wedding up to its plan. It is
// the only thing that changes a feed, whatever the cause. Feeds in whose part
// of the ledger nothing changed are left alone, unless all are to be looked
// at: more of a calendar than its entries may have changed.
func (s *Store) publish(ctx context.Context, tx *sql.Tx, plan *milestones.Plan, now time.Time, all bool) error {
	for i := range plan.People {
		if err := ensureFeed(ctx, tx, Reader{plan.ID, plan.People[i].ID()}, now); err != nil {
			return err
		}
	}
	ledgers, err := s.revise(ctx, tx, plan, now)
	if err != nil {
		return err
	}
	feeds, err := feedsOf(ctx, tx, plan.ID)
	if err != nil {
		return err
	}
	for _, f := range feeds {
		readers, err := carried(ctx, tx, f.id)
		if err != nil {
			return err
		}
		changed := slices.ContainsFunc(readers, func(r Reader) bool { return ledgers[r].changed })
		if !changed && !all && f.revision > 0 {
			continue
		}
		if err := reissue(ctx, tx, f, readers, ledgers, now); err != nil {
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
	return s.publish(ctx, tx, doc.Plan, now, all)
}

// revise brings everybody's part of the ledger up to the plan. Whoever is no
// longer in it sees nothing more.
func (s *Store) revise(ctx context.Context, tx *sql.Tx, plan *milestones.Plan, now time.Time) (map[Reader]ledger, error) {
	closures, _ := conflicts.ClosuresFor(plan.Wedding.Region)
	items := milestones.Schedule(plan, closures)
	keys := map[string]string{}
	for i := range plan.People {
		keys[plan.People[i].ID()] = plan.People[i].Key
	}
	readers, err := readersOf(ctx, tx, plan.ID)
	if err != nil {
		return nil, err
	}
	base, err := setting(ctx, tx, settingPublic)
	if err != nil {
		return nil, err
	}
	restored, err := restoredAt(ctx, tx)
	if err != nil {
		return nil, err
	}
	ledgers := make(map[Reader]ledger, len(readers))
	for _, r := range readers {
		wanted, err := s.wanted(ctx, tx, r, feed.View(plan, items, keys[r.Person]), base)
		if err != nil {
			return nil, err
		}
		l, err := ledgerOf(ctx, tx, r)
		if err != nil {
			return nil, err
		}
		if ledgers[r], err = l.turn(ctx, tx, feed.Revise(l.rows, wanted, now, today(plan, now), restored)); err != nil {
			return nil, err
		}
	}
	return ledgers, nil
}

// wanted are entries as their reader should have them published.
func (s *Store) wanted(ctx context.Context, tx *sql.Tx, r Reader, entries []feed.Entry, base string) ([]feed.Published, error) {
	reminders, err := remindersOf(ctx, tx, r)
	if err != nil {
		return nil, err
	}
	page, err := s.pageOf(ctx, tx, base, r)
	return feed.Publishable(entries, r.Wedding, r.Person, page, reminders), err
}

// today is the day it is at the wedding.
func today(plan *milestones.Plan, now time.Time) milestones.Date {
	loc, err := time.LoadLocation(plan.Wedding.Zone)
	if err != nil {
		loc = time.UTC
	}
	return milestones.DateOf(now.In(loc))
}

// reissue writes a feed's calendar anew, and raises its revision where the
// bytes changed.
func reissue(ctx context.Context, tx *sql.Tx, f feedRow, readers []Reader, ledgers map[Reader]ledger, now time.Time) error {
	body, err := calendarOf(ctx, tx, f, readers, ledgers)
	if err != nil {
		return err
	}
	if had, err := unpack(f.body); err == nil && bytes.Equal(had, body) {
		return nil
	}
	_, err = tx.ExecContext(ctx, "update feed set revision = revision + 1, changed_at = ?, body = ? where id = ?",
		stamp(later(now, f.changed)), pack(body), f.id)
	return err
}

// calendarOf is what a feed says: the ledgers of its readers, which are read
// where they are not given.
func calendarOf(ctx context.Context, tx *sql.Tx, f feedRow, readers []Reader, ledgers map[Reader]ledger) ([]byte, error) {
	cal, titles := feed.Calendar{}, []string{}
	for _, r := range readers {
		l, ok := ledgers[r]
		if !ok {
			var err error
			if l, err = ledgerOf(ctx, tx, r); err != nil {
				return nil, err
			}
		}
		cal.Published = append(cal.Published, feed.Shown(l.rows, f.created)...)
		w, err := scanWedding(tx.QueryRowContext(ctx, selectWedding+" where id = ?", r.Wedding))
		if err != nil {
			return nil, err
		}
		titles = append(titles, w.Title)
	}
	cal.Name = strings.Join(titles, ", ")
	return feed.Encode(cal), nil
}

// later is now, or a second after the last change where the clock was set
// back: Last-Modified never goes back.
func later(now, last time.Time) time.Time {
	if next := last.Add(time.Second); now.Before(next) {
		return next
	}
	return now
}
