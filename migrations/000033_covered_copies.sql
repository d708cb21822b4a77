-- Faces, license plates and addresses in a photo are covered in a copy; the original stays as it came. From the moment
-- that a covering stands, nobody but the staff reads where the uncovered copies are.

create table photo_coverings (
  tenant_id uuid not null,
  id uuid not null,
  photo_id uuid not null,
  -- Each takes the place of the one before; the newest one counts.
  number integer not null check (number > 0),
  -- What is covered, in hundredths of a percent of the upright picture. None: the covering was taken away.
  regions jsonb not null check (jsonb_typeof(regions) = 'array' and jsonb_array_length(regions) <= 40),
  covers boolean not null generated always as (jsonb_array_length(regions) > 0) stored,
  reason text not null check (length(reason) between 1 and 500),
  made_by uuid not null,
  made_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, photo_id, number),
  foreign key (tenant_id, photo_id) references photos,
  foreign key (tenant_id, made_by) references staff_members
);

create table covered_copies (
  tenant_id uuid not null,
  covering_id uuid not null,
  kind text not null check (kind in ('full', 'view', 'thumb')),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  bytes bigint not null check (bytes > 0),
  width integer not null,
  height integer not null,
  storage_key text not null,
  made_at timestamptz not null,
  primary key (tenant_id, covering_id, kind),
  foreign key (tenant_id, covering_id) references photo_coverings
);

-- The newest covering of each photo, where it was not taken away.
create view standing_coverings with (security_invoker = true) as
  select c.tenant_id, c.photo_id, c.id, c.number, c.made_at from photo_coverings c
  where c.covers and not exists (select from photo_coverings later
    where later.tenant_id = c.tenant_id and later.photo_id = c.photo_id and later.number > c.number);

-- The copies that accounts, vehicle owners and papers get: the covered ones where a covering stands.
create view shown_copies with (security_invoker = true) as
  select d.tenant_id, d.photo_id, d.kind, d.sha256, d.bytes, d.width, d.height, d.storage_key, d.made_at
  from photo_derivatives d
  where not exists (select from standing_coverings s where s.tenant_id = d.tenant_id and s.photo_id = d.photo_id)
  union all
  select c.tenant_id, s.photo_id, c.kind, c.sha256, c.bytes, c.width, c.height, c.storage_key, c.made_at
  from standing_coverings s
  join covered_copies c on c.tenant_id = s.tenant_id and c.covering_id = s.id
  where c.kind in ('view', 'thumb');

call wall('photo_coverings',
  'exists (select 1 from photos p where p.tenant_id = photo_coverings.tenant_id and p.id = photo_coverings.photo_id)',
  'exists (select 1 from photos p where p.tenant_id = photo_coverings.tenant_id and p.id = photo_coverings.photo_id)');
call wall('covered_copies',
  'exists (select 1 from standing_coverings s where s.tenant_id = covered_copies.tenant_id and s.id = covered_copies.covering_id)',
  'exists (select 1 from standing_coverings s where s.tenant_id = covered_copies.tenant_id and s.id = covered_copies.covering_id)');
-- Only the owner of the business takes a covering away.
call staff_adds('photo_coverings', $$jsonb_array_length(regions) > 0 or exists (select from staff_members s
  where s.tenant_id = photo_coverings.tenant_id and s.person_id = photo_coverings.made_by and s.role = 'owner')$$);
call append_only('photo_coverings');
call append_only('covered_copies');

grant select, insert on photo_coverings to grainwright_staff;
grant select on covered_copies, standing_coverings, shown_copies to grainwright_staff;
grant select on photo_coverings to grainwright_worker;
grant select, insert on covered_copies to grainwright_worker;
grant select on standing_coverings, shown_copies to grainwright_worker;
-- That and since when, not who covered what and why.
grant select (tenant_id, id, photo_id, number, covers, made_at) on photo_coverings
  to grainwright_account, grainwright_vehicle_owner;
grant select on covered_copies, standing_coverings, shown_copies to grainwright_account, grainwright_vehicle_owner;

alter policy account on photo_derivatives using (
  tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
  and exists (select 1 from photos p where p.tenant_id = photo_derivatives.tenant_id and p.id = photo_derivatives.photo_id)
  and not exists (select from standing_coverings s
    where s.tenant_id = photo_derivatives.tenant_id and s.photo_id = photo_derivatives.photo_id));
alter policy vehicle_owner on photo_derivatives using (
  tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
  and exists (select 1 from photos p where p.tenant_id = photo_derivatives.tenant_id and p.id = photo_derivatives.photo_id)
  and not exists (select from standing_coverings s
    where s.tenant_id = photo_derivatives.tenant_id and s.photo_id = photo_derivatives.photo_id));

-- A recording is covered as a whole: the account does not see that there is one. The newest row counts.
create table recording_withholdings (
  tenant_id uuid not null,
  id uuid not null,
  recording_id uuid not null,
  number integer not null check (number > 0),
  withheld boolean not null,
  reason text not null check (length(reason) between 1 and 500),
  made_by uuid not null,
  made_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, recording_id, number),
  foreign key (tenant_id, recording_id) references recordings,
  foreign key (tenant_id, made_by) references staff_members
);
create view withheld_recordings with (security_invoker = true) as
  select w.tenant_id, w.recording_id, w.id, w.made_at from recording_withholdings w
  where w.withheld and not exists (select from recording_withholdings later
    where later.tenant_id = w.tenant_id and later.recording_id = w.recording_id and later.number > w.number);
-- Only that something is withheld, so that the policy of recordings can ask for it.
call wall('recording_withholdings', 'true');
call staff_adds('recording_withholdings', $$withheld or exists (select from staff_members s
  where s.tenant_id = recording_withholdings.tenant_id and s.person_id = recording_withholdings.made_by and s.role = 'owner')$$);
call append_only('recording_withholdings');
grant select, insert on recording_withholdings to grainwright_staff;
grant select on withheld_recordings to grainwright_staff, grainwright_account;
grant select (tenant_id, id, recording_id, number, withheld, made_at) on recording_withholdings to grainwright_account;
alter policy account on recordings using (
  tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
  and exists (select 1 from work_orders w where w.tenant_id = recordings.tenant_id and w.id = recordings.work_order_id)
  and not exists (select from withheld_recordings h
    where h.tenant_id = recordings.tenant_id and h.recording_id = recordings.id));
