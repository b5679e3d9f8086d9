package store

import (
	"bytes"
	"context"
	"database/sql"
	"path/filepath"
	"strconv"
	"time"

	"banns/feed"
)

// Links are how people's links stand after a restore, against the store that
// was there before.
type Links struct {
	Given   []Who // given since the backup: taken over, they open what they did
	Closed  []Who // closed since the backup: they stay closed
	Broken  []Who // they open nothing any more
	Lacking []Who // joint feeds without somebody's dates whom the backup has not
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
// its weddings are in the backup; joint feeds carry what they did last;
// reminders stay as they were chosen; and every entry and feed counts as newer
// than what phones have. at is the stamp from which all goes on.
func (s *Store) succeed(ctx context.Context, p *present, now time.Time) (at time.Time, links Links, err error) {
	if at, err = s.goesOnAt(ctx, p.old, now); err != nil {
		return at, links, err
	}
	conn, err := s.db.Conn(ctx) // what is attached is attached to one connection
	if err != nil {
		return at, links, err
	}
	defer conn.Close()
	if p.old != nil { // which has the newest form, since it was opened
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
	if _, err := tx.ExecContext(ctx, signedOut); err != nil {
		return at, links, err
	}
	if p.old != nil {
		if links, err = s.takeOver(ctx, tx, p); err != nil {
			return at, links, err
		}
	}
	if _, err := tx.ExecContext(ctx, "insert or replace into setting values (?, ?)", settingRestored, stamp(at)); err != nil {
		return at, links, err
	}
	pub := s.publication(tx, at)
	if err := pub.raise(ctx, p.old); err != nil {
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

// signedOut ends what lets somebody in to the desk without a passphrase: it
// may have been ended since the backup.
const signedOut = `
delete from session;
delete from invitation;
`

// takenAccounts are those who sign in, as they were last: a passphrase that
// was changed stays so, and whoever was shut out does too.
const takenAccounts = `
delete from admits;
delete from account;
insert into account select * from old.account;
insert into admits select * from old.admits where wedding in (select id from main.wedding);
`

// takenShared are the links that show days: those given since the backup open
// what they did, and those closed since stay closed.
const takenShared = `
insert or ignore into shared select * from old.shared where wedding in (select id from main.wedding);
update shared set revoked_at = o.revoked_at from old.shared o where o.id = shared.id and o.revoked_at != '';
`

// taken is what is taken over from old for the weddings of the backup, and,
// of a wedding that the backup has not, the number of its newest version.
const taken = `
insert or ignore into used_key select wedding, id from old.used_key
	where wedding in (select id from main.wedding);
insert or replace into setting select name, value from old.setting
	where name = '` + settingPublic + `' and value != '';
insert into setting
	select '` + settingVersions + `' || id, version from old.wedding where true
	union all select name, value from old.setting where substr(name, 1, 12) = '` + settingVersions + `'
	on conflict (name) do update set value = max(cast(value as integer), cast(excluded.value as integer));
`

// takeOver takes over from p what holds on.
func (s *Store) takeOver(ctx context.Context, tx *sql.Tx, p *present) (l Links, err error) {
	if _, err := tx.ExecContext(ctx, taken+pairFeeds); err != nil {
		return l, err
	}
	kin, err := s.kin(ctx, tx, p)
	if err != nil {
		return l, err
	}
	query := broken
	if kin {
		if _, err := tx.ExecContext(ctx, takenAccounts+takenShared); err != nil {
			return l, err
		}
		if l, err = s.takeFeeds(ctx, tx, p.old); err != nil {
			return l, err
		}
		query += notTaken
	}
	ids, err := numbers(ctx, tx, query)
	if err != nil {
		return l, err
	}
	names := newNames(p.old, s)
	l.Broken, err = names.of(ctx, p.old.db, ids)
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

// raise makes every entry and every feed newer than what phones have, and
// writes the feeds anew from the ledgers, whether or not this program can
// read their plans.
func (p *publication) raise(ctx context.Context, old *Store) error {
	query := "select feed, wedding, person from main.ledger"
	if old != nil {
		query += ` union select same.feed, wedding, person from old.ledger l join same on was = l.feed
			where wedding in (select id from main.wedding)`
	}
	parts, err := scanParts(p.tx.QueryContext(ctx, "select distinct * from ("+query+")"))
	if err != nil {
		return err
	}
	for _, at := range parts {
		seen, err := p.seen(ctx, old, at)
		if err != nil {
			return err
		}
		if _, _, err := p.turn(ctx, at, func(rows []feed.Row) []feed.Row { return feed.Raise(rows, seen.rows, p.now) }); err != nil {
			return err
		}
	}
	feeds, err := numbers(ctx, p.tx, "select id from main.feed")
	if err != nil {
		return err
	}
	for _, id := range feeds {
		if err := p.raiseFeed(ctx, id); err != nil {
			return err
		}
	}
	// What a feed carries no more has left it without a word, as by drop.
	_, err = p.tx.ExecContext(ctx, `update main.ledger set gone = 1, went = case went when '' then ? else went end
		where gone = 0 and (feed, wedding, person) not in main.carries`, stamp(p.now))
	return err
}

// seen is the ledger of a part in old.
func (p *publication) seen(ctx context.Context, old *Store, at part) (ledger, error) {
	if old == nil {
		return ledger{}, nil
	}
	was, err := numbers(ctx, p.tx, "select was from same where feed = ?", at.feed)
	if err != nil || len(was) == 0 {
		return ledger{}, err
	}
	return ledgerOf(ctx, old.db, part{was[0], at.Reader})
}

// raiseFeed writes a feed's calendar anew, as newer than any that a phone has.
func (p *publication) raiseFeed(ctx context.Context, id int64) error {
	f, body, err := p.fitted(ctx, id)
	if err != nil {
		return err
	}
	_, err = p.tx.ExecContext(ctx, "update feed set revision = ?, changed_at = ?, body = ? where id = ?",
		max(f.revision+1, feed.Bound(p.now)), stamp(p.now), pack(body), f.id)
	return err
}
