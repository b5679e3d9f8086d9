package store

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// Session is one browser that is signed in.
type Session struct {
	ID     int64
	Began  time.Time
	Seen   time.Time // to the hour
	Device string    // what the browser calls itself
}

// How long a session lasts without being used, and how long at the most.
const (
	SessionIdle = 30 * 24 * time.Hour
	SessionMost = 180 * 24 * time.Hour
)

// Begin begins a session of an account, and is the secret for its cookie.
func (s *Store) Begin(ctx context.Context, account int64, device string, now time.Time) (secret string, err error) {
	secret, hash := newSecret()
	const most = 200 // characters of a device's name
	if r := []rune(device); len(r) > most {
		device = string(r[:most])
	}
	_, err = s.db.ExecContext(ctx, "insert into session (hash, account, began_at, seen_at, device) values (?, ?, ?, ?, ?)",
		hash, account, stamp(now), stamp(now), device)
	return secret, err
}

// SignedIn is the account whose session has that secret, and the session's
// id. ErrUnknown where there is none, or none any more.
func (s *Store) SignedIn(ctx context.Context, secret string, now time.Time) (a Account, session int64, err error) {
	var seen string
	err = s.db.QueryRowContext(ctx, `select a.id, a.name, a.owner, s.id, s.seen_at from session s join account a on a.id = s.account
		where s.hash = ? and s.seen_at > ? and s.began_at > ?`,
		hashOf(secret), stamp(now.Add(-SessionIdle)), stamp(now.Add(-SessionMost))).Scan(&a.ID, &a.Name, &a.Owner, &session, &seen)
	if errors.Is(err, sql.ErrNoRows) {
		return a, 0, ErrUnknown
	} else if err != nil {
		return a, 0, err
	}
	last, err := unstamp(seen)
	if err == nil && now.Sub(last) >= time.Hour { // a page is not to cost a write
		_, err = s.db.ExecContext(ctx, "update session set seen_at = ? where id = ?", stamp(now), session)
	}
	return a, session, err
}

// Sessions are those of an account, the last used first.
func (s *Store) Sessions(ctx context.Context, account int64, now time.Time) ([]Session, error) {
	rows, err := s.db.QueryContext(ctx, `select id, began_at, seen_at, device from session
		where account = ? and seen_at > ? and began_at > ? order by seen_at desc, id desc`,
		account, stamp(now.Add(-SessionIdle)), stamp(now.Add(-SessionMost)))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Session
	for rows.Next() {
		var one Session
		var began, seen string
		if err := rows.Scan(&one.ID, &began, &seen, &one.Device); err != nil {
			return nil, err
		}
		var err1, err2 error
		one.Began, err1 = unstamp(began)
		one.Seen, err2 = unstamp(seen)
		if err := errors.Join(err1, err2); err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, rows.Err()
}

// End ends a session of an account; ErrUnknown where it is not theirs.
func (s *Store) End(ctx context.Context, account, session int64) error {
	res, err := s.db.ExecContext(ctx, "delete from session where id = ? and account = ?", session, account)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, ErrUnknown)
	}
	return nil
}

// ChangePassphrase gives an account another passphrase, and ends its other
// sessions. ErrWrong where the old one is not right.
func (s *Store) ChangePassphrase(ctx context.Context, a Account, old, wanted string, keep int64, now time.Time) error {
	if _, err := s.SignIn(ctx, a.Name, old, now); err != nil {
		return err
	}
	kept, err := seal(wanted)
	if err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		_, err1 := tx.ExecContext(ctx, "update account set passphrase = ? where id = ?", kept, a.ID)
		_, err2 := tx.ExecContext(ctx, "delete from session where account = ? and id != ?", a.ID, keep)
		return errors.Join(err1, err2)
	})
}
