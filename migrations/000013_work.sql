-- What happens to work besides being done and paid: done again without charge, written up twice, held, voided, refused or
-- left unsigned.

alter table work_orders
  -- Why it is void; a void keeps its number.
  add column void_reason text check (void_reason in ('duplicate', 'vehicle_not_there', 'written_in_error', 'other')),
  add column void_note text not null default '' check (length(void_note) <= 500),
  add column duplicate_of_id uuid,
  -- What the account pays for a visit to a vehicle that was not there, by its terms of that day.
  add column no_show_fee_minor bigint check (no_show_fee_minor > 0),
  -- Done again without charge: the first order, and what came back.
  add column rework_of_id uuid,
  add column rework_reason text check (rework_reason in ('finish', 'color', 'texture', 'came_loose', 'other')),
  -- What the work cost the business itself.
  add column technician_minutes integer check (technician_minutes between 1 and 10000),
  add column materials_cost_minor bigint check (materials_cost_minor >= 0),
  -- The airbag lamp when the vehicle came and when it left; null where nobody looked.
  add column airbag_lamp_before text check (airbag_lamp_before in ('on', 'off')),
  add column airbag_lamp_after text check (airbag_lamp_after in ('on', 'off')),
  add foreign key (tenant_id, duplicate_of_id) references work_orders,
  add foreign key (tenant_id, account_id, rework_of_id) references work_orders (tenant_id, account_id, id),
  add check (rework_of_id is distinct from id and duplicate_of_id is distinct from id),
  add check ((rework_of_id is null) = (rework_reason is null)),
  add check (void_reason is null or state = 'void'),
  add check (duplicate_of_id is null or void_reason = 'duplicate'),
  add check (no_show_fee_minor is null or void_reason = 'vehicle_not_there');
create index work_orders_reworked on work_orders (tenant_id, rework_of_id) where rework_of_id is not null;
-- Write-ups of the same vehicle are looked for by the end of the VIN and by the account's own number.
create index work_orders_by_own_number on work_orders (tenant_id, account_id, own_number) where own_number <> '';
create index work_orders_by_vehicle on work_orders (tenant_id, vehicle_id);

-- What work cost the business is nobody's but its own.
revoke select on work_orders from grainwright_account;
grant select (tenant_id, id, number, account_id, visit_id, vehicle_id, state, hold_reason, own_number, ro_number, po_number,
  owner_name, owner_phone, odometer_miles, replacement_minor, replacement_note, current_version_id, decision_id,
  written_up_at, void_reason, void_note, duplicate_of_id, no_show_fee_minor, rework_of_id, rework_reason,
  airbag_lamp_before, airbag_lamp_after)
  on work_orders to grainwright_account;

-- Work without charge is answered by nobody: there is nothing to agree to.
alter table decisions
  drop constraint decisions_given_check,
  add constraint decisions_given_check
    check (given in ('here', 'in_person', 'by_phone', 'in_writing', 'by_rule', 'without_charge')),
  drop constraint decisions_check,
  add constraint decisions_check check ((recorded_by is null) = (given in ('here', 'by_rule', 'without_charge'))),
  drop constraint decisions_check1,
  add constraint decisions_check1 check (case given
    when 'by_rule'
      then decided_by is null and num_nulls(standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor) = 0
    else (decided_by is null) = (given = 'without_charge')
      and num_nonnulls(standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor) = 0 end),
  add check (given <> 'without_charge' or total_minor = 0);

-- Nobody signed: who saw it, and why. It blocks the acceptance until somebody signs after all or a manager lets it go.
create table missing_signatures (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  why text not null check (why in ('refused', 'absent')),
  reason text not null check (length(reason) between 1 and 500),
  witness text not null check (length(witness) between 1 and 200),
  recorded_by uuid not null,
  recorded_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, recorded_by) references staff_members
);
create table acceptance_releases (
  tenant_id uuid not null,
  work_order_id uuid not null,
  missing_signature_id uuid not null,
  reason text not null check (length(reason) between 1 and 500),
  released_by uuid not null,
  released_at timestamptz not null,
  primary key (tenant_id, work_order_id),
  foreign key (tenant_id, work_order_id, missing_signature_id)
    references missing_signatures (tenant_id, work_order_id, id),
  foreign key (tenant_id, released_by) references staff_members
);

