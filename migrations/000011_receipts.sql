-- Receipts: what else happens to money that came in. It is returned, taken off an invoice again, paid back, moved within
-- a group; it comes without a payer's name, or was there before these books. All of it is added, nothing is changed.

alter table payment_applications
  -- The account has its money applied without anybody asking.
  add column by_rule boolean not null default false;

-- A payment comes back once and as a whole.
create table payment_returns (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid not null,
  returned_on date not null,
  reason text not null check (length(reason) between 1 and 500),
  -- The document that asks for the fee, where one is charged.
  fee_invoice_id uuid,
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, payment_id),
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, fee_invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, recorded_by) references people
);

-- An application that no longer settles anything: taken back by hand, or because its payment was returned.
create table payment_unapplications (
  tenant_id uuid not null,
  id uuid not null,
  application_id uuid not null,
  return_id uuid,
  unapplied_on date not null,
  reason text not null check (length(reason) between 1 and 500),
  unapplied_by uuid not null,
  unapplied_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, application_id),
  foreign key (tenant_id, application_id) references payment_applications,
  foreign key (tenant_id, return_id) references payment_returns,
  foreign key (tenant_id, unapplied_by) references people
);

-- Account credit, or a deposit, paid back. Of a deposit a fee may be kept; the amount is what is taken off, fee included.
create table refunds (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid,
  credit_note_id uuid,
  amount_minor bigint not null check (amount_minor > 0),
  fee_kept_minor bigint not null default 0 check (fee_kept_minor between 0 and amount_minor),
  method text not null check (method in ('check', 'card', 'ach', 'cash')),
  reference text not null default '' check (length(reference) <= 80),
  refunded_on date not null,
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, credit_note_id) references credit_notes (tenant_id, account_id, id),
  foreign key (tenant_id, recorded_by) references people,
  check (num_nonnulls(payment_id, credit_note_id) = 1),
  check (fee_kept_minor = 0 or payment_id is not null)
);
create index refunds_by_payment on refunds (tenant_id, payment_id);
create index refunds_by_credit_note on refunds (tenant_id, credit_note_id);

-- Credit that went to another account of the group, where a payment of method "moved" holds it; a move that takes an
-- earlier one back leads to the payment it came from.
create table credit_moves (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid,
  credit_note_id uuid,
  to_account_id uuid not null check (to_account_id <> account_id),
  to_payment_id uuid not null,
  amount_minor bigint not null check (amount_minor > 0),
  moved_on date not null,
  takes_back uuid,
  moved_by uuid not null,
  moved_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, takes_back),
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, credit_note_id) references credit_notes (tenant_id, account_id, id),
  foreign key (tenant_id, to_account_id, to_payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, takes_back) references credit_moves,
  foreign key (tenant_id, moved_by) references people,
  check (num_nonnulls(payment_id, credit_note_id) = 1)
);
create index credit_moves_by_payment on credit_moves (tenant_id, payment_id);
create index credit_moves_by_credit_note on credit_moves (tenant_id, credit_note_id);
create index credit_moves_by_receiver on credit_moves (tenant_id, to_payment_id);

-- Money whose payer nobody knows yet. Once it is known it is a payment of the account with an id of its own.
create table parked_receipts (
  tenant_id uuid not null,
  id uuid not null,
  method text not null check (method in ('check', 'card', 'ach', 'cash')),
  reference text not null default '' check (length(reference) <= 80),
  -- What the check or the bank says of whoever sent it.
  payer text not null default '' check (length(payer) <= 200),
  amount_minor bigint not null check (amount_minor > 0),
  currency char(3) not null,
  received_on date not null,
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, recorded_by) references people
);
create index parked_receipts_by_day on parked_receipts (tenant_id, received_on, id);

create table receipt_assignments (
  tenant_id uuid not null,
  receipt_id uuid not null,
  account_id uuid not null,
  payment_id uuid not null,
  assigned_on date not null,
  assigned_by uuid not null,
  assigned_at timestamptz not null,
  primary key (tenant_id, receipt_id),
  unique (tenant_id, payment_id),
  foreign key (tenant_id, receipt_id) references parked_receipts,
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, assigned_by) references people
);

-- A late charge is a document of its own; a month charges an invoice once.
create table late_charges (
  tenant_id uuid not null,
  invoice_id uuid not null,
  month date not null check (extract(day from month) = 1),
  account_id uuid not null,
  document_id uuid not null,
  base_minor bigint not null check (base_minor > 0),
  percent numeric(6, 3) not null check (percent > 0),
  primary key (tenant_id, invoice_id, month),
  unique (tenant_id, document_id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, document_id) references invoices (tenant_id, account_id, id)
);

-- What an account owed and had in credit in older books, taken over on a day.
create table openings (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  brought_on date not null,
  -- Holds the credit that came along, where there is any.
  payment_id uuid,
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, account_id, payment_id) references payments (tenant_id, account_id, id),
  foreign key (tenant_id, recorded_by) references people
);
create table opening_items (
  tenant_id uuid not null,
  opening_id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  primary key (tenant_id, invoice_id),
  foreign key (tenant_id, account_id, opening_id) references openings (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, invoice_id) references invoices (tenant_id, account_id, id)
);

-- What the processor of card payments keeps for itself, and what it pays out to the bank.
create table clearing_movements (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null check (kind in ('fee', 'payout')),
  amount_minor bigint not null check (amount_minor > 0),
  occurred_on date not null,
  reference text not null default '' check (length(reference) <= 80),
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, recorded_by) references people
);
create index clearing_movements_by_day on clearing_movements (tenant_id, occurred_on, id);

call wall('payment_returns', 'account_id = (select own_account())');
call wall('payment_unapplications', 'exists (select 1 from payment_applications a
  where a.tenant_id = payment_unapplications.tenant_id and a.id = payment_unapplications.application_id)');
call wall('refunds', 'account_id = (select own_account())');
call wall('credit_moves', 'account_id = (select own_account())');
call wall('parked_receipts');
call wall('receipt_assignments');
call wall('late_charges', 'account_id = (select own_account())');
call wall('openings');
call wall('opening_items');
call wall('clearing_movements');

call append_only('payment_returns');
call append_only('payment_unapplications');
call append_only('refunds');
call append_only('credit_moves');
call append_only('parked_receipts');
call append_only('receipt_assignments');
call append_only('late_charges');
call append_only('openings');
call append_only('opening_items');
call append_only('clearing_movements');

grant select, insert on payment_returns, payment_unapplications, refunds, credit_moves, parked_receipts,
  receipt_assignments, late_charges, openings, opening_items, clearing_movements to grainwright_staff;
grant select on payment_returns, payment_unapplications, refunds, late_charges to grainwright_account;
-- Not where it went: that is another account's affair.
grant select (tenant_id, id, account_id, payment_id, credit_note_id, amount_minor, moved_on, takes_back) on credit_moves
  to grainwright_account;

-- Deposits that wait for their invoice.
create index payments_deposits on payments (tenant_id, account_id, received_on, id) where purpose = 'deposit';
