-- What a new part costs, as quoted, and stops in their order.

-- What a new part would cost, fitted, before tax: for one damaged part, or without a part one sum for all of them
-- together. A quote is never changed: another one takes its place, and it stays with the moment until which it stood.
create table replacement_quotes (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  part text not null default '',
  side text not null default '',
  amount_minor bigint not null check (amount_minor > 0),
  -- How the amount came about, where it was told: the part, and fitting it by the hour.
  part_minor bigint check (part_minor > 0),
  fitting_hours numeric(5, 2) check (fitting_hours > 0),
  hourly_minor bigint check (hourly_minor > 0),
  note text not null default '' check (length(note) <= 500),
  origin text not null check (origin in ('typed', 'last_time')),
  -- The quote that it repeats, of the same part and kind of vehicle.
  taken_from_id uuid,
  given_by uuid not null,
  given_at timestamptz not null,
  superseded_at timestamptz check (superseded_at >= given_at),
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, taken_from_id) references replacement_quotes,
  foreign key (tenant_id, given_by) references staff_members,
  check (part <> '' or side = ''),
  check ((origin = 'last_time') = (taken_from_id is not null)),
  check (num_nulls(part_minor, fitting_hours, hourly_minor) in (0, 3)),
  check (part_minor is null or amount_minor = part_minor + round(hourly_minor * fitting_hours))
);
create unique index replacement_quotes_standing on replacement_quotes (tenant_id, work_order_id, part, side)
  where superseded_at is null;
create index replacement_quotes_by_part on replacement_quotes (tenant_id, part, given_at desc) where origin = 'typed';

-- A quote of old was one sum for the work order; where only one part of it is damaged, it was for that part.
insert into replacement_quotes (tenant_id, id, work_order_id, part, side, amount_minor, note, origin, given_by, given_at)
  select w.tenant_id, gen_random_uuid(), w.id, coalesce(single.part, ''), coalesce(single.side, ''), w.replacement_minor,
    w.replacement_note, 'typed', v.technician_id, w.written_up_at
  from work_orders w
  join visits v on v.tenant_id = w.tenant_id and v.id = w.visit_id
  left join (
    select l.tenant_id, l.work_order_id, min(l.part) as part, min(l.side) as side from work_order_lines l
    where l.repairs_damage and l.withdrawn_at is null
    group by l.tenant_id, l.work_order_id having count(distinct (l.part, l.side)) = 1
  ) single on single.tenant_id = w.tenant_id and single.work_order_id = w.id
  where w.replacement_minor is not null;
alter table work_orders
  drop column replacement_minor,
  drop column replacement_note;

call wall('replacement_quotes',
  'exists (select 1 from work_orders w where w.tenant_id = replacement_quotes.tenant_id and w.id = replacement_quotes.work_order_id)');
grant select, insert, update (superseded_at) on replacement_quotes to grainwright_staff;
-- From whose vehicle a quote was taken, and who typed it, is the business's own.
grant select (tenant_id, id, work_order_id, part, side, amount_minor, part_minor, fitting_hours, hourly_minor, note, origin,
  given_at, superseded_at) on replacement_quotes to grainwright_account;

-- The order of a technician's stops on a day. Those of old stand as their first vehicles were written up.
alter table visits add column position integer check (position > 0);
update visits v set position = told.position
  from (
    select s.tenant_id, s.id, row_number() over (
      partition by s.tenant_id, s.technician_id, s.day order by s.after_hours, w.first, s.id) as position
    from visits s
    left join (
      select o.tenant_id, o.visit_id, min(o.written_up_at) as first from work_orders o group by o.tenant_id, o.visit_id
    ) w on w.tenant_id = s.tenant_id and w.visit_id = s.id
  ) told
  where told.tenant_id = v.tenant_id and told.id = v.id;
alter table visits alter column position set not null;
-- A stop that was planned and has no vehicle yet can be taken off again.
grant update (position), delete on visits to grainwright_staff;