-- One signature for several vehicles of a visit, bound to what was shown of all of them together.
create table visit_signatures (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  visit_id uuid not null,
  shown text not null,
  shown_digest text not null check (shown_digest ~ '^[0-9a-f]{64}$'),
  taken_by uuid not null,
  signed_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, visit_id) references visits (tenant_id, account_id, id),
  foreign key (tenant_id, taken_by) references staff_members
);
alter table acceptances
  add column visit_signature_id uuid,
  add foreign key (tenant_id, visit_signature_id) references visit_signatures;

-- A key remote, tested in this order; a step that comes after one which was not tested is not tested either.
create table key_tests (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  battery text check (battery in ('pass', 'fail')),
  coating text check (coating in ('pass', 'fail')),
  lock_contact text check (lock_contact in ('pass', 'fail', 'not_fitted')),
  unlock_contact text check (unlock_contact in ('pass', 'fail', 'not_fitted')),
  trunk_contact text check (trunk_contact in ('pass', 'fail', 'not_fitted')),
  horn_contact text check (horn_contact in ('pass', 'fail', 'not_fitted')),
  tested_by uuid not null,
  tested_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id, line_id) references work_order_lines (tenant_id, work_order_id, id),
  foreign key (tenant_id, tested_by) references staff_members
);
create index key_tests_by_work_order on key_tests (tenant_id, work_order_id, tested_at);

-- Where a technician stopped on purpose, because more would have made it worse.
create table stop_points (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  photo_id uuid not null,
  note text not null check (length(note) between 1 and 500),
  -- Whether the account and the vehicle's owner see it.
  shown boolean not null,
  made_by uuid not null,
  made_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id, line_id) references work_order_lines (tenant_id, work_order_id, id),
  foreign key (tenant_id, work_order_id, photo_id) references photos (tenant_id, work_order_id, id),
  foreign key (tenant_id, made_by) references staff_members
);
create index stop_points_by_work_order on stop_points (tenant_id, work_order_id, made_at);

call wall('missing_signatures',
  'exists (select 1 from work_orders w where w.tenant_id = missing_signatures.tenant_id and w.id = missing_signatures.work_order_id)');
call wall('acceptance_releases',
  'exists (select 1 from work_orders w where w.tenant_id = acceptance_releases.tenant_id and w.id = acceptance_releases.work_order_id)');
call wall('visit_signatures', 'account_id = (select own_account())');
call wall('key_tests',
  'exists (select 1 from work_orders w where w.tenant_id = key_tests.tenant_id and w.id = key_tests.work_order_id)');
call wall('stop_points',
  'shown and exists (select 1 from work_orders w where w.tenant_id = stop_points.tenant_id and w.id = stop_points.work_order_id)',
  'shown and work_order_id = (select own_work_order())');
call append_only('missing_signatures');
call append_only('acceptance_releases');
call append_only('visit_signatures');
call append_only('key_tests');
call append_only('stop_points');
grant select, insert on missing_signatures, acceptance_releases, visit_signatures, key_tests, stop_points
  to grainwright_staff;
grant select on missing_signatures, acceptance_releases, visit_signatures, key_tests, stop_points to grainwright_account;
grant select (tenant_id, id, work_order_id, line_id, photo_id, note, shown, made_at) on stop_points
  to grainwright_vehicle_owner;

-- A picture of a stop point is seen with it: by others than the staff only where it is shown.
alter policy account on photos using (
  tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
  and exists (select 1 from work_orders w where w.tenant_id = photos.tenant_id and w.id = photos.work_order_id)
  and (purpose <> 'stop_point' or exists (select 1 from stop_points s
    where s.tenant_id = photos.tenant_id and s.photo_id = photos.id)));
alter policy vehicle_owner on photos using (
  tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
  and work_order_id = (select own_work_order())
  and (purpose <> 'stop_point' or exists (select 1 from stop_points s
    where s.tenant_id = photos.tenant_id and s.photo_id = photos.id)));
