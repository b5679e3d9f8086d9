-- Who or what saved a version, in words: a command, or a person's name.
alter table version add column by text not null default '';

-- What entries were before a day's changes, as a feed had published them, and
-- after: one row an entry and day, for as long as its page tells of it.
create table change (
  feed    integer not null references feed,
  wedding text not null references wedding,
  person  text not null,
  day     text not null, -- at the wedding
  uid     text not null,
  at      text not null, -- of the last change that day
  before  text not null, -- the entry as it was published, JSON; empty: it was not there
  after   text not null, -- as it is published; empty: it went
  primary key (feed, wedding, person, day, uid)
) strict, without rowid;
