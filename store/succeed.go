package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"path/filepath"
	"strconv"
	"time"

	"banns/feed"
)

// Links are how people's links stand after a restore, against the store that
// was there before.
type Links struct {
	Given  []Who // given since the backup: taken over, they open what they did
	Closed []Who // closed since the backup: they stay closed
	Broken []Who // they open nothing any more
}

const (
	// settingRestored is the stamp from which everything went on after the
	// last restore.
	settingRestored = "restored"
	// settingVersions, with a wedding's id, is the newest version that a store
	// had which a restore took the place of: no version's number is given
	// twice.
	settingVersions = "versions of "
)

// restoredAt is when a backup last took the store's place; zero: never.
func restoredAt(ctx context.Context, q querier) (time.Time, error) {
	v, err := setting(ctx, q, settingRestored)
	if err != nil {
		return time.Time{}, err
	}
	return unstamp(v)
}

// nextVersion is the number of the wedding's next version.
func nextVersion(ctx context.Context, tx *sql.Tx, w Wedding) (int, error) {
	v, err := setting(ctx, tx, settingVersions+w.ID)
	if err != nil || v == "" {
		return w.Version + 1, err
	}
	n, err := strconv.Atoi(v)
	return max(n, w.Version) + 1, err
}

// succeed makes s, fresh from a backup, go on from where p ends, as far as
// that is known: a key or a number that was given is not given again; a link
// that was closed stays closed; one that was given opens what it did, where
// its wedding is in the backup; reminders stay as they were chosen; and every
// entry and feed counts as newer than what phones have. at is the stamp from
// which all goes on.
func (s *Store) succeed(ctx context.Context, p *present, now time.Time) (at time.Time, links Links, err error) {
	if at, err = s.goesOnAt(ctx, p.old, now); err != nil {
		return at, links, err
	}
	conn, err := s.db.Conn(ctx) // what is attached is attached to one connection
	if err != nil {
		return at, links, err
	}
	defer conn.Close()
	if p.old != nil {
		if _, err := conn.ExecContext(ctx, "attach ? as old", filepath.Join(p.aside, dbName)); err != nil {
			return at, links, err
		}
		defer conn.ExecContext(context.WithoutCancel(ctx), "detach old")
	}
	tx, err := conn.BeginTx(ctx, nil)
	if err != nil {
		return at, links, err
	}
	defer tx.Rollback()
	if p.old != nil {
		if links, err = s.takeOver(ctx, tx, p); err != nil {
			return at, links, err
		}
	}
	if _, err := tx.ExecContext(ctx, "insert or replace into setting values (?, ?)", settingRestored, stamp(at)); err != nil {
		return at, links, err
	}
	err = errors.Join(raiseLedgers(ctx, tx, p.old, at), raiseFeeds(ctx, tx, at))
	if err != nil {
		return at, links, err
	}
	return at, links, tx.Commit()
}

// spare is how far stamps may have run ahead of the clock: an entry that
// changes oftener than once a second is stamped a second later each time.
const spare = time.Minute

// goesOnAt is later than every stamp that either store has given; where old
// is not known, than any that it can have given.
func (s *Store) goesOnAt(ctx context.Context, old *Store, now time.Time) (time.Time, error) {
	at := now.UTC().Truncate(time.Second)
	if old == nil {
		at = at.Add(spare)
	}
	for _, one := range []*Store{s, old} {
		if one == nil {
			continue
		}
		var last string
		err := one.db.QueryRowContext(ctx, `select coalesce(max(t), '') from (select max(changed) t from ledger
			union all select max(changed_at) from feed union all select value from setting where name = ?)`, settingRestored).Scan(&last)
		if err != nil {
			return at, err
		}
		t, err := unstamp(last)
		if err != nil {
			return at, err
		}
		if t.After(at) {
			at = t
		}
	}
	return at.Add(time.Second), nil
}

// taken is what is taken over from old for the weddings of the backup, and,
// of a wedding that the backup has not, the number of its newest version.
const taken = `
insert or ignore into used_key select wedding, id from old.used_key
	where wedding in (select id from main.wedding);
insert or replace into reader select wedding, person, reminders from old.reader
	where wedding in (select id from main.wedding);
insert or replace into setting select name, value from old.setting
	where name = '` + settingPublic + `' and value != '';
insert into setting
	select '` + settingVersions + `' || id, version from old.wedding where true
	union all select name, value from old.setting where substr(name, 1, 12) = '` + settingVersions + `'
	on conflict (name) do update set value = max(cast(value as integer), cast(excluded.value as integer));
`

