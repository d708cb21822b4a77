-- Reports, closed months in their order, and what the business says of itself.

-- What a technician gets of the labor of repairs, from one day to another.
create table commission_rates (
  tenant_id uuid not null,
  id uuid not null,
  person_id uuid not null,
  percent numeric(6, 3) not null check (percent between 0 and 100),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  set_by uuid not null,
  set_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, person_id) references staff_members,
  foreign key (tenant_id, set_by) references staff_members,
  exclude using gist (tenant_id with =, person_id with =, daterange(valid_from, valid_to + 1, '[)') with &&)
);
call wall('commission_rates');
grant select, insert, update (valid_to) on commission_rates to grainwright_staff;

-- A month is closed, opened again and closed again, perhaps without a posting in between and by the same clock: its
-- steps are counted, and the last one says how it stands.
alter table month_closings
  drop constraint month_closings_tenant_id_month_posting_action_key,
  add column step integer not null default 1 check (step > 0),
  add check ((action = 'closed') = (step % 2 = 1));
alter table month_closings alter column step drop default;
drop index month_closings_latest;
create unique index month_closings_steps on month_closings (tenant_id, month, step);
create or replace function is_month_closed(tenant uuid, of_day date) returns boolean
language sql stable set search_path = pg_catalog, public, pg_temp as $$
  select coalesce((select c.action = 'closed' from month_closings c
    where c.tenant_id = tenant and c.month = date_trunc('month', of_day)::date
    order by c.step desc limit 1), false)
$$;

-- Counted up with every change, so that nobody overwrites what they have not seen.
alter table businesses
  add column settings_revision integer not null default 1,
  add column logo_media_type text check (logo_media_type in ('image/png', 'image/jpeg')),
  add check ((logo_key is null) = (logo_media_type is null));
grant update (settings_revision, logo_media_type) on businesses to grainwright_staff;
grant select (logo_media_type) on businesses to grainwright_vehicle_owner;
-- Whoever signs in is offered their businesses by name.
grant update (name) on registry.tenants to grainwright_registry;

-- Reports ask by the day.
create index journal_entries_by_day on journal_entries (tenant_id, occurred_on);
create index invoices_by_day on invoices (tenant_id, issued_on);
create index credit_notes_by_day on credit_notes (tenant_id, issued_on);
create index invoice_voids_by_day on invoice_voids (tenant_id, voided_on);
create index write_offs_by_day on write_offs (tenant_id, written_off_on);
create index decisions_by_moment on decisions (tenant_id, decided_at);
create index credit_note_lines_by_work_order on credit_note_lines (tenant_id, work_order_id);
create index invoice_lines_by_work_order on invoice_lines (tenant_id, work_order_id);

-- As before, but no path of whoever posts decides which tables it looks at.
create or replace function check_entry_balance() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
declare
  entry uuid;
  total numeric;
  lines integer;
begin
  if tg_table_name = 'journal_entries' then entry := new.id; else entry := new.entry_id; end if;
  select coalesce(sum(amount_minor), 0), count(*) into total, lines
    from journal_lines where tenant_id = new.tenant_id and entry_id = entry;
  if lines < 2 or total <> 0 then
    raise exception 'journal entry % does not balance: % over % lines', entry, total, lines using errcode = 'check_violation';
  end if;
  return null;
end $$;
