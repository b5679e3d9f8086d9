package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// Restored is what a restore came to.
type Restored struct {
	Backup         // what it came from
	Aside   string // the folder in which the store that was there is kept; empty: there was none
	Unread  error  // why that store could not be compared
	Lost    []Lost // of the store that was there, by the name of the wedding
	Links          // since the backup
	People  []Who  // whose links open something now
	Behind  error  // weddings whose plan this program cannot read: they stand as they were published
	Against bool   // there was a store to compare with
}

// Lost is what the store that was there had of a wedding, and the backup has
// not.
type Lost struct {
	Wedding
	All   bool // the backup has nothing of it
	Saved []Saved
}

// Saved is when a version was saved.
type Saved struct {
	Version int
	At      time.Time
}

// longest is how much older than now a backup may be: beyond that the clock
// is taken to be wrong, which would take sequences to where none can follow.
const longest = 10 * 365 * 24 * time.Hour

// Restore puts the store that the backup in file holds into dir. What is
// there already is kept in a folder of its own, and what must not be undone
// is taken over from it (succeed). All is made ready beside, and named at the
// end; what fails before that changes nothing. ErrBackup where file is none,
// ErrInUse where another process has the store open.
//
// Afterwards every entry counts as newer than what any phone has of it
// (feed.Raise), also where what was published since the backup is not known.
func Restore(ctx context.Context, file, dir string, now time.Time) (done Restored, err error) {
	b, err := openBundle(file)
	if err != nil {
		return done, err
	}
	defer b.zip.Close()
	if err := b.checkClock(now); err != nil {
		return done, err
	}
	if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
		defer os.Remove(dir) // which fails once there is something in it
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return done, fmt.Errorf("make the folder: %w", err)
	}
	work, err := os.MkdirTemp(dir, workForm)
	if err != nil {
		return done, err
	}
	defer os.RemoveAll(work)
	s, err := b.unpack(ctx, work)
	if err != nil {
		return done, err
	}
	defer s.Close()
	p, err := hold(ctx, dir)
	if err != nil {
		return done, err
	}
	defer p.release()
	if done, err = s.replace(ctx, p, work, now); err != nil {
		return done, err
	}
	done.File, done.Made, err = file, b.made, p.give(work, s.key, now)
	done.Aside = p.aside
	return done, err
}

// workForm names the folder in which a store is made ready.
const workForm = ".restore-*"

func (b *bundle) checkClock(now time.Time) error {
	switch {
	case now.Before(b.made):
		return notBackup(b.file, "it was made %s, and this machine's clock says %s; set the clock", moment(b.made), moment(now))
	case now.Sub(b.made) > longest:
		return notBackup(b.file, "it was made %s, and this machine's clock says %s; one of the two is wrong", moment(b.made), moment(now))
	}
	return nil
}

// moment is t as people read it.
func moment(t time.Time) string { return t.UTC().Format("Mon 2 Jan 2006 15:04 UTC") }

// replace makes s, fresh from the backup and in work, what is to take the
// place of p, and closes it.
func (s *Store) replace(ctx context.Context, p *present, work string, now time.Time) (done Restored, err error) {
	if err := p.keep(ctx, s.key, now); err != nil {
		os.RemoveAll(p.aside) // it holds copies
		return done, fmt.Errorf("keep the store that is there: %w", err)
	}
	defer func() {
		if err != nil && p.aside != "" {
			os.RemoveAll(p.aside)
		}
	}()
	done.Unread, done.Against = p.why, p.old != nil
	if done.Weddings, err = contents(ctx, s.db); err != nil {
		return done, err
	}
	if p.old != nil {
		if done.Lost, err = s.lost(ctx, p.old); err != nil {
			return done, err
		}
	}
	at, links, err := s.succeed(ctx, p, now)
	if err != nil {
		return done, err
	}
	done.Links = links
	done.Behind = s.PublishAll(ctx, at)
	if done.People, err = s.linked(ctx); err != nil {
		return done, err
	}
	return done, errors.Join(p.closeOld(), s.Close(), alone(work))
}

// alone reports a database in dir that still has something beside it: what
// was in its log would be lost.
func alone(dir string) error {
	for _, name := range beside {
		if _, err := os.Lstat(filepath.Join(dir, name)); !errors.Is(err, os.ErrNotExist) {
			return fmt.Errorf("%s is left beside the database that was made ready", name)
		}
	}
	return nil
}

// give puts the store that is ready in work into its place. The key comes
// first: a new folder with a key alone is no store yet, and over the store
// that the backup was made of it is the same key. So there is the old store
// or the new one, whenever it ends.
func (p *present) give(work string, key []byte, now time.Time) error {
	if err := p.clear(now); err != nil {
		return err
	}
	if !bytes.Equal(p.key, key) {
		if err := os.Rename(filepath.Join(work, keyName), p.path(keyName)); err != nil {
			return err
		}
	}
	if err := os.Rename(filepath.Join(work, dbName), p.path(dbName)); err != nil {
		return err
	}
	left, err := filepath.Glob(p.path(workForm)) // of one that was cut short
	for _, l := range left {
		err = errors.Join(err, os.RemoveAll(l))
	}
	return errors.Join(err, syncFolder(p.dir))
}

// lost are the versions of old that s has not.
func (s *Store) lost(ctx context.Context, old *Store) (all []Lost, err error) {
	ws, err := old.Weddings(ctx)
	if err != nil {
		return nil, err
	}
	for _, w := range ws {
		was, err := versionsOf(ctx, old.db, w.ID)
		if err != nil {
			return nil, err
		}
		has, err := versionsOf(ctx, s.db, w.ID)
		if err != nil {
			return nil, err
		}
		l := Lost{Wedding: w, All: len(has) == 0}
		for _, v := range was {
			if !containsVersion(has, v) {
				l.Saved = append(l.Saved, v.Saved)
			}
		}
		if len(l.Saved) > 0 {
			all = append(all, l)
		}
	}
	return all, nil
}

// version is a version with its document, as it is kept.
type version struct {
	Saved
	document []byte
}

func containsVersion(all []version, v version) bool {
	for _, a := range all {
		if a.Version == v.Version && a.At.Equal(v.At) && bytes.Equal(a.document, v.document) {
			return true
		}
	}
	return false
}

func versionsOf(ctx context.Context, db *sql.DB, wedding string) (all []version, err error) {
	rows, err := db.QueryContext(ctx, "select n, saved_at, document from version where wedding = ? order by n", wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var v version
		var at string
		if err := rows.Scan(&v.Version, &at, &v.document); err != nil {
			return nil, err
		}
		if v.At, err = unstamp(at); err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, rows.Err()
}
