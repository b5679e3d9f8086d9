-- Joint feeds: one address for somebody's dates of several weddings. A feed
-- without a name is one person's own.
alter table feed add column name text not null default '';  -- what commands call a joint feed
alter table feed add column title text not null default ''; -- what its calendar is called
alter table feed add column brief integer not null default 0; -- entries leave much to the page
alter table feed add column reminders text not null default 'alarm';
create unique index feed_name on feed (name) where name != '';

update feed set reminders = (select r.reminders from carries c join reader r using (wedding, person) where c.feed = feed.id)
where id in (select c.feed from carries c join reader r using (wedding, person));
drop table reader;

-- The ledger is kept by feed: what each has told its subscribers.
create table told (
  feed     integer not null references feed,
  uid      text not null,
  wedding  text not null references wedding,
  person   text not null,
  sequence integer not null,
  changed  text not null,
  hash     text not null,
  went     text not null default '',
  gone     integer not null default 0,
  place    integer not null, -- its place in the feed, within its wedding
  entry    text not null,    -- the entry as it was published, JSON
  primary key (feed, uid)
) strict, without rowid;
insert into told select c.feed, l.uid, l.wedding, l.person, l.sequence, l.changed, l.hash, l.went, l.gone, l.place, l.entry
from ledger l join carries c using (wedding, person);
drop table ledger;
alter table told rename to ledger;
create index ledger_part on ledger (feed, wedding, person, place);
create index carries_wedding on carries (wedding, person);
