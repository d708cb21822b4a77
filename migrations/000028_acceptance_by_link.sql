-- Acceptance at a distance: a link to the vehicle's owner, who signs while nobody of the business is there.

alter table businesses add column acceptance_link_days integer not null default 14
  check (acceptance_link_days between 1 and 90);
grant update (acceptance_link_days) on businesses to grainwright_staff;

alter table access_links add unique (tenant_id, work_order_id, id);

-- For whom a link to accept finished work was made, and where it went.
create table acceptance_requests (
  tenant_id uuid not null,
  link_id uuid not null,
  work_order_id uuid not null,
  owner_name text not null check (length(owner_name) between 1 and 200),
  phone text not null default '' check (length(phone) <= 40),
  email text not null default '' check (length(email) <= 254),
  -- When it was put on record that nobody answered until its last day. No answer is never acceptance.
  unanswered_at timestamptz,
  primary key (tenant_id, link_id),
  foreign key (tenant_id, work_order_id, link_id) references access_links (tenant_id, work_order_id, id),
  check (phone <> '' or email <> '')
);
create index acceptance_requests_by_work_order on acceptance_requests (tenant_id, work_order_id);
create index acceptance_requests_open on acceptance_requests (tenant_id) where unanswered_at is null;
call wall('acceptance_requests');
grant select, insert, update (unanswered_at) on acceptance_requests to grainwright_staff;

-- Either somebody of the staff took the answer, or the signer gave it alone, by a link.
alter table acceptances
  alter column taken_by drop not null,
  add column link_id uuid,
  add column from_address text not null default '',
  add foreign key (tenant_id, work_order_id, link_id) references access_links (tenant_id, work_order_id, id),
  add check (num_nonnulls(taken_by, link_id) = 1),
  add check (link_id is null or visit_signature_id is null);
create unique index acceptances_once_by_link on acceptances (tenant_id, link_id) where link_id is not null;
-- An answer by a link is written in the role of whoever holds it, and never by the staff.
call staff_adds('acceptances', 'link_id is null');

-- What a vehicle's owner does by a link is nobody's of the business or the account.
alter table work_order_steps
  alter column person_id drop not null,
  add check (person_id is not null or event in ('accepted', 'reworked_done', 'not_accepted'));
alter table audit_records
  alter column person_id drop not null,
  add check (person_id is not null or (account_id is null and detail ? 'by_link'));

-- The vehicle's owner reads the link whose secret they hold, and all that follows hangs on it.
create policy vehicle_owner on access_links to grainwright_vehicle_owner
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and purpose = 'acceptance' and work_order_id = (select own_work_order())
    and secret_hash = (select nullif(current_setting('app.link_hash', true), '')))
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid) and false);
grant select (tenant_id, id, purpose, work_order_id, secret_hash, expires_at, revoked_at)
  on access_links to grainwright_vehicle_owner;
create function own_link() returns uuid language sql stable set search_path = pg_catalog, public, pg_temp as $$
  select l.id from access_links l
  where l.tenant_id = nullif(current_setting('app.tenant_id', true), '')::uuid
    and l.secret_hash = nullif(current_setting('app.link_hash', true), '')
$$;
revoke all on function own_link from public;
grant execute on function own_link to grainwright_vehicle_owner;

-- One answer, to finished work, while the link opens.
create policy vehicle_owner on acceptances to grainwright_vehicle_owner
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and work_order_id = (select own_work_order()) and link_id = (select own_link()))
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and work_order_id = (select own_work_order()) and link_id = (select own_link())
    and exists (select from work_orders w
      where w.tenant_id = acceptances.tenant_id and w.id = acceptances.work_order_id and w.state = 'done')
    and exists (select from access_links l
      where l.tenant_id = acceptances.tenant_id and l.id = acceptances.link_id
        and l.revoked_at is null and l.expires_at > acceptances.accepted_at));
grant select, insert on acceptances to grainwright_vehicle_owner;

-- Their yes ends the work, and nothing else about it is theirs to change.
grant update (state) on work_orders to grainwright_vehicle_owner;
create function check_owner_change() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if old.state <> 'done' or new.state <> 'accepted' or not exists (select from acceptances a
      where a.tenant_id = new.tenant_id and a.work_order_id = new.id and a.link_id = own_link()
        and a.outcome <> 'not_accepted') then
    raise exception 'a vehicle''s owner only accepts finished work' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $$;
create trigger owner_change before update on work_orders for each row
  when (current_user = 'grainwright_vehicle_owner') execute function check_owner_change();

-- The step and the record that go with the answer; they are written and not read.
create policy vehicle_owner on work_order_steps to grainwright_vehicle_owner
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid) and false)
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and work_order_id = (select own_work_order()) and person_id is null
    and exists (select from acceptances a
      where a.tenant_id = work_order_steps.tenant_id and a.work_order_id = work_order_steps.work_order_id
        and a.link_id = (select own_link()) and a.accepted_at = work_order_steps.happened_at
        and case a.outcome when 'not_accepted' then (event, to_state) = ('not_accepted', 'done')
          else event in ('accepted', 'reworked_done') and to_state = 'accepted' end));
create policy vehicle_owner on audit_records to grainwright_vehicle_owner
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid) and false)
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and person_id is null and detail ->> 'by_link' = (select own_link())::text
    and action in ('acceptance_taken', 'work_order_accepted', 'work_order_reworked_done')
    and (subject_id = (select own_work_order()) or exists (select from acceptances a
      where a.tenant_id = audit_records.tenant_id and a.id = audit_records.subject_id)));
grant insert on work_order_steps, audit_records to grainwright_vehicle_owner;
grant execute on function enqueue_job to grainwright_vehicle_owner;

-- The newest answer to a finished work order says whether it waits for the owner or for the technician.
create index acceptances_by_work_order on acceptances (tenant_id, work_order_id, accepted_at desc, id);
