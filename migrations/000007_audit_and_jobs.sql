-- Who did what, written in the transaction that did it; and the one way to ask the worker for something.

create table audit_records (
  tenant_id uuid not null,
  id uuid not null,
  at timestamptz not null,
  person_id uuid not null,
  account_id uuid,
  action text not null,
  subject_kind text not null,
  subject_id uuid not null,
  detail jsonb not null,
  from_address text not null default '',
  primary key (tenant_id, id),
  foreign key (tenant_id, person_id) references people
);
create index audit_records_by_subject on audit_records (tenant_id, subject_id, at);
call wall('audit_records', 'account_id = (select own_account())');
call account_adds('audit_records', $$account_id = (select own_account()) and exists (
  select from contacts c where c.tenant_id = audit_records.tenant_id and c.account_id = (select own_account())
    and c.person_id = audit_records.person_id)$$);
call append_only('audit_records');
grant select, insert on audit_records to grainwright_staff;
grant insert on audit_records to grainwright_account;

-- The job library's tables are its own and open to no role of ours but its runner's. This is the reviewed door: the
-- list of tasks is closed and the tenant is the transaction's, whatever the caller says.
create function enqueue_job(task text, subject_id uuid) returns void
language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'enqueue_job needs a tenant'; end if;
  if task not in ('make_photo_derivatives') then raise exception 'no task named %', task; end if;
  perform graphile_worker.add_job(task, json_build_object('tenant_id', tenant, 'subject_id', subject_id),
    job_key => format('%s:%s:%s', task, tenant, subject_id), max_attempts => 12);
end $$;
revoke all on function enqueue_job from public;
grant execute on function enqueue_job to grainwright_staff, grainwright_account, grainwright_worker;
