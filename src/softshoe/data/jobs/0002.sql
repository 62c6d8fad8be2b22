alter table job add column owner text not null default '';
create index job_owner on job (owner);
