-- Common ground of everything that moves money besides an invoice and its payment: documents that are open like
-- invoices, credit notes, deposits, months that are closed, and the settings that say how a business handles them.

-- The business's own policies. On tax and late charges its adviser decides; nothing is charged unless set.
alter table businesses
  add column credit_note_prefix text not null default 'CN-' check (credit_note_prefix ~ '^[A-Z]{1,6}-$'),
  add column fee_prefix text not null default 'FEE-' check (fee_prefix ~ '^[A-Z]{1,6}-$'),
  -- What may stay open of an invoice and still be let go as a small difference.
  add column small_difference_minor bigint not null default 200 check (small_difference_minor >= 0),
  add column return_fee_minor bigint not null default 0 check (return_fee_minor >= 0),
  add column late_charge_percent numeric(6, 3) not null default 0 check (late_charge_percent between 0 and 100),
  add column late_charge_grace_days integer not null default 0 check (late_charge_grace_days between 0 and 365),
  add column write_off_reclaims_tax boolean not null default false,
  add column duplicate_days integer not null default 30 check (duplicate_days between 0 and 365),
  add column comeback_days integer not null default 90 check (comeback_days between 0 and 1000),
  add column certificate_warning_days integer not null default 30 check (certificate_warning_days between 0 and 365),
  add column page_size text not null default 'letter' check (page_size in ('letter', 'a4')),
  add column logo_key text,
  add check (invoice_prefix <> credit_note_prefix and invoice_prefix <> fee_prefix and credit_note_prefix <> fee_prefix);
grant update (name, address, phone, email, document_note, estimate_valid_days, small_difference_minor, return_fee_minor,
  late_charge_percent, late_charge_grace_days, write_off_reclaims_tax, duplicate_days, comeback_days,
  certificate_warning_days, page_size, logo_key) on businesses to grainwright_staff;
-- The vehicle's owner sees who repaired it, not how the business handles its money.
revoke select on businesses from grainwright_vehicle_owner;
grant select (tenant_id, name, address, phone, email, time_zone, currency, tax_components, tax_basis, aging_basis,
  invoice_prefix, estimate_valid_days, document_note, logo_key) on businesses to grainwright_vehicle_owner;

-- Accounts that one payer pays for together.
create table account_groups (
  tenant_id uuid not null,
  id uuid not null,
  name text not null check (length(name) between 1 and 200),
  primary key (tenant_id, id),
  unique (tenant_id, name)
);
call wall('account_groups');
grant select, insert on account_groups to grainwright_staff;

alter table accounts
  add column group_id uuid,
  add column no_show_fee_minor bigint check (no_show_fee_minor > 0),
  -- Money that comes in is applied to the oldest open document without anybody asking.
  add column applies_money_itself boolean not null default false,
  add column statement_email text not null default '' check (length(statement_email) <= 254),
  -- Whoever took the account over: the old one's open items stay with it.
  add column successor_id uuid,
  add foreign key (tenant_id, group_id) references account_groups,
  add foreign key (tenant_id, successor_id) references accounts,
  add check (successor_id is distinct from id);
grant select (no_show_fee_minor, statement_email, invoice_rule) on accounts to grainwright_account;

alter table document_numbers drop constraint document_numbers_kind_check;
alter table document_numbers add constraint document_numbers_kind_check
  check (kind in ('work_order', 'invoice', 'posting', 'credit_note', 'fee', 'opening'));
insert into document_numbers (tenant_id, kind, next)
  select tenant_id, kind, 1 from businesses, unnest(array['credit_note', 'fee', 'opening']) kind;

-- A fee for a returned payment, a late charge or an opening balance is a document of its own: it ages and is paid like
-- an invoice. A monthly invoice is of many visits.
alter table invoices
  add column kind text not null default 'invoice' check (kind in ('invoice', 'return_fee', 'late_charge', 'opening_balance')),
  -- What the document is for, where no line says it.
  add column subject text not null default '' check (length(subject) <= 500),
  alter column visit_id drop not null,
  alter column worked_on drop not null,
  alter column basis drop not null,
  drop constraint invoices_tenant_id_sequence_key,
  add check (kind <> 'invoice' or (basis is not null and worked_on is not null)),
  add check (kind = 'invoice' or tax_minor = 0);
create unique index invoices_in_sequence on invoices (tenant_id, (case kind when 'invoice' then 'invoice'
  when 'opening_balance' then 'opening' else 'fee' end), sequence);

create table credit_notes (
  tenant_id uuid not null,
  id uuid not null,
  sequence bigint not null check (sequence > 0),
  number text not null,
  account_id uuid not null,
  invoice_id uuid not null,
  issued_on date not null,
  currency char(3) not null,
  reason text not null check (length(reason) between 1 and 500),
  seller jsonb not null,
  buyer jsonb not null,
  -- What the invoice would be computed from now: the next credit is the difference to this.
  remaining jsonb not null,
  net_minor bigint not null check (net_minor >= 0),
  tax_minor bigint not null,
  total_minor bigint not null check (total_minor > 0),
  issued_by uuid not null,
  issued_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  unique (tenant_id, sequence),
  unique (tenant_id, number),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, issued_by) references people,
  check (net_minor + tax_minor = total_minor)
);
create index credit_notes_by_invoice on credit_notes (tenant_id, invoice_id, sequence);
create index credit_notes_by_account on credit_notes (tenant_id, account_id, sequence);

-- Amounts above zero come off the invoice.
create table credit_note_lines (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  position integer not null,
  kind text not null check (kind in ('repair', 'minimum', 'after_hours', 'trip', 'fee')),
  work_order_id uuid,
  line_id uuid,
  description text not null,
  net_minor bigint not null check (net_minor > 0),
  labor_minor bigint not null,
  materials_minor bigint not null,
  primary key (tenant_id, credit_note_id, position),
  foreign key (tenant_id, credit_note_id) references credit_notes,
  foreign key (tenant_id, work_order_id) references work_orders,
  check (kind in ('trip', 'fee') or labor_minor + materials_minor = net_minor)
);

