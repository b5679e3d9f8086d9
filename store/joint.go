package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Joint is a feed of several weddings: what one person has to keep in mind of
// all of them, behind one address. Beside it everybody has their own feed of
// each wedding.
type Joint struct {
	Name    string // what commands call it
	Title   string // what its calendar is called
	Token   string // empty where it is revoked
	Bytes   int    // of its calendar
	Brief   bool   // it was too long, and leaves much to its page
	Carries []Carried
}

// Carried is whose dates of which wedding a joint feed has.
type Carried struct {
	Wedding string // its name
	Title   string // of the wedding
	Person  string // key, or the first one of somebody whom no plan tells of
	Name    string // of the person; empty for somebody whom no plan tells of
	Left    bool   // they are no longer in the plan
}

// Pair is one person of one wedding, by what commands call them.
type Pair struct {
	Wedding string // name
	Person  string // key
}

// ErrName is a name that commands could not call a joint feed by.
var ErrName = errors.New("the name has no letter from a to z and no digit")

// Together makes the joint feed called name carry all of who, beside what it
// carries already. Where there is none of that name it is made. Its calendar
// is called title, or what it was, or name. ErrTaken where it carries
// somebody else of one of the weddings: every date would stand in it twice.
func (s *Store) Together(ctx context.Context, name, title string, who []Pair, now time.Time) (j Joint, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		id, err := ensureJoint(ctx, tx, name, title, now)
		if err != nil {
			return err
		}
		for _, pair := range who {
			if err := join(ctx, tx, id, pair); err != nil {
				return err
			}
		}
		if err := s.publishFeed(ctx, tx, id, now); err != nil {
			return err
		}
		j, err = s.joint(ctx, tx, id)
		return err
	})
	return j, err
}

// ensureJoint is the joint feed called name, made where there is none.
func ensureJoint(ctx context.Context, tx *sql.Tx, name, title string, now time.Time) (int64, error) {
	if !sluggable(name) {
		return 0, ErrName
	}
	f, err := jointOf(ctx, tx, name)
	if errors.Is(err, ErrUnknown) {
		return newFeed(ctx, tx, slug(name), cmp.Or(title, name), now)
	}
	if err == nil && title != "" {
		_, err = tx.ExecContext(ctx, "update feed set title = ? where id = ?", title, f.id)
	}
	return f.id, err
}

func jointOf(ctx context.Context, q querier, name string) (feedRow, error) {
	f, err := feedRow{}, ErrUnknown
	if sluggable(name) {
		f, err = scanFeed(q.QueryRowContext(ctx, selectFeed+" where name = ?", slug(name)))
	}
	if errors.Is(err, ErrUnknown) {
		err = fmt.Errorf("joint feed %q: %w", name, err)
	}
	return f, err
}

// sluggable reports whether anything of a name is left in its slug.
func sluggable(name string) bool {
	return strings.ContainsAny(strings.ToLower(name), "abcdefghijklmnopqrstuvwxyz0123456789")
}

// join puts somebody's dates into a feed.
func join(ctx context.Context, tx *sql.Tx, feed int64, pair Pair) error {
	doc, err := newest(ctx, tx, pair.Wedding)
	if err != nil {
		return err
	}
	who, ok := doc.Plan.Person(pair.Person)
	if !ok {
		return fmt.Errorf("%q in %q: %w", pair.Person, pair.Wedding, ErrUnknown)
	}
	at := part{feed, Reader{doc.Plan.ID, who.ID()}}
	others, err := partsOf(ctx, tx, doc.Plan.ID, feed)
	if err != nil {
		return err
	}
	for _, other := range others {
		if other != at {
			return fmt.Errorf("%w: the feed has the dates of %q in %s already, and with %q too each would stand in it twice",
				ErrTaken, other.Person, pair.Wedding, pair.Person)
		}
	}
	return carry(ctx, tx, at)
}

// Apart takes weddings out of the joint feed called name. Their entries leave
// it without being called off, since they are not; what is left may say all
// it has to once more. A wedding's plan need not be readable for it.
func (s *Store) Apart(ctx context.Context, name string, weddings []string, now time.Time) (j Joint, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		f, err := jointOf(ctx, tx, name)
		if err != nil {
			return err
		}
		for _, wedding := range weddings {
			w, err := weddingCalled(ctx, tx, wedding)
			if err != nil {
				return err
			}
			parts, err := partsOf(ctx, tx, w.ID, f.id)
			if err != nil {
				return err
			}
			if len(parts) == 0 {
				return fmt.Errorf("%q in the feed %q: %w", wedding, name, ErrUnknown)
			}
			for _, at := range parts {
				if err := drop(ctx, tx, at, now); err != nil {
					return err
				}
			}
		}
		if _, err := tx.ExecContext(ctx, "update feed set brief = 0 where id = ?", f.id); err != nil {
			return err
		}
		if err := s.publishFeed(ctx, tx, f.id, now); err != nil {
			return err
		}
		j, err = s.joint(ctx, tx, f.id)
		return err
	})
	return j, err
}

