create table setting (
  name  text primary key,
  value text not null
) strict;

create table wedding (
  id      text primary key,
  name    text not null unique, -- what commands call it
  title   text not null,
  version integer not null      -- the newest
) strict;

create table version (
  wedding  text not null references wedding,
  n        integer not null,
  saved_at text not null,
  document blob not null, -- the plan file, gzipped
  primary key (wedding, n)
) strict;

-- Every key that a line ever had; none is given twice.
create table used_key (
  wedding text not null references wedding,
  id      text not null, -- catering/pay-2
  primary key (wedding, id)
) strict, without rowid;

create table feed (
  id         integer primary key,
  created_at text not null,
  revision   integer not null default 0,
  changed_at text not null default '',
  body       blob not null default x'' -- the published calendar, gzipped
) strict;

-- The (wedding, person) pairs that a feed serves; person is their lasting id.
create table carries (
  feed    integer not null references feed,
  wedding text not null references wedding,
  person  text not null,
  primary key (feed, wedding, person)
) strict, without rowid;

-- An address of a feed. The key file signs the id; the id alone opens nothing.
create table address (
  id         blob primary key, -- 9 random bytes
  feed       integer not null references feed,
  issued_at  text not null,
  revoked_at text not null default ''
) strict, without rowid;

create table reader (
  wedding   text not null references wedding,
  person    text not null,
  reminders text not null,
  primary key (wedding, person)
) strict, without rowid;

create table ledger (
  uid      text primary key,
  wedding  text not null references wedding,
  person   text not null,
  sequence integer not null,
  changed  text not null,
  hash     text not null,
  went     text not null default '',
  gone     integer not null default 0,
  place    integer not null, -- its place in the feed
  entry    text not null     -- the entry as it was published, JSON
) strict, without rowid;
create index ledger_person on ledger (wedding, person, place);
