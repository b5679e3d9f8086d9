package store

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"time"

	"banns/milestones"
)

// Newcomer is somebody new under the key of somebody who had left the plan.
type Newcomer struct {
	Key  string
	Name string
	Was  string   // the name of whoever had the key
	Left int      // the first version without them; 0 where that is not known
	From []string // joint feeds that carried whoever left, and do not carry the newcomer
}

// welcome keeps what was published for somebody who has left from whoever
// comes under their key: those who left may still hold its address, and would
// read what is the newcomer's. Feeds that carried them carry the newcomer no
// more, and their own addresses close. Who comes back by the name that they
// had has all as it was.
func (s *Store) welcome(ctx context.Context, tx *sql.Tx, w Wedding, old, plan *milestones.Plan, now time.Time) (all []Newcomer, err error) {
	for _, p := range plan.People {
		if hasID(old, p.ID()) {
			continue
		}
		parts, err := partsOfReader(ctx, tx, Reader{plan.ID, p.ID()})
		if err != nil {
			return nil, err
		}
		if len(parts) == 0 {
			continue
		}
		was, left, err := lastSeen(ctx, tx, w, w.Version, p.ID())
		if err != nil {
			return nil, err
		}
		if strings.EqualFold(was, p.Name) {
			continue
		}
		from, err := s.retire(ctx, tx, parts, now)
		if err != nil {
			return nil, err
		}
		all = append(all, Newcomer{p.Key, p.Name, was, left, from})
	}
	return all, nil
}

// retire takes parts out of their feeds for good, closes those that were one
// person's own, and returns the names of the joint ones.
func (s *Store) retire(ctx context.Context, tx *sql.Tx, parts []part, now time.Time) (joints []string, err error) {
	for _, at := range parts {
		if err := drop(ctx, tx, at, now); err != nil {
			return nil, err
		}
		f, err := feedByID(ctx, tx, at.feed)
		if err != nil {
			return nil, err
		}
		if f.joint() {
			joints = append(joints, f.name)
			err = s.publishFeed(ctx, tx, f.id, now)
		} else {
			err = s.revoke(ctx, tx, f.id, false, now)
		}
		if err != nil {
			return nil, err
		}
	}
	return joints, nil
}

func partsOfReader(ctx context.Context, q querier, r Reader) ([]part, error) {
	return scanParts(q.QueryContext(ctx, "select feed, wedding, person from carries where wedding = ? and person = ? order by feed", r.Wedding, r.Person))
}

func hasID(p *milestones.Plan, id string) bool {
	for i := range p.People {
		if p.People[i].ID() == id {
			return true
		}
	}
	return false
}

// lastSeen is the name that the person with that id had in the last version
// with them in it, of those before one, and the version in which they were
// gone. Versions that this release cannot read are passed over; numbers that
// a restore left out have none. Of somebody whom no version tells of, it is
// the name that a restore took over.
func lastSeen(ctx context.Context, q querier, w Wedding, before int, id string) (name string, left int, err error) {
	all, err := numbers(ctx, q, "select n from version where wedding = ? and n < ? order by n desc", w.ID, before)
	if err != nil {
		return "", 0, err
	}
	left = before
	for _, n := range all {
		doc, err := load(ctx, q, w, int(n))
		var faults Faults
		if errors.As(err, &faults) {
			doc = &Document{Plan: &milestones.Plan{}}
		} else if err != nil {
			return "", 0, err
		}
		for _, p := range doc.Plan.People {
			if p.ID() == id {
				return p.Name, left, nil
			}
		}
		left = int(n)
	}
	name, err = setting(ctx, q, personSetting(Reader{w.ID, id}))
	return name, 0, err
}

// personSetting is under what the name of somebody is kept whose feed a
// restore took over, and whom no version tells of.
func personSetting(r Reader) string { return "person of " + r.Wedding + " " + r.Person }
