-- Links that show candidate days side by side to whoever has them, and nothing
-- else of the plan. The key file signs the id; the id alone opens nothing.
create table shared (
  id         blob primary key, -- 9 random bytes
  wedding    text not null references wedding,
  days       text not null, -- with blanks between them
  avoid      text not null, -- the traditions whose days count, likewise
  issued_at  text not null,
  revoked_at text not null default ''
) strict, without rowid;
create index shared_wedding on shared (wedding, issued_at);
