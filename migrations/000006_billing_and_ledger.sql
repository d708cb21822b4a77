-- Invoices, payments and the double-entry ledger. Documents and postings are append-only; what is still open stands
-- in two small tables whose checks make it impossible to apply more than there is.

create table invoices (
  tenant_id uuid not null,
  id uuid not null,
  sequence bigint not null check (sequence > 0),
  number text not null,
  account_id uuid not null,
  visit_id uuid not null,
  issued_on date not null,
  due_on date not null check (due_on >= issued_on),
  worked_on date not null,
  currency char(3) not null,
  seller jsonb not null,
  buyer jsonb not null,
  certificate_number text not null default '',
  -- Everything it was computed from, so that a credit can be computed against it.
  basis jsonb not null,
  net_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  issued_by uuid not null,
  issued_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  unique (tenant_id, sequence),
  unique (tenant_id, number),
  foreign key (tenant_id, account_id, visit_id) references visits (tenant_id, account_id, id),
  foreign key (tenant_id, issued_by) references people,
  check (net_minor + tax_minor = total_minor)
);
create index invoices_by_account on invoices (tenant_id, account_id, sequence);
create index invoices_by_visit on invoices (tenant_id, visit_id);

create table invoice_lines (
  tenant_id uuid not null,
  invoice_id uuid not null,
  position integer not null,
  kind text not null check (kind in ('repair', 'minimum', 'after_hours', 'trip', 'fee')),
  work_order_id uuid,
  line_id uuid,
  code text not null,
  description text not null,
  trail text not null default '',
  net_minor bigint not null,
  labor_minor bigint not null,
  materials_minor bigint not null,
  primary key (tenant_id, invoice_id, position),
  foreign key (tenant_id, invoice_id) references invoices,
  foreign key (tenant_id, work_order_id) references work_orders,
  check (kind in ('trip', 'fee') or labor_minor + materials_minor = net_minor)
);

-- The vehicles on an invoice. A work order is billed once; the index is also the guard against two people at once.
create table invoice_work_orders (
  tenant_id uuid not null,
  invoice_id uuid not null,
  work_order_id uuid not null,
  position integer not null,
  vehicle text not null,
  numbers text not null default '',
  acceptance_id uuid,
  subtotal_minor bigint not null,
  primary key (tenant_id, invoice_id, work_order_id),
  unique (tenant_id, work_order_id),
  foreign key (tenant_id, invoice_id) references invoices,
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, acceptance_id) references acceptances
);

create table invoice_taxes (
  tenant_id uuid not null,
  invoice_id uuid not null,
  position integer not null,
  area_code text not null,
  area_name text not null,
  component text not null,
  rate_percent numeric(8, 5) not null,
  base_minor bigint not null,
  tax_minor bigint not null,
  primary key (tenant_id, invoice_id, position),
  foreign key (tenant_id, invoice_id) references invoices
);

-- Gross = taxable + exempt + non-taxable, per place.
create table invoice_tax_bases (
  tenant_id uuid not null,
  invoice_id uuid not null,
  area_code text not null,
  taxable_minor bigint not null,
  exempt_minor bigint not null,
  non_taxable_minor bigint not null,
  primary key (tenant_id, invoice_id, area_code),
  foreign key (tenant_id, invoice_id) references invoices
);

create table invoice_balances (
  tenant_id uuid not null,
  invoice_id uuid not null,
  open_minor bigint not null check (open_minor >= 0),
  primary key (tenant_id, invoice_id),
  foreign key (tenant_id, invoice_id) references invoices
);
create index invoice_balances_open on invoice_balances (tenant_id, invoice_id) where open_minor > 0;

create table payments (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  method text not null check (method in ('check', 'card', 'ach', 'cash')),
  reference text not null default '' check (length(reference) <= 80),
  amount_minor bigint not null check (amount_minor > 0),
  currency char(3) not null,
  received_on date not null,
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, recorded_by) references people
);
create index payments_by_account on payments (tenant_id, account_id, received_on, id);
create index payments_by_day on payments (tenant_id, received_on, id);

