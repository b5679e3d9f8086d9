package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"banns/feed"
)

// feedRow is a feed as the database has it.
type feedRow struct {
	id       int64
	created  time.Time
	changed  time.Time
	revision int
	body     []byte // gzipped
}

// ensureFeed gives somebody a feed and its first address, where they have
// none.
func ensureFeed(ctx context.Context, tx *sql.Tx, r Reader, now time.Time) error {
	var has bool
	err := tx.QueryRowContext(ctx, "select exists (select 1 from carries where wedding = ? and person = ?)", r.Wedding, r.Person).Scan(&has)
	if err != nil || has {
		return err
	}
	res, err := tx.ExecContext(ctx, "insert into feed (created_at) values (?)", stamp(now))
	if err != nil {
		return err
	}
	id, err := res.LastInsertId()
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "insert into carries values (?, ?, ?)", id, r.Wedding, r.Person); err != nil {
		return err
	}
	return issue(ctx, tx, id, now)
}

func issue(ctx context.Context, tx *sql.Tx, feed int64, now time.Time) error {
	_, err := tx.ExecContext(ctx, "insert into address (id, feed, issued_at) values (?, ?, ?)", newID(idSize), feed, stamp(now))
	return err
}

func readersOf(ctx context.Context, q querier, wedding string) ([]Reader, error) {
	return scanReaders(q.QueryContext(ctx, "select distinct wedding, person from carries where wedding = ? order by feed", wedding))
}

func carried(ctx context.Context, q querier, feed int64) ([]Reader, error) {
	return scanReaders(q.QueryContext(ctx, "select wedding, person from carries where feed = ?", feed))
}

func scanReaders(rows *sql.Rows, err error) ([]Reader, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Reader
	for rows.Next() {
		var r Reader
		if err := rows.Scan(&r.Wedding, &r.Person); err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	return all, rows.Err()
}

func feedsOf(ctx context.Context, q querier, wedding string) ([]feedRow, error) {
	rows, err := q.QueryContext(ctx, `select id, created_at, changed_at, revision, body from feed
		where id in (select feed from carries where wedding = ?) order by id`, wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []feedRow
	for rows.Next() {
		var f feedRow
		var created, changed string
		if err := rows.Scan(&f.id, &created, &changed, &f.revision, &f.body); err != nil {
			return nil, err
		}
		var err1, err2 error
		f.created, err1 = unstamp(created)
		f.changed, err2 = unstamp(changed)
		if err := errors.Join(err1, err2); err != nil {
			return nil, err
		}
		all = append(all, f)
	}
	return all, rows.Err()
}

func remindersOf(ctx context.Context, q querier, r Reader) (feed.Reminders, error) {
	var v feed.Reminders
	err := q.QueryRowContext(ctx, "select reminders from reader where wedding = ? and person = ?", r.Wedding, r.Person).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return feed.ByAlarm, nil
	}
	return v, err
}

// Address is where somebody's dates are to be had.
type Address struct {
	Wedding string // its name
	Person  string // key
	Name    string
	Part    string
	Token   string // empty where it is revoked
}

// Addresses are those of everybody in the wedding called name, in the order
// of its people.
func (s *Store) Addresses(ctx context.Context, name string) ([]Address, error) {
	doc, err := s.Load(ctx, name)
	if err != nil {
		return nil, err
	}
	var all []Address
	for _, p := range doc.Plan.People {
		a := Address{Wedding: name, Person: p.Key, Name: p.Name, Part: string(p.Part)}
		if a.Token, err = s.tokenOf(ctx, s.db, Reader{doc.Plan.ID, p.ID()}); err != nil {
			return nil, err
		}
		all = append(all, a)
	}
	return all, nil
}

// tokenOf is the newest address of a reader's own feed that holds, or empty.
func (s *Store) tokenOf(ctx context.Context, q querier, r Reader) (string, error) {
	var id []byte
	err := q.QueryRowContext(ctx, `select a.id from address a join carries c on c.feed = a.feed
		where c.wedding = ? and c.person = ? and a.revoked_at = ''
		order by a.feed, a.issued_at desc limit 1`, r.Wedding, r.Person).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	return s.token(id), nil
}

// pageOf is the address of a reader's page, or empty where there is none or
// the public address is not set.
func (s *Store) pageOf(ctx context.Context, tx *sql.Tx, r Reader) (string, error) {
	var base string
	err := tx.QueryRowContext(ctx, "select value from setting where name = ?", settingPublic).Scan(&base)
	if errors.Is(err, sql.ErrNoRows) || base == "" {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	token, err := s.tokenOf(ctx, tx, r)
	if err != nil || token == "" {
		return "", err
	}
	return base + "/p/" + token, nil
}

// Revoke closes every address of somebody in the wedding called name. With
// again, a new one is issued.
func (s *Store) Revoke(ctx context.Context, name, person string, again bool, now time.Time) error {
	doc, err := s.Load(ctx, name)
	if err != nil {
		return err
	}
	p, ok := doc.Plan.Person(person)
	if !ok {
		return fmt.Errorf("person %q: %w", person, ErrUnknown)
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		var feed int64
		err := tx.QueryRowContext(ctx, "select feed from carries where wedding = ? and person = ? order by feed limit 1",
			doc.Plan.ID, p.ID()).Scan(&feed)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "update address set revoked_at = ? where feed = ? and revoked_at = ''", stamp(now), feed); err != nil {
			return err
		}
		if !again {
			return nil
		}
		if err := issue(ctx, tx, feed, now); err != nil {
			return err
		}
		return s.publish(ctx, tx, doc.Plan, now)
	})
}

