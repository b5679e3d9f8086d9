-- Who may sign in at the desk.
create table account (
  id         integer primary key,
  name       text not null unique collate nocase, -- what they sign in with
  passphrase text not null,                       -- argon2id, as a PHC string
  owner      integer not null default 0,          -- sees every wedding of the store
  created_at text not null,
  failures   integer not null default 0,          -- in a row
  failed_at  text not null default ''
) strict;

-- What an account that is no owner's may see: a wedding as its planner, where
-- person is empty, or as that person, by their lasting id.
create table admits (
  account integer not null references account,
  wedding text not null references wedding,
  person  text not null default '',
  primary key (account, wedding)
) strict, without rowid;

-- A link that is good once. Only its hash is kept.
create table invitation (
  hash      blob primary key,
  owner     integer not null default 0,
  wedding   text references wedding, -- null for an owner's
  person    text not null default '',
  issued_at text not null,
  used_at   text not null default ''
) strict, without rowid;

create table session (
  id         integer primary key,
  hash       blob not null unique, -- of the cookie
  account    integer not null references account,
  began_at   text not null,
  seen_at    text not null,
  device     text not null -- what the browser calls itself
) strict;
create index session_account on session (account);
