create table file (
  content text primary key, name text not null, bytes integer not null, kept_at text not null,
  about text not null);
create index file_about on file (about);
create table dance (
  n integer primary key, uid text not null unique, title text not null, title_key text not null,
  counts integer not null, walls integer, level integer, seated integer not null, metre text not null,
  tempo_low real, tempo_high real, turning integer not null, biggest_turn integer not null,
  tags integer not null, restarts integer not null, endings integer not null, arms integer not null,
  errors integer not null, heads integer not null, kept_at text not null, changed_at text not null);
create index dance_title on dance (title_key, n);
create index dance_tempo on dance (tempo_low, tempo_high);
create table dance_text (
  n integer primary key, uid text not null unique, dance integer not null references dance (n) on delete cascade,
  number integer not null, words text not null, events text not null, content text not null, kept_at text not null,
  base text not null, other_base text not null, head integer not null, source text not null, original text not null,
  unique (dance, number));
create index dance_text_content on dance_text (content);
create index dance_text_original on dance_text (original);
create table dance_step (
  step text not null, dance integer not null references dance (n) on delete cascade,
  primary key (step, dance)) without rowid;
create index dance_step_dance on dance_step (dance);
create table song (
  n integer primary key, uid text not null unique, title text not null, title_key text not null, content text not null,
  recording text not null, kept_at text not null);
create index song_title on song (title_key, n);
create index song_content on song (content);
create table song_map (
  song integer not null references song (n) on delete cascade, number integer not null, map text not null,
  kept_at text not null, primary key (song, number));
create table run (
  n integer primary key, uid text not null unique, dance_text text not null references dance_text (uid) on delete cascade,
  song text not null references song (uid) on delete cascade, run text not null, kept_at text not null);
create index run_text on run (dance_text);
create index run_song on run (song);
create table lesson (
  n integer primary key, uid text not null unique, run text not null, lesson text not null, kept_at text not null);
create table label (
  about text not null, uid text not null, label text not null, label_key text not null,
  primary key (about, uid, label_key));
create index label_key on label (label_key);
create table note (
  n integer primary key, about text not null, uid text not null, words text not null, made_at text not null);
create index note_uid on note (uid);
create table dance_song (
  dance integer not null references dance (n) on delete cascade, song integer not null references song (n) on delete cascade,
  words text not null, primary key (dance, song));
create index dance_song_song on dance_song (song);
create table danced (
  n integer primary key, dance integer not null references dance (n) on delete cascade, on_day text not null,
  with_group text not null, song text not null, words text not null,
  unique (dance, on_day, with_group, song));
create index danced_day on danced (on_day);
create table word (word text primary key) without rowid;
create table word_part (
  part text not null, letters integer not null, word text not null,
  primary key (part, letters, word)) without rowid;
create virtual table dance_words using fts5(title, words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