create table credit_note_taxes (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  position integer not null,
  area_code text not null,
  area_name text not null,
  component text not null,
  rate_percent numeric(8, 5) not null,
  base_minor bigint not null,
  tax_minor bigint not null,
  primary key (tenant_id, credit_note_id, position),
  foreign key (tenant_id, credit_note_id) references credit_notes
);

-- What comes off the gross of a place, of which kind; a certificate moves amounts from taxable to exempt.
create table credit_note_tax_bases (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  area_code text not null,
  taxable_minor bigint not null,
  exempt_minor bigint not null,
  non_taxable_minor bigint not null,
  primary key (tenant_id, credit_note_id, area_code),
  foreign key (tenant_id, credit_note_id) references credit_notes
);

create table credit_note_balances (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  unapplied_minor bigint not null check (unapplied_minor >= 0),
  primary key (tenant_id, credit_note_id),
  foreign key (tenant_id, credit_note_id) references credit_notes
);

create table credit_note_applications (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  credit_note_id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null check (amount_minor > 0),
  applied_on date not null,
  applied_by uuid not null,
  applied_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, credit_note_id) references credit_notes (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, applied_by) references people
);
create index credit_note_applications_by_invoice on credit_note_applications (tenant_id, invoice_id);
create index credit_note_applications_by_note on credit_note_applications (tenant_id, credit_note_id);

call wall('credit_notes', 'account_id = (select own_account())');
call wall('credit_note_lines', 'exists (select 1 from credit_notes n where n.tenant_id = credit_note_lines.tenant_id
  and n.id = credit_note_lines.credit_note_id)');
call wall('credit_note_taxes', 'exists (select 1 from credit_notes n where n.tenant_id = credit_note_taxes.tenant_id
  and n.id = credit_note_taxes.credit_note_id)');
call wall('credit_note_tax_bases');
call wall('credit_note_balances', 'exists (select 1 from credit_notes n where n.tenant_id = credit_note_balances.tenant_id
  and n.id = credit_note_balances.credit_note_id)');
call wall('credit_note_applications', 'account_id = (select own_account())');
call append_only('credit_notes');
call append_only('credit_note_lines');
call append_only('credit_note_taxes');
call append_only('credit_note_tax_bases');
call append_only('credit_note_applications');
grant select, insert on credit_notes, credit_note_lines, credit_note_taxes, credit_note_tax_bases,
  credit_note_applications to grainwright_staff;
grant select, insert, update (unapplied_minor) on credit_note_balances to grainwright_staff;
grant select on credit_notes, credit_note_lines, credit_note_taxes, credit_note_balances, credit_note_applications
  to grainwright_account;

alter table journal_lines
  add column credit_note_id uuid,
  add foreign key (tenant_id, account_id, credit_note_id) references credit_notes (tenant_id, account_id, id),
  add check (account_id is not null or credit_note_id is null);

-- A deposit is a debt to the customer until its invoice is issued. Credit that came over from another account of the
-- group, or from older books, is a payment as well: something has to hold what of it is unapplied.
alter table payments
  add column purpose text not null default 'payment' check (purpose in ('payment', 'deposit')),
  -- Whose work a deposit is for.
  add column work_order_id uuid,
  add foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  drop constraint payments_method_check,
  add constraint payments_method_check check (method in ('check', 'card', 'ach', 'cash', 'moved', 'brought_forward')),
  add check (purpose = 'deposit' or work_order_id is null);

-- Months of the books, closed and opened again: the last row of a month counts. What is dated in a closed month is
-- refused, whoever posts it; corrections go into an open one.
create table month_closings (
  tenant_id uuid not null,
  id uuid not null,
  month date not null check (extract(day from month) = 1),
  action text not null check (action in ('closed', 'reopened')),
  reason text not null default '' check (length(reason) <= 500),
  -- The last posting when it was done; what was closed can be computed again from it.
  posting bigint not null,
  done_by uuid not null,
  done_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, month, posting, action),
  foreign key (tenant_id, done_by) references people,
  check (action = 'closed' or reason <> '')
);
create index month_closings_latest on month_closings (tenant_id, month, done_at desc);
call wall('month_closings');
call append_only('month_closings');
grant select, insert on month_closings to grainwright_staff;

create function is_month_closed(tenant uuid, of_day date) returns boolean
language sql stable set search_path = pg_catalog, public, pg_temp as $$
  select coalesce((select c.action = 'closed' from month_closings c
    where c.tenant_id = tenant and c.month = date_trunc('month', of_day)::date
    order by c.done_at desc, c.id desc limit 1), false)
$$;

-- Whoever posts has locked the running number of postings, and so does whoever closes: neither overtakes the other.
create function refuse_closed_month() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if is_month_closed(new.tenant_id, new.occurred_on) then
    raise exception 'the month of % is closed', new.occurred_on using errcode = 'check_violation';
  end if;
  return new;
end $$;
create trigger open_month before insert on journal_entries for each row execute function refuse_closed_month();

create or replace function enqueue_job(task text, subject_id uuid) returns void
language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'enqueue_job needs a tenant'; end if;
  if task not in ('make_photo_derivatives', 'run_statements', 'send_mail') then
    raise exception 'no task named %', task;
  end if;
  perform graphile_worker.add_job(task, json_build_object('tenant_id', tenant, 'subject_id', subject_id),
    job_key => format('%s:%s:%s', task, tenant, subject_id), max_attempts => 12);
end $$;
