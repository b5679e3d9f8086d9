package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"
)

// Address is where somebody's dates are to be had.
type Address struct {
	Wedding string // its name
	Person  string // key
	Name    string
	Part    string
	Token   string // empty where it is revoked
	Left    bool   // they are no longer in the plan; Person is the key they had first
}

// Addresses are those of everybody in the wedding called name, in the order
// of its people, and then the ones that hold of those who have left it.
func (s *Store) Addresses(ctx context.Context, name string) ([]Address, error) {
	doc, err := s.Load(ctx, name)
	if err != nil {
		return nil, err
	}
	tokens, err := s.Tokens(ctx, doc.Plan.ID)
	if err != nil {
		return nil, err
	}
	var all []Address
	for _, p := range doc.Plan.People {
		all = append(all, Address{Wedding: name, Person: p.Key, Name: p.Name, Part: string(p.Part), Token: tokens[p.ID()]})
	}
	for _, id := range slices.Sorted(maps.Keys(tokens)) {
		if !hasID(doc.Plan, id) {
			all = append(all, Address{Wedding: name, Person: id, Left: true, Token: tokens[id]})
		}
	}
	return all, nil
}

// Tokens are the newest addresses that hold of everybody's own feed of the
// wedding with that id, by the lasting ids of persons.
func (s *Store) Tokens(ctx context.Context, wedding string) (map[string]string, error) {
	rows, err := s.db.QueryContext(ctx, `select c.person, a.id from carries c join feed f on f.id = c.feed and f.name = ''
		join address a on a.feed = f.id and a.revoked_at = '' where c.wedding = ? order by f.id desc, a.issued_at`, wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[string]string{}
	for rows.Next() {
		var person string
		var id []byte
		if err := rows.Scan(&person, &id); err != nil {
			return nil, err
		}
		all[person] = s.token(id)
	}
	return all, rows.Err()
}

// tokenOf is the newest address of a feed that holds, or empty.
func (s *Store) tokenOf(ctx context.Context, q querier, feed int64) (string, error) {
	var id []byte
	err := q.QueryRowContext(ctx, `select id from address where feed = ? and revoked_at = ''
		order by issued_at desc limit 1`, feed).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	return s.token(id), nil
}

// pageOf is the address of a feed's page below base, the public address;
// empty where either is not known.
func (s *Store) pageOf(ctx context.Context, tx *sql.Tx, base string, feed int64) (string, error) {
	if base == "" {
		return "", nil
	}
	token, err := s.tokenOf(ctx, tx, feed)
	if err != nil || token == "" {
		return "", err
	}
	return base + "/p/" + token, nil
}

func issue(ctx context.Context, tx *sql.Tx, feed int64, now time.Time) error {
	_, err := tx.ExecContext(ctx, "insert into address (id, feed, issued_at) values (?, ?, ?)", newID(idSize), feed, stamp(now))
	return err
}

// Revoke closes every address of somebody in the wedding called name. With
// again, a new one is issued. Somebody who is no longer in the plan goes by
// the key they had first.
func (s *Store) Revoke(ctx context.Context, name, person string, again bool, now time.Time) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		doc, err := newest(ctx, tx, name)
		if err != nil {
			return err
		}
		id := person
		if p, ok := doc.Plan.Person(person); ok {
			id = p.ID()
		}
		feed, err := feedOf(ctx, tx, Reader{doc.Plan.ID, id})
		if err != nil {
			return fmt.Errorf("person %q: %w", person, err)
		}
		return s.revoke(ctx, tx, feed, again, now)
	})
}

// revoke closes every address of a feed. With again, a new one is issued:
// every entry then leads to another page, and may say all it has to once
// more.
func (s *Store) revoke(ctx context.Context, tx *sql.Tx, feed int64, again bool, now time.Time) error {
	if _, err := tx.ExecContext(ctx, "update address set revoked_at = ? where feed = ? and revoked_at = ''", stamp(now), feed); err != nil {
		return err
	}
	if !again {
		return nil
	}
	if err := issue(ctx, tx, feed, now); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "update feed set brief = 0 where id = ?", feed); err != nil {
		return err
	}
	return s.publishFeed(ctx, tx, feed, now)
}

// feedAt is the feed that a genuine token opens.
func (s *Store) feedAt(ctx context.Context, q querier, token string) (feed int64, err error) {
	id, ok := s.open(feedKind, token)
	if !ok {
		return 0, ErrUnknown
	}
	err = q.QueryRowContext(ctx, "select feed from address where id = ? and revoked_at = ''", id).Scan(&feed)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, ErrUnknown
	}
	return feed, err
}
