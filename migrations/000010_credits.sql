-- What happens to an invoice after it is issued, besides being paid: it is voided with its number kept, disputed,
-- written off, or settled early at a discount.

-- What the note was asked for: sent again with the same id and the same content, it answers as the first time.
alter table credit_notes add column asked jsonb not null;

create table invoice_voids (
  tenant_id uuid not null,
  invoice_id uuid not null,
  voided_on date not null,
  reason text not null check (length(reason) between 1 and 500),
  voided_by uuid not null,
  voided_at timestamptz not null,
  primary key (tenant_id, invoice_id),
  foreign key (tenant_id, invoice_id) references invoices,
  foreign key (tenant_id, voided_by) references people
);
call wall('invoice_voids',
  'exists (select 1 from invoices i where i.tenant_id = invoice_voids.tenant_id and i.id = invoice_voids.invoice_id)');
call append_only('invoice_voids');
grant select, insert on invoice_voids to grainwright_staff;
grant select on invoice_voids to grainwright_account;

-- The work orders that an invoice which stands holds now. The key lets nobody bill one twice, whoever is first; a void
-- takes its rows away, so that the work may be billed again.
create table billed_work_orders (
  tenant_id uuid not null,
  work_order_id uuid not null,
  invoice_id uuid not null,
  primary key (tenant_id, work_order_id),
  foreign key (tenant_id, invoice_id, work_order_id) references invoice_work_orders
);
create index billed_work_orders_by_invoice on billed_work_orders (tenant_id, invoice_id);
insert into billed_work_orders (tenant_id, work_order_id, invoice_id)
  select tenant_id, work_order_id, invoice_id from invoice_work_orders;
call wall('billed_work_orders');
grant select, insert, delete on billed_work_orders to grainwright_staff;
alter table invoice_work_orders drop constraint invoice_work_orders_tenant_id_work_order_id_key;
create index invoice_work_orders_by_work_order on invoice_work_orders (tenant_id, work_order_id);

-- What the customer does not pay, and why. The clock runs from the day it was opened until there is an answer.
create table disputes (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  -- The repair it is about; null: a charge of the visit, or an amount without a line.
  line_id uuid,
  amount_minor bigint not null check (amount_minor > 0),
  reason text not null check (reason in ('disputed', 'discount_taken', 'error', 'unknown')),
  note text not null default '' check (length(note) <= 2000),
  opened_on date not null,
  by_contact boolean not null,
  opened_by uuid not null,
  opened_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, opened_by) references people
);
create index disputes_by_invoice on disputes (tenant_id, invoice_id);
create index disputes_by_account on disputes (tenant_id, account_id, opened_on);
call wall('disputes', 'account_id = (select own_account())');
call account_adds('disputes', $$account_id = (select own_account()) and by_contact and exists (
  select from contacts c where c.tenant_id = disputes.tenant_id and c.account_id = (select own_account())
    and c.person_id = disputes.opened_by and c.role in ('approver', 'payer'))$$);
call append_only('disputes');
grant select, insert on disputes to grainwright_staff, grainwright_account;

create table dispute_answers (
  tenant_id uuid not null,
  dispute_id uuid not null,
  answer text not null check (answer in ('upheld', 'credited')),
  credit_note_id uuid,
  note text not null default '' check (length(note) <= 2000),
  answered_on date not null,
  answered_by uuid not null,
  answered_at timestamptz not null,
  primary key (tenant_id, dispute_id),
  foreign key (tenant_id, dispute_id) references disputes,
  foreign key (tenant_id, credit_note_id) references credit_notes,
  foreign key (tenant_id, answered_by) references people,
  check ((answer = 'credited') = (credit_note_id is not null)),
  check (answer = 'credited' or note <> '')
);
call wall('dispute_answers',
  'exists (select 1 from disputes d where d.tenant_id = dispute_answers.tenant_id and d.id = dispute_answers.dispute_id)');
call append_only('dispute_answers');
grant select, insert on dispute_answers to grainwright_staff;
grant select on dispute_answers to grainwright_account;

create table write_offs (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  kind text not null check (kind in ('bad_debt', 'small_difference')),
  amount_minor bigint not null check (amount_minor > 0),
  reason text not null default '' check (length(reason) <= 500),
  written_off_on date not null,
  written_off_by uuid not null,
  written_off_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, written_off_by) references people,
  check (kind = 'small_difference' or reason <> '')
);
create index write_offs_by_invoice on write_offs (tenant_id, invoice_id);

-- The share of sales tax that was taken back with it, where the business's policy says so.
create table write_off_taxes (
  tenant_id uuid not null,
  write_off_id uuid not null,
  position integer not null,
  area_code text not null,
  component text not null,
  tax_minor bigint not null check (tax_minor > 0),
  primary key (tenant_id, write_off_id, position),
  foreign key (tenant_id, write_off_id) references write_offs
);

-- A write-off is turned round whole, once.
create table write_off_recoveries (
  tenant_id uuid not null,
  write_off_id uuid not null,
  reason text not null check (length(reason) between 1 and 500),
  recovered_on date not null,
  recovered_by uuid not null,
  recovered_at timestamptz not null,
  primary key (tenant_id, write_off_id),
  foreign key (tenant_id, write_off_id) references write_offs,
  foreign key (tenant_id, recovered_by) references people
);

create table discounts_taken (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null check (amount_minor > 0),
  reason text not null check (length(reason) between 1 and 500),
  taken_on date not null,
  taken_by uuid not null,
  taken_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, taken_by) references people
);
create index discounts_taken_by_invoice on discounts_taken (tenant_id, invoice_id);

call wall('write_offs', 'account_id = (select own_account())');
call wall('write_off_taxes');
call wall('write_off_recoveries',
  'exists (select 1 from write_offs w where w.tenant_id = write_off_recoveries.tenant_id and w.id = write_off_recoveries.write_off_id)');
call wall('discounts_taken', 'account_id = (select own_account())');
call append_only('write_offs');
call append_only('write_off_taxes');
call append_only('write_off_recoveries');
call append_only('discounts_taken');
grant select, insert on write_offs, write_off_taxes, write_off_recoveries, discounts_taken to grainwright_staff;
-- What settled an invoice is seen by its account; why something was let go is the business's own.
grant select (tenant_id, id, account_id, invoice_id, kind, amount_minor, written_off_on) on write_offs to grainwright_account;
grant select (tenant_id, write_off_id, recovered_on) on write_off_recoveries to grainwright_account;
grant select on discounts_taken to grainwright_account;
