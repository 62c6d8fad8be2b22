create function softshoe_viewer() returns text language sql stable as
  $$ select coalesce(current_setting('softshoe.viewer', true), '') $$;
create function softshoe_sees(owner text, shared integer) returns boolean language sql stable as
  $$ select coalesce(current_setting('softshoe.viewer', true), '') in ('', owner) or owner = '' or shared = 1 $$;
alter table dance add column owner text not null default softshoe_viewer();
alter table dance add column shared integer not null default 0;
alter table dance_text add column read_by text not null default '';
create table leader (
  uid text primary key, name text not null, name_key text collate "C" not null unique, role text not null,
  secret text not null, made_at text not null, closed integer not null default 0, wrong integer not null default 0,
  wrong_at text not null default '');
create table invitation (
  code text primary key, role text not null, invited_by text not null, made_at text not null, until text not null,
  used_by text not null default '');
create table visit (
  token text primary key, leader text not null references leader (uid) on delete cascade, begun_at text not null,
  until text not null);
create index visit_leader on visit (leader);
create table binned (
  uid text primary key, title text not null, title_key text collate "C" not null,
  owner text not null default softshoe_viewer(), binned_at text not null, packed bytea not null);
alter table dance enable row level security;
alter table dance force row level security;
create policy seen on dance for select using (softshoe_sees(owner, shared));
create policy begun on dance for insert with check (softshoe_sees(owner, shared));
create policy changed on dance for update using (softshoe_sees(owner, shared));
create policy removed on dance for delete using (softshoe_viewer() in ('', owner));
alter table binned enable row level security;
alter table binned force row level security;
create policy seen on binned using (softshoe_viewer() in ('', owner));
alter table dance_text enable row level security;
alter table dance_text force row level security;
create policy seen on dance_text using (exists (select 1 from dance d where d.n = dance));
alter table dance_song enable row level security;
alter table dance_song force row level security;
create policy seen on dance_song using (exists (select 1 from dance d where d.n = dance));
alter table danced enable row level security;
alter table danced force row level security;
create policy seen on danced using (exists (select 1 from dance d where d.n = dance));
alter table run enable row level security;
alter table run force row level security;
create policy seen on run using (exists (select 1 from dance_text t where t.uid = dance_text));
alter table lesson enable row level security;
alter table lesson force row level security;
create policy seen on lesson using (run = '' or exists (select 1 from run r where r.uid = lesson.run));
alter table label enable row level security;
alter table label force row level security;
create policy seen on label using (about <> 'dance' or exists (select 1 from dance d where d.uid = label.uid));
alter table note enable row level security;
alter table note force row level security;
create policy seen on note using (about <> 'dance' or exists (select 1 from dance d where d.uid = note.uid));
