package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
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
// the only thing that changes a feed, whatever the cause.
func (s *Store) publish(ctx context.Context, tx *sql.Tx, plan *milestones.Plan, now time.Time) error {
	closures, _ := conflicts.ClosuresFor(plan.Wedding.Region)
	items := milestones.Schedule(plan, closures)
	for i := range plan.People {
		if err := ensureFeed(ctx, tx, Reader{plan.ID, plan.People[i].ID()}, now); err != nil {
			return err
		}
	}
	readers, err := readersOf(ctx, tx, plan.ID)
	if err != nil {
		return err
	}
	keys := map[string]string{}
	for i := range plan.People {
		keys[plan.People[i].ID()] = plan.People[i].Key
	}
	for _, r := range readers {
		entries := feed.View(plan, items, keys[r.Person])
		if err := s.revise(ctx, tx, r, entries, today(plan, now), now); err != nil {
			return err
		}
	}
	return s.reissueBodies(ctx, tx, plan.ID, now)
}

// today is the day it is at the wedding.
func today(plan *milestones.Plan, now time.Time) milestones.Date {
	loc, err := time.LoadLocation(plan.Wedding.Zone)
	if err != nil {
		loc = time.UTC
	}
	return milestones.DateOf(now.In(loc))
}

// revise brings one person's part of the ledger up to entries.
func (s *Store) revise(ctx context.Context, tx *sql.Tx, r Reader, entries []feed.Entry, today milestones.Date, now time.Time) error {
	reminders, err := remindersOf(ctx, tx, r)
	if err != nil {
		return err
	}
	page, err := s.pageOf(ctx, tx, r)
	if err != nil {
		return err
	}
	ledger, err := ledgerOf(ctx, tx, r)
	if err != nil {
		return err
	}
	rows := feed.Revise(ledger, feed.Publishable(entries, r.Wedding, r.Person, page, reminders), now, today)
	return keepRows(ctx, tx, r, ledger, rows)
}

func ledgerOf(ctx context.Context, q querier, r Reader) ([]feed.Row, error) {
	rows, err := q.QueryContext(ctx, `select sequence, changed, hash, went, gone, entry from ledger
		where wedding = ? and person = ? order by place`, r.Wedding, r.Person)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []feed.Row
	for rows.Next() {
		var row feed.Row
		var entry []byte
		var sequence int
		var changed, went string
		if err := rows.Scan(&sequence, &changed, &row.Hash, &went, &row.Gone, &entry); err != nil {
			return nil, err
		}
		if err := json.Unmarshal(entry, &row.Published); err != nil {
			return nil, err
		}
		at, err1 := unstamp(changed)
		since, err2 := unstamp(went)
		if err := errors.Join(err1, err2); err != nil {
			return nil, err
		}
		row.Sequence, row.Changed, row.Went = sequence, at, since
		row.Withdrawn = !since.IsZero()
		all = append(all, row)
	}
	return all, rows.Err()
}

// keepRows writes those rows that differ from what the ledger had.
func keepRows(ctx context.Context, tx *sql.Tx, r Reader, had, rows []feed.Row) error {
	old := make(map[string]string, len(had))
	for place, row := range had {
		text, err := rowText(row, place)
		if err != nil {
			return err
		}
		old[row.UID] = text
	}
	put, err := tx.PrepareContext(ctx, `insert or replace into ledger values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`)
	if err != nil {
		return err
	}
	defer put.Close()
	for place, row := range rows {
		text, err := rowText(row, place)
		if err != nil {
			return err
		}
		if old[row.UID] == text {
			continue
		}
		entry, err := json.Marshal(row.Published)
		if err != nil {
			return err
		}
		if _, err := put.ExecContext(ctx, row.UID, r.Wedding, r.Person, row.Sequence, stamp(row.Changed),
			row.Hash, stamp(row.Went), row.Gone, place, string(entry)); err != nil {
			return err
		}
	}
	return nil
}

// rowText is all that the ledger keeps of a row, to compare.
func rowText(row feed.Row, place int) (string, error) {
	text, err := json.Marshal(struct {
		feed.Row
		Place int
	}{row, place})
	return string(text), err
}

// reissueBodies writes anew the calendars that carry the wedding, and raises
// the revision of those whose bytes changed.
func (s *Store) reissueBodies(ctx context.Context, tx *sql.Tx, wedding string, now time.Time) error {
	feeds, err := feedsOf(ctx, tx, wedding)
	if err != nil {
		return err
	}
	for _, f := range feeds {
		body, err := s.body(ctx, tx, f)
		if err != nil {
			return err
		}
		if had, err := unpack(f.body); err == nil && bytes.Equal(had, body) {
			continue
		}
		if _, err := tx.ExecContext(ctx, "update feed set revision = revision + 1, changed_at = ?, body = ? where id = ?",
			stamp(later(now, f.changed)), pack(body), f.id); err != nil {
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

// body is the calendar of a feed as it should be now.
func (s *Store) body(ctx context.Context, tx *sql.Tx, f feedRow) ([]byte, error) {
	readers, err := carried(ctx, tx, f.id)
	if err != nil {
		return nil, err
	}
	cal, titles := feed.Calendar{}, []string{}
	for _, r := range readers {
		rows, err := ledgerOf(ctx, tx, r)
		if err != nil {
			return nil, err
		}
		cal.Published = append(cal.Published, feed.Shown(rows, f.created)...)
		w, err := scanWedding(tx.QueryRowContext(ctx, selectWedding+" where id = ?", r.Wedding))
		if err != nil {
			return nil, err
		}
		titles = append(titles, w.Title)
	}
	cal.Name = strings.Join(titles, ", ")
	return feed.Encode(cal), nil
}
