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

-- Where public events are read, and the last good copy of each.
create table source (
  wedding  text not null references wedding,
  name     text not null,             -- what commands call it
  address  text not null,             -- where it is read again; empty for a file
  private  integer not null,          -- 1: servers on private networks may be read
  ordering text not null,             -- of day and month in a table: day-month, month-day, or empty
  etag     text not null,             -- what the server said of the copy
  modified text not null,
  read_at  text not null,             -- when the copy was last known to be good
  due_at   text not null,             -- when it is to be read again; empty: never
  trouble  text not null default '',  -- why the last try failed
  body     blob not null,             -- the copy, gzipped
  primary key (wedding, name)
) strict, without rowid;
