drop table word;
create table word (
  word text collate "C" not null, whose text not null, primary key (word, whose));
insert into word (word, whose)
  select distinct found.word, case when d.shared = 1 then '' else d.owner end from dance d join dance_words s on s.dance = d.n
  cross join lateral regexp_split_to_table(s.title || ' ' || s.words, ' +') as found (word) where found.word <> '';
delete from word_part p where not exists (select 1 from word w where w.word = p.word);
alter table word enable row level security;
alter table word force row level security;
create policy seen on word using (whose in ('', (select softshoe_viewer())) or (select softshoe_viewer()) = '');
alter table word_part enable row level security;
alter table word_part force row level security;
create policy seen on word_part for select using (exists (select 1 from word w where w.word = word_part.word));
create policy entered on word_part for insert with check (true);
drop policy seen on dance;
create policy seen on dance for select using (
  shared = 1 or owner in ('', (select softshoe_viewer())) or (select softshoe_viewer()) = '');
alter table file drop constraint file_pkey;
alter table file add primary key (content, about);
alter table file enable row level security;
alter table file force row level security;
create policy seen on file for select using (
  exists (select 1 from dance_text t where t.uid = about) or exists (select 1 from song s where s.uid = about));
create policy entered on file for insert with check (true);
alter table lesson add column owner text not null default softshoe_viewer();
drop policy seen on lesson;
create policy seen on lesson using (
  case when run = '' then owner = '' or softshoe_viewer() in ('', owner)
  else exists (select 1 from run r where r.uid = lesson.run) end);
drop policy seen on label;
create policy seen on label using (
  case about when 'dance' then exists (select 1 from dance d where d.uid = label.uid)
  when 'run' then exists (select 1 from run r where r.uid = label.uid)
  when 'lesson' then exists (select 1 from lesson l where l.uid = label.uid) else true end);
drop policy seen on note;
create policy seen on note using (
  case about when 'dance' then exists (select 1 from dance d where d.uid = note.uid)
  when 'run' then exists (select 1 from run r where r.uid = note.uid)
  when 'lesson' then exists (select 1 from lesson l where l.uid = note.uid) else true end);
create function softshoe_keeps_whose() returns trigger language plpgsql as
  $$ begin if old.owner <> '' and softshoe_viewer() not in ('', old.owner) and (new.owner, new.shared) is distinct from (old.owner, old.shared) then raise exception 'this dance belongs to somebody else'; end if; return new; end $$;
create trigger keeps_whose before update on dance for each row execute function softshoe_keeps_whose();
alter table leader enable row level security;
alter table leader force row level security;
create policy seen on leader using (softshoe_viewer() = '');
alter table invitation enable row level security;
alter table invitation force row level security;
create policy seen on invitation using (softshoe_viewer() = '');
alter table visit enable row level security;
alter table visit force row level security;
create policy seen on visit using (softshoe_viewer() = '');
