-- When a calendar program last asked for a feed, to the day.
create table asked (
  feed integer primary key references feed,
  at   text not null
) strict;
