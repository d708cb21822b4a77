-- Rates for a part, a material, or both; tiers' own prices; contracts; the floor below which the owner is asked; and who
-- may price by hand. Accounts read none of it.

-- Null: any part, any material. A rate that names the part or the material goes before one that does not.
alter table rates
  add column part text check (length(part) between 1 and 60),
  add column material text check (length(material) between 1 and 40);

-- Between two periods of its own a tier's price may be missing: then its discount counts.
create table tier_prices (
  tenant_id uuid not null,
  id uuid not null,
  tier_code text not null,
  code text not null,
  price_minor bigint not null check (price_minor > 0),
  reason text not null,
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, tier_code) references tiers,
  constraint tier_prices_no_overlap exclude using gist
    (tenant_id with =, tier_code with =, code with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('tier_prices');

-- What was agreed with one account for a time: it goes before the tier's terms.
create table contracts (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  name text not null check (length(name) between 1 and 60),
  discount_percent numeric(6, 3) not null check (discount_percent between 0 and 100),
  reason text not null,
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id) references accounts,
  constraint contracts_no_overlap exclude using gist
    (tenant_id with =, account_id with =, daterange(valid_from, valid_to, '[]') with &&)
);
call wall('contracts');

grant select, insert, update (valid_to) on tier_prices, contracts to grainwright_staff;

-- The share of list below which the owner has to consent to a line's price; null: none.
alter table price_terms
  add column floor_percent numeric(6, 3) check (floor_percent > 0 and floor_percent <= 100);

-- A consent is to one line at one price, below the floor of that time. There is no key to the line: it stays on record when the line is taken away.
create table floor_consents (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  price_minor bigint not null check (price_minor >= 0),
  floor_minor bigint not null check (floor_minor > price_minor),
  reason text not null check (length(reason) between 1 and 500),
  consented_by uuid not null,
  consented_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, line_id, price_minor, floor_minor),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, consented_by) references staff_members
);
call wall('floor_consents');
call append_only('floor_consents');
grant select, insert on floor_consents to grainwright_staff;

-- Who prices by hand, beside those whose role includes it. Nobody loses what they could do so far.
alter table staff_members add column prices_by_hand boolean not null default false;
update staff_members set prices_by_hand = true where role = 'technician';

-- Whose price by hand it is; not known of older ones.
alter table work_order_lines
  add column by_hand_by uuid,
  add check (by_hand_by is null or by_hand_minor is not null),
  add foreign key (tenant_id, by_hand_by) references people;

-- That a price was made by hand, and why, is the business's own: accounts see a price like any other.
revoke select on work_order_lines, estimate_lines, invoices, credit_notes from grainwright_account;
grant select (tenant_id, id, work_order_id, position, part, side, damage, visible_when, observation, inference, material,
  overrule_reason, methods, layers, measured_inches, family, rate_code, factor_code, repairs_damage, note, withdrawn_at)
  on work_order_lines to grainwright_account;
grant select (tenant_id, version_id, line_id, position, code, repair, description, list_minor, after_factor_minor,
  before_further_minor, before_further_trail, takes_further_repair, materials_percent, further_percent, net_minor,
  labor_minor, materials_minor, trail)
  on estimate_lines to grainwright_account;
-- What an invoice was computed from tells it too. Of that an account reads the certificates, which its document names.
alter table invoices add column certificates jsonb generated always as (basis -> 'certificates') stored;
grant select (tenant_id, id, sequence, number, account_id, visit_id, issued_on, due_on, worked_on, currency, seller, buyer,
  certificate_number, certificates, net_minor, tax_minor, total_minor, issued_by, issued_at, kind, subject)
  on invoices to grainwright_account;
grant select (tenant_id, id, sequence, number, account_id, invoice_id, issued_on, currency, reason, seller, buyer, asked,
  net_minor, tax_minor, total_minor, issued_by, issued_at)
  on credit_notes to grainwright_account;
