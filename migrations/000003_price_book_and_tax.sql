-- The price book and how places tax, all of it dated. Periods of the same thing can't overlap. Accounts never read these.

create table rates (
  tenant_id uuid not null,
  id uuid not null,
  code text not null check (code ~ '^[A-Z0-9-]{1,12}$'),
  repair text not null,
  family text not null check (length(family) between 1 and 60),
  over_inches numeric(6, 3) check (over_inches >= 0),
  to_inches numeric(6, 3) check (to_inches > over_inches),
  list_minor bigint not null check (list_minor > 0),
  materials_percent numeric(6, 3) not null check (materials_percent between 0 and 100),
  takes_further_repair boolean not null,
  repairs_damage boolean not null,
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  check ((over_inches is null) = (to_inches is null)),
  constraint rates_no_overlap exclude using gist (tenant_id with =, code with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('rates');

create table care_factors (
  tenant_id uuid not null,
  code text not null check (code ~ '^[a-z_]{1,20}$'),
  name text not null,
  percent numeric(6, 3) not null check (percent between 100 and 300),
  primary key (tenant_id, code)
);
call wall('care_factors');

create table account_prices (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  code text not null,
  price_minor bigint not null check (price_minor > 0),
  reason text not null,
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id) references accounts,
  constraint account_prices_no_overlap exclude using gist
    (tenant_id with =, account_id with =, code with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('account_prices');

create table price_terms (
  tenant_id uuid not null,
  id uuid not null,
  further_repair_percents numeric(6, 3)[] not null check (cardinality(further_repair_percents) between 1 and 10),
  trip_minor bigint not null check (trip_minor >= 0),
  miles_included numeric(6, 1) not null check (miles_included >= 0),
  mile_minor bigint not null check (mile_minor >= 0),
  after_hours_percent numeric(6, 3) not null check (after_hours_percent >= 0),
  after_hours_minimum_minor bigint not null check (after_hours_minimum_minor >= 0),
  deposit_from_minor bigint not null check (deposit_from_minor >= 0),
  deposit_percent numeric(6, 3) not null check (deposit_percent between 0 and 100),
  deposit_step_minor bigint not null check (deposit_step_minor > 0),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  constraint price_terms_no_overlap exclude using gist (tenant_id with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('price_terms');

create table tax_rates (
  tenant_id uuid not null,
  id uuid not null,
  tax_area_id uuid not null,
  component text not null check (length(component) between 1 and 40),
  position integer not null,
  rate_percent numeric(8, 5) not null check (rate_percent >= 0 and rate_percent < 100),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, tax_area_id) references tax_areas,
  constraint tax_rates_no_overlap exclude using gist
    (tenant_id with =, tax_area_id with =, component with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('tax_rates');

-- Which classes of charge a place taxes: data, decided by the business and its adviser.
create table tax_classes (
  tenant_id uuid not null,
  id uuid not null,
  tax_area_id uuid not null,
  taxable text[] not null check (taxable <@ array['labor', 'materials', 'trip', 'fee']),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, tax_area_id) references tax_areas,
  constraint tax_classes_no_overlap exclude using gist
    (tenant_id with =, tax_area_id with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('tax_classes');

grant select, insert on rates, care_factors, account_prices, price_terms, tax_rates, tax_classes to grainwright_staff;
-- A price is never changed, only ended; the next one has a row of its own.
grant update (valid_to) on rates, account_prices, price_terms to grainwright_staff;
