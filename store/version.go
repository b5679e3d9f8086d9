package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strconv"
	"time"
)

// Version is one saved version of a wedding's plan.
type Version struct {
	N     int
	Saved time.Time
	By    string // who or what saved it, in words; empty where that was not kept
}

// Versions are all versions of the wedding called name, the oldest first.
func (s *Store) Versions(ctx context.Context, name string) ([]Version, error) {
	w, err := weddingCalled(ctx, s.db, name)
	if err != nil {
		return nil, err
	}
	rows, err := s.db.QueryContext(ctx, "select n, saved_at, by from version where wedding = ? order by n", w.ID)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Version
	for rows.Next() {
		var v Version
		var saved string
		if err := rows.Scan(&v.N, &saved, &v.By); err != nil {
			return nil, err
		}
		if v.Saved, err = unstamp(saved); err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, rows.Err()
}

// LoadVersion is version n of the plan of the wedding called name.
func (s *Store) LoadVersion(ctx context.Context, name string, n int) (*Document, error) {
	w, err := weddingCalled(ctx, s.db, name)
	if err != nil {
		return nil, err
	}
	return load(ctx, s.db, w, n)
}

// LoadVersions are those of the versions from one to another, both included,
// of the wedding called name that this program can read, by number.
func (s *Store) LoadVersions(ctx context.Context, name string, from, to int) (map[int]*Document, error) {
	w, err := weddingCalled(ctx, s.db, name)
	if err != nil {
		return nil, err
	}
	rows, err := s.db.QueryContext(ctx, "select n, document from version where wedding = ? and n between ? and ?", w.ID, from, to)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[int]*Document{}
	for rows.Next() {
		var n int
		var packed []byte
		if err := rows.Scan(&n, &packed); err != nil {
			return nil, err
		}
		doc, err := unpacked(w, n, packed)
		var faults Faults
		if errors.As(err, &faults) {
			continue
		} else if err != nil {
			return nil, err
		}
		all[n] = doc
	}
	return all, rows.Err()
}

// Revert saves version n of a wedding's plan as its next version, and
// publishes it. Lines that come back have the keys that they had. What the
// world has done since stays done: what was paid, given and answered, and how
// far each agreement is in its life.
func (s *Store) Revert(ctx context.Context, name string, n int, by string, now time.Time) (done Imported, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		done, err = s.revert(ctx, tx, name, n, by, now)
		return err
	})
	return done, err
}

func (s *Store) revert(ctx context.Context, tx *sql.Tx, name string, n int, by string, now time.Time) (Imported, error) {
	w, err := weddingCalled(ctx, tx, name)
	if err != nil {
		return Imported{}, err
	}
	next, err := nextVersion(ctx, tx, w)
	if err != nil {
		return Imported{}, err
	}
	last, doc, kept, err := reverted(ctx, tx, w, n, w.Version, next)
	if err != nil {
		return Imported{}, err
	}
	done, err := s.saveNext(ctx, tx, w, last.Plan, doc, by, now)
	done.Keeping = kept
	return done, err
}

// Reverted is what going back to version n over version last comes to, as
// Revert does it, unsaved.
func (s *Store) Reverted(ctx context.Context, name string, n, last int) (*Document, Keeping, error) {
	w, err := weddingCalled(ctx, s.db, name)
	if err != nil {
		return nil, Keeping{}, err
	}
	_, doc, kept, err := reverted(ctx, s.db, w, n, last, last+1)
	return doc, kept, err
}

// reverted is version n with what version over knows of the world, as the
// version that is next.
func reverted(ctx context.Context, q querier, w Wedding, n, over, next int) (last, doc *Document, kept Keeping, err error) {
	if last, err = load(ctx, q, w, over); err != nil {
		return nil, nil, kept, err
	}
	old, err := load(ctx, q, w, n)
	if err != nil {
		return nil, nil, kept, err
	}
	doc = &Document{File: last.File, root: clone(old.root)}
	setChild(child(doc.root.Content[0], "wedding"), "version", strconv.Itoa(next))
	if doc, kept, err = doc.keeping(last, storeWins, allUnseen); err != nil {
		err = fmt.Errorf("version %d of %s: %w", n, w.Name, err)
	}
	return last, doc, kept, err
}
