-- Vehicles, visits, work orders with their lines, estimates by version, the answers to them, and the path each took.

-- The next number of each kind of document. The row is locked until the transaction ends, so invoice numbers have
-- no gaps: a number is only used up if its document is.
create table document_numbers (
  tenant_id uuid not null,
  kind text not null check (kind in ('work_order', 'invoice', 'posting')),
  next bigint not null check (next > 0),
  primary key (tenant_id, kind)
);
call wall('document_numbers');
grant select, insert, update on document_numbers to grainwright_staff;

create table vehicles (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  vin text check (vin ~ '^[A-HJ-NPR-Z0-9]{17}$'),
  last_eight text check (last_eight ~ '^[A-HJ-NPR-Z0-9]{8}$'),
  model_year integer check (model_year between 1900 and 2100),
  make text not null default '',
  model text not null default '',
  color text not null default '',
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id) references accounts
);
create index vehicles_by_vin on vehicles (tenant_id, vin);
create index vehicles_by_last_eight on vehicles (tenant_id, last_eight);

create table visits (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  site_id uuid not null,
  technician_id uuid not null,
  day date not null,
  miles numeric(6, 1) not null check (miles >= 0),
  after_hours boolean not null,
  walk_in boolean not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  -- One visit is the same account, place, technician and day; after hours is another one.
  unique (tenant_id, site_id, technician_id, day, after_hours),
  foreign key (tenant_id, account_id, site_id) references sites (tenant_id, account_id, id),
  foreign key (tenant_id, technician_id) references staff_members
);
create index visits_by_day on visits (tenant_id, day, technician_id);

create table work_orders (
  tenant_id uuid not null,
  id uuid not null,
  number bigint not null,
  account_id uuid not null,
  visit_id uuid not null,
  vehicle_id uuid not null,
  state text not null check (state in ('written_up', 'awaiting_approval', 'approved', 'in_work', 'done', 'accepted',
    'invoiced', 'paid', 'declined', 'void', 'written_off')),
  hold_reason text,
  own_number text not null default '' check (length(own_number) <= 40),
  ro_number text not null default '' check (length(ro_number) <= 40),
  po_number text not null default '' check (length(po_number) <= 40),
  owner_name text not null default '' check (length(owner_name) <= 200),
  owner_phone text not null default '' check (length(owner_phone) <= 40),
  odometer_miles integer check (odometer_miles >= 0),
  replacement_minor bigint check (replacement_minor > 0),
  replacement_note text not null default '' check (length(replacement_note) <= 500),
  current_version_id uuid,
  decision_id uuid,
  written_up_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  unique (tenant_id, number),
  foreign key (tenant_id, account_id, visit_id) references visits (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, vehicle_id) references vehicles (tenant_id, account_id, id)
);
create index work_orders_by_state on work_orders (tenant_id, state, number desc);
create index work_orders_by_account on work_orders (tenant_id, account_id, number desc);
create index work_orders_by_visit on work_orders (tenant_id, visit_id);

create table work_order_lines (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  position integer not null check (position > 0),
  part text not null,
  side text not null default '',
  damage text not null,
  visible_when text not null default '' check (length(visible_when) <= 200),
  observation text not null,
  inference text not null,
  material text not null,
  overrule_reason text,
  methods text[] not null default '{}',
  -- Layers put on, written down when the work is finished.
  layers integer check (layers between 0 and 50),
  measured_inches numeric(6, 3) check (measured_inches > 0),
  family text not null default '',
  rate_code text,
  factor_code text,
  by_hand_minor bigint check (by_hand_minor > 0),
  by_hand_materials_percent numeric(6, 3) check (by_hand_materials_percent between 0 and 100),
  by_hand_reason text,
  repairs_damage boolean not null,
  note text not null default '' check (length(note) <= 2000),
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, id),
  unique (tenant_id, work_order_id, position),
  foreign key (tenant_id, work_order_id) references work_orders,
  check (by_hand_minor is null or by_hand_reason is not null)
);

-- What an approver is asked, frozen. A change makes a new version; the answer names the version it saw.
create table estimate_versions (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  version integer not null check (version > 0),
  content text not null,
  digest text not null check (digest ~ '^[0-9a-f]{64}$'),
  rate_day date not null,
  expires_on date not null,
  currency char(3) not null,
  -- The further-repair percents, minimum, trip, after-hours and tax that priced it, so that declining a line prices the
  -- rest again from the version alone.
  rules jsonb not null,
  repairs_minor bigint not null,
  minimum_minor bigint not null,
  after_hours_minor bigint not null,
  trip_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  made_by uuid not null,
  made_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, id),
  unique (tenant_id, work_order_id, version),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, made_by) references people
);

