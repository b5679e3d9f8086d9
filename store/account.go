package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"strings"
	"time"

	"banns/milestones"
)

// Account is somebody who may sign in at the desk.
type Account struct {
	ID    int64
	Name  string // what they sign in with
	Owner bool   // sees every wedding of the store, and plans them all
}

// Invitation is what a one-time link lets somebody in to.
type Invitation struct {
	Owner   bool
	Wedding string // its name; empty for an owner
	Person  string // key of who they are there; empty for a planner
}

var (
	// ErrSpent is a one-time link that was used, or is too old, or was never given.
	ErrSpent = errors.New("the link is spent")
	// ErrWrong is a name and a passphrase that do not belong together.
	ErrWrong = errors.New("the name and the passphrase do not belong together")
	// ErrUnfit is somebody who is to be let in to the desk and is neither of the couple nor a planner.
	ErrUnfit = errors.New("only the couple and planners sign in at the desk")
	// ErrNameTaken is a name that somebody else signs in with.
	ErrNameTaken = errors.New("somebody else signs in with that name")
)

// InvitationLasts is how long a one-time link is good.
const InvitationLasts = 7 * 24 * time.Hour

// Owned reports whether the store has an owner who can sign in.
func (s *Store) Owned(ctx context.Context) (owned bool, err error) {
	err = s.db.QueryRowContext(ctx, "select exists (select 1 from account where owner)").Scan(&owned)
	return owned, err
}

// FirstOwner is the first owner of the store. One that has none gets one that
// no passphrase signs in: it is for stores of invented things.
func (s *Store) FirstOwner(ctx context.Context, now time.Time) (a Account, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		var id int64
		err := tx.QueryRowContext(ctx, "select id from account where owner order by id").Scan(&id)
		if errors.Is(err, sql.ErrNoRows) {
			if id, err = addAccount(ctx, tx, "planner", "", now); err == nil {
				_, err = tx.ExecContext(ctx, "update account set owner = 1 where id = ?", id)
			}
		}
		if err != nil {
			return err
		}
		a, err = accountOf(ctx, tx, id)
		return err
	})
	return a, err
}

// Invite is a new one-time link's secret. An owner's closes those given to
// owners before.
func (s *Store) Invite(ctx context.Context, in Invitation, now time.Time) (secret string, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		var wedding, person any = nil, ""
		if in.Owner {
			if _, err := tx.ExecContext(ctx, "delete from invitation where owner"); err != nil {
				return err
			}
		} else {
			doc, err := newest(ctx, tx, in.Wedding)
			if err != nil {
				return err
			}
			wedding = doc.Plan.ID
			if in.Person != "" {
				who, ok := doc.Plan.Person(in.Person)
				if !ok {
					return ErrUnknown
				}
				if who.Part != milestones.Couple && who.Part != milestones.Planner {
					return ErrUnfit
				}
				person = who.ID()
			}
		}
		var hash []byte
		secret, hash = newSecret()
		_, err := tx.ExecContext(ctx, "insert into invitation (hash, owner, wedding, person, issued_at) values (?, ?, ?, ?, ?)",
			hash, in.Owner, wedding, person, stamp(now))
		return err
	})
	return secret, err
}

// newSecret is a secret for somebody's hands, and what is kept of it.
func newSecret() (secret string, hash []byte) {
	secret = tokenForm.EncodeToString(newID(20))
	return secret, hashOf(secret)
}

func hashOf(secret string) []byte {
	sum := sha256.Sum256([]byte(secret))
	return sum[:]
}

// Accept lets somebody in by a one-time link: as the account that is signed
// in already, or, where that is 0, as a new one. Accepting twice is ErrSpent.
func (s *Store) Accept(ctx context.Context, secret string, as int64, name, passphrase string, now time.Time) (a Account, err error) {
	kept := ""
	if as == 0 {
		if kept, err = seal(passphrase); err != nil {
			return a, err
		}
	}
	err = s.write(ctx, func(tx *sql.Tx) error {
		in, person, err := invited(ctx, tx, secret, now)
		if err != nil {
			return err
		}
		if as == 0 {
			as, err = addAccount(ctx, tx, name, kept, now)
		}
		if err != nil {
			return err
		}
		if in.Owner {
			_, err = tx.ExecContext(ctx, "update account set owner = 1 where id = ?", as)
		} else {
			_, err = tx.ExecContext(ctx, "insert or replace into admits values (?, ?, ?)", as, in.Wedding, person)
		}
		if err != nil {
			return err
		}
		a, err = accountOf(ctx, tx, as)
		return err
	})
	return a, err
}

// Invited reports, with ErrSpent, that a one-time link lets nobody in any
// more. Looking spends nothing.
func (s *Store) Invited(ctx context.Context, secret string, now time.Time) error {
	var good bool
	err := s.db.QueryRowContext(ctx, "select exists (select 1 from invitation where hash = ? and used_at = '' and issued_at > ?)",
		hashOf(secret), stamp(now.Add(-InvitationLasts))).Scan(&good)
	if err == nil && !good {
		err = ErrSpent
	}
	return err
}

// invited spends a one-time link, and tells what it is for: the wedding by
// its id, the person by their lasting one.
func invited(ctx context.Context, tx *sql.Tx, secret string, now time.Time) (in Invitation, person string, err error) {
	var wedding sql.NullString
	err = tx.QueryRowContext(ctx, "update invitation set used_at = ?1 where hash = ?2 and used_at = '' and issued_at > ?3 returning owner, wedding, person",
		stamp(now), hashOf(secret), stamp(now.Add(-InvitationLasts))).Scan(&in.Owner, &wedding, &person)
	if errors.Is(err, sql.ErrNoRows) {
		return in, "", ErrSpent
	}
	in.Wedding = wedding.String
	return in, person, err
}

func addAccount(ctx context.Context, tx *sql.Tx, name, kept string, now time.Time) (int64, error) {
	name = strings.TrimSpace(name)
	res, err := tx.ExecContext(ctx, "insert into account (name, passphrase, created_at) values (?, ?, ?) on conflict do nothing", name, kept, stamp(now))
	if err != nil {
		return 0, err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return 0, errors.Join(err, ErrNameTaken)
	}
	return res.LastInsertId()
}

func accountOf(ctx context.Context, q querier, id int64) (a Account, err error) {
	err = q.QueryRowContext(ctx, "select id, name, owner from account where id = ?", id).Scan(&a.ID, &a.Name, &a.Owner)
	if errors.Is(err, sql.ErrNoRows) {
		return a, ErrUnknown
	}
	return a, err
}
