create table job (
  name text primary key, kind text not null, asked text not null, state text not null, share double precision not null,
  left_s double precision, words text not null, made text not null, fault text, why text not null,
  attempt integer not null, given integer not null, stop integer not null, ends integer not null,
  worker text not null, asked_at text not null, ended_at text not null, changed bigint not null);
create index job_changed on job (changed);
create index job_state on job (state);
