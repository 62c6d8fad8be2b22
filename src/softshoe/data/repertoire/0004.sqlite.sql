alter table lesson add column owner text not null default '';
