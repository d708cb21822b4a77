-- Charges of a visit: rush, trip by zone, minimum by visit; and the most that a vehicle's repairs come to.

-- A visit that was asked for within the day. It is another one than the same visit without, as after hours is.
alter table visits
  add column rush boolean not null default false,
  drop constraint visits_tenant_id_site_id_technician_id_day_after_hours_key,
  add constraint visits_one_of_a_day unique (tenant_id, site_id, technician_id, day, after_hours, rush);

-- Zones stand in the terms as a list of {name, up_to_miles, amount_minor}, from near to far.
create function zones_rise(zones jsonb) returns boolean
language sql immutable set search_path = pg_catalog, public, pg_temp as $$
  select jsonb_typeof(zones) = 'array' and not exists (
    select from (
      select zone ->> 'name' as name, (zone ->> 'up_to_miles')::numeric as miles,
        (zone ->> 'amount_minor')::bigint as amount,
        lag((zone ->> 'up_to_miles')::numeric, 1, 0) over (order by place) as nearer
      from jsonb_array_elements(zones) with ordinality as listed (zone, place)) each
    where (length(name) between 1 and 40 and miles > nearer and amount >= 0) is not true)
$$;

alter table price_terms
  add column rush_percent numeric(6, 3) not null default 0 check (rush_percent >= 0),
  add column rush_minimum_minor bigint not null default 0 check (rush_minimum_minor >= 0),
  add column trip_zones jsonb not null default '[]' check (zones_rise(trip_zones));

alter table tier_terms
  add column vehicle_cap_minor bigint check (vehicle_cap_minor > 0 and vehicle_cap_minor >= vehicle_minimum_minor),
  add column visit_minimum_minor bigint not null default 0 check (visit_minimum_minor >= 0);

alter table estimate_versions
  add column rush_minor bigint not null default 0,
  add column visit_minimum_minor bigint not null default 0;

alter table decisions
  add column rush_minor bigint not null default 0,
  add column visit_minimum_minor bigint not null default 0,
  drop constraint decisions_check2,
  drop constraint decisions_check3,
  -- Whoever wrote an answer, its amounts belong together.
  add constraint decisions_compared check (compared_minor = repairs_minor + after_hours_minor + rush_minor),
  add constraint decisions_total check
    (total_minor = repairs_minor + after_hours_minor + rush_minor + visit_minimum_minor + trip_minor + tax_minor);

alter table invoice_lines
  drop constraint invoice_lines_kind_check,
  add constraint invoice_lines_kind_check
    check (kind in ('repair', 'minimum', 'after_hours', 'rush', 'visit_minimum', 'trip', 'fee'));
alter table credit_note_lines
  drop constraint credit_note_lines_kind_check,
  add constraint credit_note_lines_kind_check
    check (kind in ('repair', 'minimum', 'after_hours', 'rush', 'visit_minimum', 'trip', 'fee'));

-- As before, with the new charges. Under a cap the lines that are left get no smaller share of it than they had; shared
-- out in whole cents one of them may still come to a cent less.
create or replace function check_account_answer() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if exists (
    select from decisions d
    join estimate_versions v on v.tenant_id = d.tenant_id and v.id = d.version_id
    where d.tenant_id = new.tenant_id and d.id = new.decision_id and (
      d.digest <> v.digest
      or exists (select from decision_lines l
        join estimate_lines e on e.tenant_id = l.tenant_id and e.version_id = d.version_id and e.line_id = l.line_id
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and case l.answer
          when 'approved' then l.net_minor not between
              e.net_minor - case when v.rules #>> '{vehicle,vehicleCapMinor,bigint}' is null then 0 else 1 end
              and greatest(e.net_minor, e.before_further_minor)
          else l.net_minor <> e.net_minor end)
      or d.repairs_minor - d.minimum_minor is distinct from coalesce((select sum(l.net_minor) from decision_lines l
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved'), 0)
      or (d.repairs_minor, d.minimum_minor, d.after_hours_minor, d.rush_minor, d.visit_minimum_minor, d.trip_minor, d.tax_minor)
          is distinct from (v.repairs_minor, v.minimum_minor, v.after_hours_minor, v.rush_minor, v.visit_minimum_minor,
            v.trip_minor, v.tax_minor)
        and not exists (select from decision_lines l
          where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'declined'))) then
    raise exception 'the answer does not come to what the estimate says' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $$;