const settingPublic = "public address"

// SetPublic sets the address under which the world reaches the server, such
// as https://dates.example.org, and publishes every wedding anew with it.
func (s *Store) SetPublic(ctx context.Context, base string, now time.Time) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "insert or replace into setting values (?, ?)", settingPublic, base); err != nil {
			return err
		}
		return s.publishAll(ctx, tx, now)
	})
}

// publishAll publishes every wedding: at start, since a new release may word
// things otherwise, and each day, since withdrawn entries run out.
func (s *Store) publishAll(ctx context.Context, tx *sql.Tx, now time.Time) error {
	all, err := weddings(ctx, tx)
	if err != nil {
		return err
	}
	for _, w := range all {
		doc, err := load(ctx, tx, w, w.Version)
		if err != nil {
			return err
		}
		if err := s.publish(ctx, tx, doc.Plan, now); err != nil {
			return err
		}
	}
	return nil
}

// SetReminders keeps what a reader chose to be reminded by, and publishes it.
func (s *Store) SetReminders(ctx context.Context, token string, choice feed.Reminders, now time.Time) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		f, err := s.feedAt(ctx, tx, token)
		if err != nil {
			return err
		}
		readers, err := carried(ctx, tx, f)
		if err != nil {
			return err
		}
		for _, r := range readers {
			if _, err := tx.ExecContext(ctx, "insert or replace into reader values (?, ?, ?)", r.Wedding, r.Person, choice); err != nil {
				return err
			}
			w, err := scanWedding(tx.QueryRowContext(ctx, selectWedding+" where id = ?", r.Wedding))
			if err != nil {
				return err
			}
			doc, err := load(ctx, tx, w, w.Version)
			if err != nil {
				return err
			}
			if err := s.publish(ctx, tx, doc.Plan, now); err != nil {
				return err
			}
		}
		return nil
	})
}

// feedAt is the feed that a genuine token opens.
func (s *Store) feedAt(ctx context.Context, q querier, token string) (feed int64, err error) {
	id, ok := s.open(token)
	if !ok {
		return 0, ErrUnknown
	}
	err = q.QueryRowContext(ctx, "select feed from address where id = ? and revoked_at = ''", id).Scan(&feed)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, ErrUnknown
	}
	return feed, err
}

// Public is the address that SetPublic set, or empty.
func (s *Store) Public(ctx context.Context) (string, error) { return s.Setting(ctx, settingPublic) }
