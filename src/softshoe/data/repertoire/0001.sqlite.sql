create table if not exists sheet (
  id integer primary key, title text not null, words text not null, events text not null,
  content text not null unique, kept_at text not null);
create virtual table if not exists sheet_words using fts5(title, words, tokenize = 'unicode61 remove_diacritics 2');