create table estimate_lines (
  tenant_id uuid not null,
  version_id uuid not null,
  line_id uuid not null,
  position integer not null,
  code text not null,
  repair text not null,
  description text not null,
  list_minor bigint not null,
  after_factor_minor bigint not null,
  before_further_minor bigint not null,
  before_further_trail text not null,
  takes_further_repair boolean not null,
  materials_percent numeric(6, 3) not null,
  further_percent numeric(6, 3) not null,
  net_minor bigint not null check (net_minor >= 0),
  labor_minor bigint not null check (labor_minor >= 0),
  materials_minor bigint not null check (materials_minor >= 0),
  trail text not null,
  by_hand text,
  primary key (tenant_id, version_id, line_id),
  foreign key (tenant_id, version_id) references estimate_versions,
  check (labor_minor + materials_minor = net_minor)
);

alter table work_orders add foreign key (tenant_id, id, current_version_id)
  references estimate_versions (tenant_id, work_order_id, id);

create table decisions (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  account_id uuid not null,
  version_id uuid not null,
  digest text not null,
  decided_by uuid not null,
  -- Who of the staff wrote it down where the contact did not answer here themselves, and how they said it.
  recorded_by uuid,
  given text not null default 'here' check (given in ('here', 'in_person', 'by_phone', 'in_writing')),
  decided_at timestamptz not null,
  limit_minor bigint,
  compared_minor bigint not null,
  repairs_minor bigint not null,
  minimum_minor bigint not null,
  after_hours_minor bigint not null,
  trip_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, id),
  -- The first answer to a version counts; a second finds it taken.
  unique (tenant_id, version_id),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, work_order_id, version_id) references estimate_versions (tenant_id, work_order_id, id),
  foreign key (tenant_id, account_id, decided_by) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, recorded_by) references staff_members,
  check ((recorded_by is null) = (given = 'here'))
);

-- Each line's answer; an approved line's percentage and price are frozen here.
create table decision_lines (
  tenant_id uuid not null,
  decision_id uuid not null,
  line_id uuid not null,
  answer text not null check (answer in ('approved', 'declined')),
  reason text not null default '' check (length(reason) <= 500),
  further_percent numeric(6, 3) not null,
  net_minor bigint not null check (net_minor >= 0),
  labor_minor bigint not null,
  materials_minor bigint not null,
  trail text not null,
  primary key (tenant_id, decision_id, line_id),
  foreign key (tenant_id, decision_id) references decisions,
  check (labor_minor + materials_minor = net_minor)
);

alter table work_orders add foreign key (tenant_id, id, decision_id) references decisions (tenant_id, work_order_id, id);

create table caution_acknowledgments (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  codes text[] not null,
  acknowledged_by uuid not null,
  acknowledged_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, acknowledged_by) references staff_members
);

-- A seam that may cover a side airbag is sewn only once the owner of the business has released that very line, for the
-- part it was on then. There is no key to the line: what was released stays on record when the line is taken away.
create table seam_releases (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  part text not null,
  side text not null default '',
  reason text not null check (length(reason) between 1 and 500),
  released_by uuid not null,
  released_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, line_id, part, side),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, released_by) references staff_members
);

-- The path a work order took, a row for every step.
create table work_order_steps (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  event text not null,
  to_state text not null,
  person_id uuid not null,
  happened_at timestamptz not null,
  note text not null default '',
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, person_id) references people
);
create index work_order_steps_in_order on work_order_steps (tenant_id, work_order_id, happened_at);

call wall('vehicles', 'account_id = (select own_account())',
  'exists (select 1 from work_orders w where w.tenant_id = vehicles.tenant_id and w.vehicle_id = vehicles.id)');
call wall('visits', 'account_id = (select own_account())',
  'exists (select 1 from work_orders w where w.tenant_id = visits.tenant_id and w.visit_id = visits.id)');
call wall('work_orders', 'account_id = (select own_account())', 'id = (select own_work_order())');
call wall('work_order_lines',
  'exists (select 1 from work_orders w where w.tenant_id = work_order_lines.tenant_id and w.id = work_order_lines.work_order_id)',
  'work_order_id = (select own_work_order())');
call wall('estimate_versions',
  'exists (select 1 from work_orders w where w.tenant_id = estimate_versions.tenant_id and w.id = estimate_versions.work_order_id)');
call wall('estimate_lines',
  'exists (select 1 from estimate_versions v where v.tenant_id = estimate_lines.tenant_id and v.id = estimate_lines.version_id)');
call wall('decisions', 'account_id = (select own_account())', 'work_order_id = (select own_work_order())');
call wall('decision_lines',
  'exists (select 1 from decisions d where d.tenant_id = decision_lines.tenant_id and d.id = decision_lines.decision_id)',
  'exists (select 1 from decisions d where d.tenant_id = decision_lines.tenant_id and d.id = decision_lines.decision_id)');
call wall('caution_acknowledgments');
call wall('seam_releases');
call wall('work_order_steps',
  'exists (select 1 from work_orders w where w.tenant_id = work_order_steps.tenant_id and w.id = work_order_steps.work_order_id)');