create table payment_balances (
  tenant_id uuid not null,
  payment_id uuid not null,
  unapplied_minor bigint not null check (unapplied_minor >= 0),
  primary key (tenant_id, payment_id),
  foreign key (tenant_id, payment_id) references payments
);

create table payment_applications (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null check (amount_minor > 0),
  applied_on date not null,
  applied_by uuid not null,
  applied_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, applied_by) references people
);
create index payment_applications_by_invoice on payment_applications (tenant_id, invoice_id);
create index payment_applications_by_payment on payment_applications (tenant_id, payment_id);

create table journal_entries (
  tenant_id uuid not null,
  id uuid not null,
  posting bigint not null check (posting > 0),
  event text not null,
  occurred_on date not null,
  currency char(3) not null,
  posted_by uuid not null,
  posted_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, posting),
  foreign key (tenant_id, posted_by) references people
);

-- Debits are positive, credits negative.
create table journal_lines (
  tenant_id uuid not null,
  entry_id uuid not null,
  position integer not null,
  ledger_account text not null,
  amount_minor bigint not null check (amount_minor <> 0),
  account_id uuid,
  invoice_id uuid,
  payment_id uuid,
  tax_area text,
  tax_component text,
  primary key (tenant_id, entry_id, position),
  foreign key (tenant_id, entry_id) references journal_entries,
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  -- A composite key with a null in it is not checked, so a document never stands without its account.
  check (account_id is not null or (invoice_id is null and payment_id is null))
);
create index journal_lines_by_account on journal_lines (tenant_id, account_id, entry_id);
create index journal_lines_by_ledger_account on journal_lines (tenant_id, ledger_account);

create function check_entry_balance() returns trigger language plpgsql as $$
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
create constraint trigger balanced after insert on journal_entries deferrable initially deferred
  for each row execute function check_entry_balance();
create constraint trigger balanced after insert on journal_lines deferrable initially deferred
  for each row execute function check_entry_balance();

call wall('invoices', 'account_id = (select own_account())');
call wall('invoice_lines',
  'exists (select 1 from invoices i where i.tenant_id = invoice_lines.tenant_id and i.id = invoice_lines.invoice_id)');
call wall('invoice_work_orders',
  'exists (select 1 from invoices i where i.tenant_id = invoice_work_orders.tenant_id and i.id = invoice_work_orders.invoice_id)');
call wall('invoice_taxes',
  'exists (select 1 from invoices i where i.tenant_id = invoice_taxes.tenant_id and i.id = invoice_taxes.invoice_id)');
call wall('invoice_tax_bases');
call wall('invoice_balances',
  'exists (select 1 from invoices i where i.tenant_id = invoice_balances.tenant_id and i.id = invoice_balances.invoice_id)');
call wall('payments', 'account_id = (select own_account())');
call wall('payment_balances',
  'exists (select 1 from payments p where p.tenant_id = payment_balances.tenant_id and p.id = payment_balances.payment_id)');
call wall('payment_applications', 'account_id = (select own_account())');
call wall('journal_lines', 'account_id = (select own_account())');
call wall('journal_entries',
  'exists (select 1 from journal_lines l where l.tenant_id = journal_entries.tenant_id and l.entry_id = journal_entries.id)');

call append_only('invoices');
call append_only('invoice_lines');
call append_only('invoice_work_orders');
call append_only('invoice_taxes');
call append_only('invoice_tax_bases');
call append_only('payments');
call append_only('payment_applications');
call append_only('journal_entries');
call append_only('journal_lines');

grant select, insert on invoices, invoice_lines, invoice_work_orders, invoice_taxes, invoice_tax_bases, payments,
  payment_applications, journal_entries, journal_lines to grainwright_staff;
grant select, insert, update (open_minor) on invoice_balances to grainwright_staff;
grant select, insert, update (unapplied_minor) on payment_balances to grainwright_staff;
grant select on invoices, invoice_lines, invoice_work_orders, invoice_taxes, invoice_balances, payments, payment_balances,
  payment_applications, journal_entries, journal_lines to grainwright_account;
