package store

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"time"
)

// TooSoon is a sign-in that has to wait: too many have failed in a row.
type TooSoon struct{ Until time.Time }

// Error says when a try is looked at again.
func (e TooSoon) Error() string { return "too many tries have failed; wait until " + stamp(e.Until) }

// ErrBusy is a sign-in that was not looked at, since so many wait to be.
var ErrBusy = errors.New("too many are signing in at once")

// SignIn is the account with that name and passphrase. ErrWrong where there
// is none, and TooSoon after several that failed: from the fifth in a row
// each doubles the wait, up to a quarter of an hour; while many fail, under
// whatever names, from the first and up to an hour. A name that nobody has
// waits as any other.
func (s *Store) SignIn(ctx context.Context, name, passphrase string, now time.Time) (a Account, err error) {
	name = strings.TrimSpace(name)
	leave, err := s.tries.enter(ctx)
	if err != nil {
		return a, err
	}
	defer leave()
	a, kept, had, err := s.keptOf(ctx, name)
	if errors.Is(err, ErrUnknown) {
		had = s.tries.stranger(name)
	} else if err != nil {
		return a, err
	}
	if until := had.last.Add(wait(had.times, s.tries.many(now))); now.Before(until) {
		return Account{}, TooSoon{until}
	}
	switch ok, err := sealed(kept, passphrase); {
	case err != nil:
		return Account{}, err
	case !ok:
		if err := s.failed(ctx, a, name, now); err != nil {
			return Account{}, err
		}
		return Account{}, ErrWrong
	}
	if had.times > 0 {
		_, err = s.db.ExecContext(ctx, "update account set failures = 0, failed_at = '' where id = ?", a.ID)
	}
	return a, err
}

// keptOf is the account of that name, its sealed passphrase, and how often
// signing in to it has failed.
func (s *Store) keptOf(ctx context.Context, name string) (a Account, kept string, had failures, err error) {
	var last string
	err = s.db.QueryRowContext(ctx, "select id, name, owner, passphrase, failures, failed_at from account where name = ?", name).
		Scan(&a.ID, &a.Name, &a.Owner, &kept, &had.times, &last)
	if errors.Is(err, sql.ErrNoRows) {
		return a, "", had, ErrUnknown
	} else if err == nil {
		had.last, err = unstamp(last)
	}
	return a, kept, had, err
}

// Sealed reports whether an account has a passphrase.
func (s *Store) Sealed(ctx context.Context, account int64) (sealed bool, err error) {
	err = s.db.QueryRowContext(ctx, "select exists (select 1 from account where id = ? and passphrase != '')", account).Scan(&sealed)
	return sealed, err
}

// failed keeps that a sign-in has failed.
func (s *Store) failed(ctx context.Context, a Account, name string, now time.Time) error {
	s.tries.failed(now)
	if a.ID == 0 {
		s.tries.strange(name, now)
		return nil
	}
	_, err := s.db.ExecContext(ctx, "update account set failures = failures + 1, failed_at = ? where id = ?", stamp(now), a.ID)
	return err
}