-- An account adds its own answer, given by a contact who may approve and within that contact's limit, and the step it
-- leads to. An answer has a line for each line of the version it is to, all of them before the work order takes it.
call account_adds('decisions', $$account_id = (select own_account()) and recorded_by is null and exists (
  select from contacts c where c.tenant_id = decisions.tenant_id and c.account_id = (select own_account())
    and c.person_id = decisions.decided_by and c.role = 'approver'
    and decisions.limit_minor is not distinct from c.limit_minor
    and (c.limit_minor is null or decisions.compared_minor <= c.limit_minor))$$);
call account_adds('decision_lines', $$exists (
  select from decisions d
  join estimate_lines e on e.tenant_id = d.tenant_id and e.version_id = d.version_id and e.line_id = decision_lines.line_id
  where d.tenant_id = decision_lines.tenant_id and d.id = decision_lines.decision_id and d.recorded_by is null
    and not exists (select from work_orders w where w.tenant_id = d.tenant_id and w.decision_id = d.id))$$);
call account_adds('work_order_steps', $$event in ('approved', 'declined') and to_state = event and exists (
  select from work_orders w where w.tenant_id = work_order_steps.tenant_id and w.id = work_order_steps.work_order_id
    and w.state = work_order_steps.to_state)
  and exists (select from contacts c where c.tenant_id = work_order_steps.tenant_id
    and c.account_id = (select own_account()) and c.person_id = work_order_steps.person_id)$$);

-- Which columns an account may change is granted below; this says how: it answers the version it is asked, and gives
-- numbers that are missing.
create function check_account_change() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if (new.state, new.decision_id) is distinct from (old.state, old.decision_id) and not (
    old.state = 'awaiting_approval' and new.state in ('approved', 'declined') and exists (
      select from decisions d where d.tenant_id = new.tenant_id and d.id = new.decision_id
        and d.work_order_id = new.id and d.version_id = new.current_version_id and d.recorded_by is null
        and (new.state = 'approved') = exists (select from decision_lines l
          where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved')
        and not exists (select from estimate_lines e where e.tenant_id = d.tenant_id and e.version_id = d.version_id
          and not exists (select from decision_lines l where l.tenant_id = d.tenant_id and l.decision_id = d.id
            and l.line_id = e.line_id)))) then
    raise exception 'an account only answers the estimate that waits for it' using errcode = 'insufficient_privilege';
  end if;
  if (new.own_number, new.ro_number, new.po_number) is distinct from (old.own_number, old.ro_number, old.po_number) and (
    old.state in ('invoiced', 'paid', 'declined', 'void', 'written_off')
    or old.own_number not in ('', new.own_number) or old.ro_number not in ('', new.ro_number)
    or old.po_number not in ('', new.po_number)) then
    raise exception 'an account only gives numbers that are missing' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $$;
create trigger account_change before update on work_orders for each row
  when (current_user = 'grainwright_account') execute function check_account_change();

call append_only('estimate_versions');
call append_only('estimate_lines');
call append_only('decisions');
call append_only('decision_lines');
call append_only('caution_acknowledgments');
call append_only('seam_releases');
call append_only('work_order_steps');

grant select, insert on vehicles, visits, estimate_versions, estimate_lines, caution_acknowledgments, seam_releases,
  work_order_steps to grainwright_staff;
grant select, insert, update on work_orders to grainwright_staff;
grant select, insert, update, delete on work_order_lines to grainwright_staff;
grant select, insert on decisions, decision_lines to grainwright_staff;

grant select on vehicles, visits, work_orders, work_order_lines, estimate_versions, estimate_lines to grainwright_account;
grant update (state, decision_id, own_number, ro_number, po_number) on work_orders to grainwright_account;
grant select, insert on decisions, decision_lines, work_order_steps to grainwright_account;

-- The vehicle's owner never sees a price: only these columns are granted, and the view is all that is needed.
grant select (tenant_id, id, number, account_id, visit_id, vehicle_id, state, owner_name, decision_id)
  on work_orders to grainwright_vehicle_owner;
grant select (tenant_id, id, day, technician_id) on visits to grainwright_vehicle_owner;
grant select on vehicles to grainwright_vehicle_owner;
grant select (tenant_id, id, work_order_id, position, part, side, damage, methods, family, repairs_damage)
  on work_order_lines to grainwright_vehicle_owner;
grant select (tenant_id, id, work_order_id) on decisions to grainwright_vehicle_owner;
grant select (tenant_id, decision_id, line_id, answer) on decision_lines to grainwright_vehicle_owner;

create view vehicle_owner_lines with (security_invoker = true) as
  select l.tenant_id, l.id, l.work_order_id, l.position, l.part, l.side, l.damage, l.methods, l.family, l.repairs_damage
  from work_order_lines l
  join work_orders w on w.tenant_id = l.tenant_id and w.id = l.work_order_id
  join decision_lines d on d.tenant_id = l.tenant_id and d.decision_id = w.decision_id and d.line_id = l.id
  where d.answer = 'approved';
grant select on vehicle_owner_lines to grainwright_vehicle_owner, grainwright_staff;
