-- Photos and acceptances: immutable, named by what is in them.

create table photos (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid,
  purpose text not null check (purpose in ('walk_around', 'before', 'after_heat', 'cut_out', 'progress', 'ruler', 'after', 'stop_point')),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  bytes bigint not null check (bytes > 0),
  media_type text not null check (media_type in ('image/jpeg', 'image/png', 'image/webp')),
  width integer not null check (width > 0),
  height integer not null check (height > 0),
  storage_key text not null,
  taken_at_local text,
  latitude double precision,
  longitude double precision,
  received_at timestamptz not null,
  received_from uuid not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, work_order_id, line_id) references work_order_lines (tenant_id, work_order_id, id),
  foreign key (tenant_id, received_from) references staff_members
);
create index photos_by_work_order on photos (tenant_id, work_order_id, received_at);

-- What accounts and vehicle owners see: upright, without position.
create table photo_derivatives (
  tenant_id uuid not null,
  photo_id uuid not null,
  kind text not null check (kind in ('view', 'thumb')),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  bytes bigint not null,
  width integer not null,
  height integer not null,
  storage_key text not null,
  made_at timestamptz not null,
  primary key (tenant_id, photo_id, kind),
  foreign key (tenant_id, photo_id) references photos
);

create table acceptances (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  outcome text not null check (outcome in ('accepted', 'accepted_with_remark', 'not_accepted')),
  remark text not null default '' check (length(remark) <= 2000),
  signer_name text not null check (length(signer_name) between 1 and 200),
  signer_role text not null check (signer_role in ('vehicle_owner', 'account_representative')),
  identified_by text not null,
  method text not null check (method in ('drawn', 'typed')),
  strokes jsonb,
  shown text not null,
  shown_digest text not null check (shown_digest ~ '^[0-9a-f]{64}$'),
  device text not null default '',
  taken_by uuid not null,
  accepted_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, taken_by) references staff_members,
  check ((method = 'drawn') = (strokes is not null)),
  check (outcome = 'accepted' or remark <> '')
);
-- Somebody may say no and later yes, but yes is said once.
create unique index acceptances_once on acceptances (tenant_id, work_order_id) where outcome <> 'not_accepted';

call wall('photos',
  'exists (select 1 from work_orders w where w.tenant_id = photos.tenant_id and w.id = photos.work_order_id)',
  'work_order_id = (select own_work_order())');
call wall('photo_derivatives',
  'exists (select 1 from photos p where p.tenant_id = photo_derivatives.tenant_id and p.id = photo_derivatives.photo_id)',
  'exists (select 1 from photos p where p.tenant_id = photo_derivatives.tenant_id and p.id = photo_derivatives.photo_id)');
call wall('acceptances',
  'exists (select 1 from work_orders w where w.tenant_id = acceptances.tenant_id and w.id = acceptances.work_order_id)');
call append_only('photos');
call append_only('photo_derivatives');
call append_only('acceptances');

grant select, insert on photos, acceptances to grainwright_staff;
grant select on photo_derivatives to grainwright_staff;
grant select on photos to grainwright_worker;
grant select, insert on photo_derivatives to grainwright_worker;
-- Position and the original's place stay with the staff.
grant select (tenant_id, id, work_order_id, line_id, purpose, sha256, media_type, width, height, taken_at_local, received_at)
  on photos to grainwright_account, grainwright_vehicle_owner;
grant select on photo_derivatives to grainwright_account, grainwright_vehicle_owner;
grant select on acceptances to grainwright_account;