// RevokeJoint closes every address of the joint feed called name. With again,
// a new one is issued.
func (s *Store) RevokeJoint(ctx context.Context, name string, again bool, now time.Time) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		f, err := jointOf(ctx, tx, name)
		if err != nil {
			return err
		}
		return s.revoke(ctx, tx, f.id, again, now)
	})
}

// Joint is the joint feed called name.
func (s *Store) Joint(ctx context.Context, name string) (Joint, error) {
	f, err := jointOf(ctx, s.db, name)
	if err != nil {
		return Joint{}, err
	}
	return s.joint(ctx, s.db, f.id)
}

// Joints are all joint feeds by name.
func (s *Store) Joints(ctx context.Context) ([]Joint, error) {
	ids, err := jointIDs(ctx, s.db)
	if err != nil {
		return nil, err
	}
	var all []Joint
	for _, id := range ids {
		j, err := s.joint(ctx, s.db, id)
		if err != nil {
			return nil, err
		}
		all = append(all, j)
	}
	return all, nil
}

// JointsOf are the joint feeds that carry a reader, each with its title and
// its token alone.
func (s *Store) JointsOf(ctx context.Context, r Reader) ([]Joint, error) {
	ids, err := numbers(ctx, s.db, `select f.id from carries c join feed f on f.id = c.feed
		where c.wedding = ? and c.person = ? and f.name != '' order by f.title`, r.Wedding, r.Person)
	if err != nil {
		return nil, err
	}
	var all []Joint
	for _, id := range ids {
		f, err := feedByID(ctx, s.db, id)
		if err != nil {
			return nil, err
		}
		j := Joint{Name: f.name, Title: f.title}
		if j.Token, err = s.tokenOf(ctx, s.db, id); err != nil {
			return nil, err
		}
		all = append(all, j)
	}
	return all, nil
}

func jointIDs(ctx context.Context, q querier) ([]int64, error) {
	return numbers(ctx, q, "select id from feed where name != '' order by name")
}

// numbers are what a query gives, such as ids.
func numbers(ctx context.Context, q querier, query string, args ...any) ([]int64, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []int64
	for rows.Next() {
		var n int64
		if err := rows.Scan(&n); err != nil {
			return nil, err
		}
		all = append(all, n)
	}
	return all, rows.Err()
}

func (s *Store) joint(ctx context.Context, q querier, id int64) (j Joint, err error) {
	f, err := feedByID(ctx, q, id)
	if err != nil {
		return j, err
	}
	j = Joint{Name: f.name, Title: f.title, Brief: f.brief}
	body, err := unpack(f.body)
	if err != nil {
		return j, err
	}
	j.Bytes = len(body)
	if j.Token, err = s.tokenOf(ctx, q, id); err != nil {
		return j, err
	}
	parts, err := carried(ctx, q, id)
	if err != nil {
		return j, err
	}
	for _, at := range parts {
		c, err := carriedAt(ctx, q, at.Reader)
		if err != nil {
			return j, err
		}
		j.Carries = append(j.Carries, c)
	}
	slices.SortFunc(j.Carries, func(a, b Carried) int { return cmp.Compare(a.Wedding, b.Wedding) })
	return j, nil
}

// carriedAt names a reader. In a plan that this release cannot read, they go
// by the key that they had first.
func carriedAt(ctx context.Context, q querier, r Reader) (Carried, error) {
	w, err := weddingCalled(ctx, q, r.Wedding)
	if err != nil {
		return Carried{}, err
	}
	c := Carried{Wedding: w.Name, Title: w.Title, Person: r.Person}
	doc, err := load(ctx, q, w, w.Version)
	var faults Faults
	if errors.As(err, &faults) {
		return c, nil
	} else if err != nil {
		return c, err
	}
	for _, p := range doc.Plan.People {
		if p.ID() == r.Person {
			c.Person, c.Name = p.Key, p.Name
			return c, nil
		}
	}
	c.Left = true
	return c, nil
}