// takenFeeds pairs the feeds of both stores that serve the same people, and
// adds those of people who were given one since the backup. An address that
// either store has closed is closed.
const takenFeeds = `
create temp table has as select feed, group_concat(wedding || ' ' || person, char(10) order by wedding, person) who
	from main.carries group by feed;
create temp table had as select feed, group_concat(wedding || ' ' || person, char(10) order by wedding, person) who
	from old.carries group by feed having min(wedding in (select id from main.wedding));
create temp table same as
	select had.feed was, coalesce(min(has.feed), had.feed + (select coalesce(max(id), 0) from main.feed)) feed, min(has.feed) is null added
	from had left join has using (who) group by had.feed;
insert into feed (id, created_at, revision, changed_at, body)
	select same.feed, created_at, revision, changed_at, body from old.feed join same on was = id where added;
insert into carries select same.feed, wedding, person from old.carries c join same on was = c.feed where added;
update feed set revision = max(revision, (select max(o.revision) from old.feed o join same on was = o.id where same.feed = feed.id))
	where id in (select feed from same);
create temp table closed as select distinct wedding, person from main.address a join carries using (feed) join old.address o on o.id = a.id
	where a.revoked_at = '' and o.revoked_at != '';
update address set revoked_at = (select o.revoked_at from old.address o where o.id = address.id)
	where revoked_at = '' and id in (select o.id from old.address o where o.revoked_at != '');
create temp table given as select distinct wedding, person from old.address o join same on was = o.feed join carries on carries.feed = same.feed
	where o.revoked_at = '' and o.id not in (select id from main.address);
insert or ignore into address select o.id, same.feed, o.issued_at, o.revoked_at from old.address o join same on was = o.feed;
`

// takeOver takes over from p what holds on.
func (s *Store) takeOver(ctx context.Context, tx *sql.Tx, p *present) (l Links, err error) {
	if _, err := tx.ExecContext(ctx, taken); err != nil {
		return l, err
	}
	kin, err := s.kin(ctx, tx, p)
	if err != nil {
		return l, err
	}
	names := newNames(s, p.old)
	broken := "select distinct wedding, person from old.address join old.carries using (feed) where revoked_at = ''"
	if kin {
		if _, err := tx.ExecContext(ctx, takenFeeds); err != nil {
			return l, err
		}
		broken += " and id not in (select id from main.address)"
		if l.Given, err = names.of(ctx, tx, "select wedding, person from given"); err != nil {
			return l, err
		}
		if l.Closed, err = names.of(ctx, tx, "select wedding, person from closed"); err != nil {
			return l, err
		}
	}
	l.Broken, err = names.of(ctx, tx, broken)
	return l, err
}

// kin reports whether both stores have the same key, so that an address of
// one is an address of the other. Where the key file is missing, an address
// that both have says so.
func (s *Store) kin(ctx context.Context, tx *sql.Tx, p *present) (kin bool, err error) {
	if len(p.key) == keySize {
		return bytes.Equal(p.key, s.key), nil
	}
	err = tx.QueryRowContext(ctx, "select exists (select 1 from main.address join old.address using (id))").Scan(&kin)
	return kin, err
}

// raiseLedgers makes every entry newer than what phones have.
func raiseLedgers(ctx context.Context, tx *sql.Tx, old *Store, at time.Time) error {
	const readers = "select distinct wedding, person from main.ledger"
	query := readers
	if old != nil {
		query += " union select wedding, person from old.ledger where wedding in (select id from main.wedding)"
	}
	all, err := scanReaders(tx.QueryContext(ctx, query))
	if err != nil {
		return err
	}
	for _, r := range all {
		l, err := ledgerOf(ctx, tx, r)
		if err != nil {
			return err
		}
		var seen ledger
		if old != nil {
			if seen, err = ledgerOf(ctx, old.db, r); err != nil {
				return err
			}
		}
		if _, err := l.turn(ctx, tx, feed.Raise(l.rows, seen.rows, at)); err != nil {
			return err
		}
	}
	return nil
}

// raiseFeeds writes every feed anew from the ledgers, whether or not this
// program can read its plan.
func raiseFeeds(ctx context.Context, tx *sql.Tx, at time.Time) error {
	feeds, err := scanFeeds(tx.QueryContext(ctx, selectFeed))
	if err != nil {
		return err
	}
	for _, f := range feeds {
		readers, err := carried(ctx, tx, f.id)
		if err != nil {
			return err
		}
		body, err := calendarOf(ctx, tx, f, readers, nil)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "update feed set revision = ?, changed_at = ?, body = ? where id = ?",
			max(f.revision+1, feed.Bound(at)), stamp(at), pack(body), f.id); err != nil {
			return err
		}
	}
	return nil
}
