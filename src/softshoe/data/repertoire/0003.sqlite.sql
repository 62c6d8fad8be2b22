alter table dance add column owner text not null default '';
alter table dance add column shared integer not null default 0;
alter table dance_text add column read_by text not null default '';
create table leader (
  uid text primary key, name text not null, name_key text not null unique, role text not null, secret text not null,
  made_at text not null, closed integer not null default 0, wrong integer not null default 0,
  wrong_at text not null default '');
create table invitation (
  code text primary key, role text not null, invited_by text not null, made_at text not null, until text not null,
  used_by text not null default '');
create table visit (
  token text primary key, leader text not null references leader (uid) on delete cascade, begun_at text not null,
  until text not null);
create index visit_leader on visit (leader);
create table binned (
  uid text primary key, title text not null, title_key text not null, owner text not null default '',
  binned_at text not null, packed blob not null);
