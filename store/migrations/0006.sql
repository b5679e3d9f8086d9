-- The contracts themselves, as they were kept beside their agreements: files,
-- typed by what is in them, and links.
create table contract_copy (
  id        integer primary key,
  wedding   text not null references wedding,
  agreement text not null, -- its key
  name      text not null, -- of the file, or what the link is called
  link      text not null, -- empty for a file
  media     text not null, -- media type of a file, or empty
  size      integer not null,
  added_at  text not null,
  added_by  text not null, -- what they sign in with
  body      blob           -- null for a link
) strict;
create index contract_copy_agreement on contract_copy (wedding, agreement);
