package store

import (
	"context"
	"encoding/hex"
	"errors"
	"time"
)

// Admits is one wedding that an account sees.
type Admits struct {
	Wedding
	Person string // the lasting id of who they are there; empty for a planner
}

// Admitted are the weddings that an account sees, by name.
func (s *Store) Admitted(ctx context.Context, a Account) ([]Admits, error) {
	rows, err := s.db.QueryContext(ctx, `select w.id, w.name, w.title, w.version, coalesce(a.person, '') from wedding w
		left join admits a on a.wedding = w.id and a.account = ?1
		where ?2 or a.account is not null order by w.name`, a.ID, a.Owner)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Admits
	for rows.Next() {
		var one Admits
		if err := rows.Scan(&one.ID, &one.Name, &one.Title, &one.Version, &one.Person); err != nil {
			return nil, err
		}
		if a.Owner {
			one.Person = ""
		}
		all = append(all, one)
	}
	return all, rows.Err()
}

// Insider is somebody who can sign in to a wedding.
type Insider struct {
	Account
	Person string // the lasting id of who they are there; empty for a planner
}

// Insiders are all who can sign in to the wedding with that id: the owners
// first, then by name.
func (s *Store) Insiders(ctx context.Context, wedding string) ([]Insider, error) {
	rows, err := s.db.QueryContext(ctx, `select a.id, a.name, a.owner, coalesce(d.person, '') from account a
		left join admits d on d.account = a.id and d.wedding = ?
		where a.owner or d.account is not null order by a.owner desc, a.name`, wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Insider
	for rows.Next() {
		var one Insider
		if err := rows.Scan(&one.ID, &one.Name, &one.Owner, &one.Person); err != nil {
			return nil, err
		}
		all = append(all, one)
	}
	return all, rows.Err()
}

// Dismiss takes the wedding with that id from an account, and nothing else:
// it signs in as before, and sees the others that it saw. ErrUnknown where it
// was not admitted.
func (s *Store) Dismiss(ctx context.Context, wedding string, account int64) error {
	return s.gone(ctx, "delete from admits where wedding = ? and account = ?", wedding, account)
}

// OpenInvitation is a one-time link to a wedding that nobody has used yet.
type OpenInvitation struct {
	ID     string // opens nothing
	Person string // the lasting id of whom it lets in; empty for a planner
	Until  time.Time
}

// OpenInvitations are those to the wedding with that id, the oldest first.
func (s *Store) OpenInvitations(ctx context.Context, wedding string, now time.Time) ([]OpenInvitation, error) {
	rows, err := s.db.QueryContext(ctx, `select hash, person, issued_at from invitation
		where wedding = ? and used_at = '' and issued_at > ? order by issued_at, hash`, wedding, stamp(now.Add(-InvitationLasts)))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []OpenInvitation
	for rows.Next() {
		var one OpenInvitation
		var hash []byte
		var issued string
		if err := rows.Scan(&hash, &one.Person, &issued); err != nil {
			return nil, err
		}
		at, err := unstamp(issued)
		if err != nil {
			return nil, err
		}
		one.ID, one.Until = hex.EncodeToString(hash), at.Add(InvitationLasts)
		all = append(all, one)
	}
	return all, rows.Err()
}

// Uninvite closes an open invitation to the wedding with that id. ErrUnknown
// where there is none.
func (s *Store) Uninvite(ctx context.Context, wedding, id string) error {
	hash, err := hex.DecodeString(id)
	if err != nil {
		return ErrUnknown
	}
	return s.gone(ctx, "delete from invitation where wedding = ? and hash = ? and used_at = ''", wedding, hash)
}

// gone deletes, and is ErrUnknown where there was nothing to delete.
func (s *Store) gone(ctx context.Context, statement string, args ...any) error {
	res, err := s.db.ExecContext(ctx, statement, args...)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, ErrUnknown)
	}
	return nil
}
