-- The business itself, its people, the accounts it works for, their sites, contacts and certificates.

create table businesses (
  tenant_id uuid primary key,
  name text not null check (length(name) between 1 and 200),
  address text not null,
  phone text not null,
  email text not null,
  time_zone text not null,
  currency char(3) not null,
  tax_components text not null check (tax_components in ('each', 'together')),
  tax_basis text not null check (tax_basis in ('invoice', 'item')),
  aging_basis text not null check (aging_basis in ('due_date', 'document_date')),
  invoice_prefix text not null check (invoice_prefix ~ '^[A-Z]{1,6}-$'),
  estimate_valid_days integer not null check (estimate_valid_days between 1 and 365),
  document_note text not null default ''
);
call wall('businesses', 'true', 'true');
grant select, insert on businesses to grainwright_staff;
grant select on businesses to grainwright_account, grainwright_worker, grainwright_vehicle_owner;

create table people (
  tenant_id uuid not null,
  id uuid not null,
  name text not null check (length(name) between 1 and 200),
  email text not null default '',
  phone text not null default '',
  primary key (tenant_id, id)
);

create table staff_members (
  tenant_id uuid not null,
  person_id uuid not null,
  role text not null check (role in ('owner', 'office', 'technician', 'bookkeeper')),
  short_name text not null check (length(short_name) between 1 and 12),
  ended_on date,
  primary key (tenant_id, person_id),
  foreign key (tenant_id, person_id) references people
);

create table tax_areas (
  tenant_id uuid not null,
  id uuid not null,
  code text not null check (length(code) between 1 and 20),
  name text not null,
  primary key (tenant_id, id),
  unique (tenant_id, code)
);

create table tiers (
  tenant_id uuid not null,
  code text not null check (code ~ '^[a-z_]{1,20}$'),
  name text not null,
  discount_percent numeric(6, 3) not null check (discount_percent between 0 and 100),
  vehicle_minimum_minor bigint not null check (vehicle_minimum_minor >= 0),
  trip_waived_from_minor bigint check (trip_waived_from_minor > 0),
  primary key (tenant_id, code)
);

create table accounts (
  tenant_id uuid not null,
  id uuid not null,
  short_name text not null check (short_name ~ '^[A-Z0-9]{1,8}$'),
  name text not null check (length(name) between 1 and 200),
  kind text not null check (kind in ('used_car_lot', 'new_car_dealer', 'glass_installer', 'tint_shop', 'body_shop',
    'fleet', 'rental', 'wholesaler', 'insurer', 'retail')),
  billing_address text not null default '',
  tier_code text not null,
  tax_area_id uuid not null,
  terms_days integer not null check (terms_days between 0 and 180),
  statement_kind text not null check (statement_kind in ('open_item', 'balance_forward', 'none')),
  invoice_rule text not null check (invoice_rule in ('at_once', 'per_visit', 'monthly')),
  requires_ro boolean not null default false,
  requires_po boolean not null default false,
  own_number_kind text check (own_number_kind in ('stock', 'unit', 'lot', 'job', 'claim')),
  own_number_required boolean not null default false,
  acceptance_rule text not null check (acceptance_rule in ('none', 'vehicle_owner', 'account_representative')),
  photo_rule text not null check (photo_rule in ('retail', 'trade', 'lot')),
  shows_prices_at_acceptance boolean not null default false,
  walk_in boolean not null default false,
  opened_on date not null,
  ended_on date check (ended_on >= opened_on),
  primary key (tenant_id, id),
  unique (tenant_id, short_name),
  foreign key (tenant_id, tier_code) references tiers,
  foreign key (tenant_id, tax_area_id) references tax_areas
);
call wall('accounts', 'id = (select own_account())');

create table sites (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  name text not null check (length(name) between 1 and 200),
  address text not null default '',
  miles numeric(6, 1) not null check (miles >= 0),
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id) references accounts
);
call wall('sites', 'account_id = (select own_account())');

create table contacts (
  tenant_id uuid not null,
  account_id uuid not null,
  person_id uuid not null,
  role text not null check (role in ('approver', 'payer', 'viewer')),
  limit_minor bigint check (limit_minor >= 0),
  ended_on date,
  primary key (tenant_id, account_id, person_id),
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, person_id) references people,
  check (role = 'approver' or limit_minor is null)
);
call wall('contacts', 'account_id = (select own_account())');

create table certificates (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  kind text not null check (kind in ('resale', 'exempt_use')),
  number text not null check (length(number) between 1 and 80),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id) references accounts
);
create index certificates_by_account on certificates (tenant_id, account_id);
call wall('certificates', 'account_id = (select own_account())');

-- What an account may add is less than what it may see: narrows the wall for rows that its contacts write.
create procedure account_adds(tenant_table regclass, rule text)
language plpgsql as $$
declare
  own constant text := 'tenant_id = (select nullif(current_setting(''app.tenant_id'', true), '''')::uuid)';
begin
  execute format('alter policy account on %s with check (%s and (%s))', tenant_table, own, rule);
end $$;
revoke all on procedure account_adds from public;

-- An account sees its own contacts and, of the staff, the names: whoever repaired the vehicle is no secret.
call wall('staff_members', 'true', 'true');
call wall('people', 'exists (select 1 from contacts c where c.tenant_id = people.tenant_id and c.person_id = people.id)
  or exists (select 1 from staff_members s where s.tenant_id = people.tenant_id and s.person_id = people.id)',
  'exists (select 1 from staff_members s where s.tenant_id = people.tenant_id and s.person_id = people.id)');
call wall('tiers');
call wall('tax_areas', 'true');

grant select, insert, update on people, staff_members, accounts, sites, contacts, certificates to grainwright_staff;
grant select, insert on tiers, tax_areas to grainwright_staff;
-- The tier is the business's own affair.
grant select (tenant_id, id, short_name, name, kind, billing_address, terms_days, statement_kind, requires_ro, requires_po,
  own_number_kind, own_number_required, acceptance_rule, opened_on, ended_on) on accounts to grainwright_account;
grant select on sites, contacts, certificates, tax_areas to grainwright_account;
grant select (tenant_id, id, name) on people to grainwright_account, grainwright_vehicle_owner;
grant select (tenant_id, person_id) on staff_members to grainwright_account, grainwright_vehicle_owner;
grant select on accounts, people, tax_areas to grainwright_worker;
