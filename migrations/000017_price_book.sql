-- Tiers and care factors get dates, as rates have them. What stands so far holds for every day until a change: the
-- first period of each begins before any work, so no day is without one.

create table tier_terms (
  tenant_id uuid not null,
  id uuid not null,
  tier_code text not null,
  discount_percent numeric(6, 3) not null check (discount_percent between 0 and 100),
  vehicle_minimum_minor bigint not null check (vehicle_minimum_minor >= 0),
  trip_waived_from_minor bigint check (trip_waived_from_minor > 0),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, tier_code) references tiers,
  constraint tier_terms_no_overlap exclude using gist
    (tenant_id with =, tier_code with =, daterange(valid_from, valid_to, '[]') with &&)
);
insert into tier_terms (tenant_id, id, tier_code, discount_percent, vehicle_minimum_minor, trip_waived_from_minor, valid_from)
  select tenant_id, gen_random_uuid(), code, discount_percent, vehicle_minimum_minor, trip_waived_from_minor, '1900-01-01'
  from tiers;
alter table tiers
  drop column discount_percent,
  drop column vehicle_minimum_minor,
  drop column trip_waived_from_minor;
call wall('tier_terms');

create table care_percents (
  tenant_id uuid not null,
  id uuid not null,
  factor_code text not null,
  percent numeric(6, 3) not null check (percent between 100 and 300),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, factor_code) references care_factors,
  constraint care_percents_no_overlap exclude using gist
    (tenant_id with =, factor_code with =, daterange(valid_from, valid_to, '[]') with &&)
);
insert into care_percents (tenant_id, id, factor_code, percent, valid_from)
  select tenant_id, gen_random_uuid(), code, percent, '1900-01-01' from care_factors;
alter table care_factors drop column percent;
call wall('care_percents');

grant select, insert on tier_terms, care_percents to grainwright_staff;
-- As a price: ended, never changed. What a place taxes, and how much, is followed by the next period too.
grant update (valid_to) on tier_terms, care_percents, tax_rates, tax_classes to grainwright_staff;

-- What was invoiced in a place from a day on: taxes are not changed under it.
create index invoice_visits_by_area on invoice_visits (tenant_id, area_code, worked_on);
