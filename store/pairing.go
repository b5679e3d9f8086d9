package store

import (
	"context"
	"database/sql"
	"errors"
)

// pairFeeds tells which feed of the store that was there is which of the
// backup's. They are the same where they share an address, since every feed
// has its first from the beginning. Where two stores of one wedding each gave
// a feed of their own, it is the one of the same reader, or the joint one of
// the same name that carries the same; but none is paired twice: a second
// feed for somebody's key was given to somebody else, who came after them.
const pairFeeds = `
create temp table same (was integer primary key, feed integer not null unique, added integer not null default 0);
insert or ignore into same (was, feed)
	select o.feed, a.feed from old.address o join main.address a using (id) order by o.feed desc;
insert or ignore into same (was, feed)
	select o.id, f.id from old.feed o join old.carries oc on oc.feed = o.id
	join main.carries c using (wedding, person) join main.feed f on f.id = c.feed
	where o.name = '' and f.name = '' order by o.id;
insert or ignore into same (was, feed)
	select o.id, f.id from old.feed o join main.feed f using (name) where o.name != ''
	and (select group_concat(wedding || ' ' || person, char(10) order by wedding, person) from old.carries where feed = o.id)
	is (select group_concat(wedding || ' ' || person, char(10) order by wedding, person) from main.carries where feed = f.id);
update feed set (revision, title, brief, reminders) =
	(select max(feed.revision, o.revision), o.title, o.brief, o.reminders from old.feed o join same on was = o.id where same.feed = feed.id)
	where id in (select feed from same);
`

// addFeeds adds the feeds that were made since the backup: somebody's own
// where its wedding is in the backup and no other is theirs, and joint ones
// all of whose readers are the same people in both: known are those. Joint
// feeds then carry what they did last. What was taken out of one stays out of
// it, as a link that was closed stays closed: whoever has it may no longer
// see that.
const addFeeds = `
insert into same
	select o.id, o.id + (select coalesce(max(id), 0) from main.feed), 1 from old.feed o join old.carries c on c.feed = o.id
	where o.name = '' and o.id not in (select was from same) and c.wedding in (select id from main.wedding)
	and (c.wedding, c.person) not in (select wedding, person from main.carries join main.feed on id = feed where name = '');
create temp table known as
	select wedding, person from old.carries c join old.feed o on o.id = c.feed join same on was = o.id
	where o.name = '' and (added or (same.feed, wedding, person) in (select feed, wedding, person from main.carries));
insert into same
	select id, id + (select coalesce(max(id), 0) from main.feed), 1 from old.feed o
	where name != '' and id not in (select was from same) and name not in (select name from main.feed)
	and not exists (select 1 from old.carries c where c.feed = o.id and (wedding, person) not in known);
insert into feed (id, created_at, revision, changed_at, body, name, title, brief, reminders)
	select same.feed, created_at, revision, changed_at, body, name, title, brief, reminders from old.feed join same on was = id where added;
insert or ignore into carries
	select same.feed, wedding, person from old.carries c join same on was = c.feed join main.feed f on f.id = same.feed
	where (added or f.name != '') and (wedding, person) in known;
delete from carries where feed in (select same.feed from same join main.feed f on f.id = same.feed where f.name != '')
	and ((wedding, person) not in known or
		(feed, wedding, person) not in (select same.feed, wedding, person from old.carries c join same on was = c.feed));
`

// takeAddresses takes over every address of the feeds. One that either store
// has closed is closed.
const takeAddresses = `
update address set revoked_at = (select o.revoked_at from old.address o where o.id = address.id)
	where revoked_at = '' and id in (select o.id from old.address o where o.revoked_at != '');
insert or ignore into address select o.id, same.feed, o.issued_at, o.revoked_at from old.address o join same on was = o.feed;
`

// Feeds that a restore tells of.
const (
	closedSince = `select distinct a.feed from main.address a join old.address o using (id) where a.revoked_at = '' and o.revoked_at != ''`
	givenSince  = `select distinct same.feed from old.address o join same on was = o.feed
		where o.revoked_at = '' and o.id not in (select id from main.address)`
	lacking = `select distinct same.feed from old.carries c join same on was = c.feed join main.feed f on f.id = same.feed
		where f.name != '' and (wedding, person) not in known`
	broken      = `select distinct feed from old.address where revoked_at = ''` // of old
	notTaken    = ` and id not in (select id from main.address)`
	takenPeople = `select same.feed, wedding, person from same join main.carries c on c.feed = same.feed join main.feed f on f.id = c.feed
		where added and f.name = ''`
)

// takeFeeds takes over links, and what joint feeds carry, from old, which is
// kin.
func (s *Store) takeFeeds(ctx context.Context, tx *sql.Tx, old *Store) (l Links, err error) {
	closed, err := numbers(ctx, tx, closedSince)
	if err != nil {
		return l, err
	}
	if _, err := tx.ExecContext(ctx, addFeeds); err != nil {
		return l, err
	}
	given, err := numbers(ctx, tx, givenSince)
	if err != nil {
		return l, err
	}
	without, err := numbers(ctx, tx, lacking)
	if err != nil {
		return l, err
	}
	if _, err := tx.ExecContext(ctx, takeAddresses); err != nil {
		return l, err
	}
	names := newNames(s, old)
	var err1, err2, err3 error
	l.Closed, err1 = names.of(ctx, tx, closed)
	l.Given, err2 = names.of(ctx, tx, given)
	l.Lacking, err3 = names.of(ctx, tx, without)
	return l, errors.Join(err1, err2, err3, takePeople(ctx, tx, old))
}

// takePeople keeps the names of those whose feeds were added, so that
// whoever comes under their key later is told from them.
func takePeople(ctx context.Context, tx *sql.Tx, old *Store) error {
	parts, err := scanParts(tx.QueryContext(ctx, takenPeople))
	if err != nil {
		return err
	}
	for _, at := range parts {
		w, err := weddingCalled(ctx, old.db, at.Wedding)
		if err != nil {
			return err
		}
		name, _, err := lastSeen(ctx, old.db, w, w.Version+1, at.Person)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "insert or replace into setting values (?, ?)", personSetting(at.Reader), name); err != nil {
			return err
		}
	}
	return nil
}
