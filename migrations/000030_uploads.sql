-- Files that come in part by part, and what is kept with a photo so that it can be checked and told apart.

-- A file on its way in: what was announced of it. Neither is evidence before it has become a photo or a recording.
create table uploads (
  tenant_id uuid not null,
  id uuid not null,
  person_id uuid not null,
  media_type text not null check (length(media_type) between 3 and 100),
  bytes bigint not null check (bytes > 0),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  begun_at timestamptz not null,
  last_part_at timestamptz not null,
  -- What it has become; its parts are gone then.
  used_for uuid,
  used_at timestamptz,
  primary key (tenant_id, id),
  foreign key (tenant_id, person_id) references staff_members,
  check ((used_for is null) = (used_at is null))
);
create index uploads_unfinished on uploads (tenant_id, person_id) where used_at is null;

create table upload_parts (
  tenant_id uuid not null,
  upload_id uuid not null,
  part_offset bigint not null check (part_offset >= 0),
  bytes bigint not null check (bytes > 0),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  storage_key text not null,
  received_at timestamptz not null,
  primary key (tenant_id, upload_id, part_offset),
  foreign key (tenant_id, upload_id) references uploads on delete cascade
);

call wall('uploads');
call wall('upload_parts');
grant select, insert, delete on uploads to grainwright_staff;
grant update (last_part_at, used_for, used_at) on uploads to grainwright_staff;
grant select, insert, delete on upload_parts to grainwright_staff;
grant select, delete on uploads, upload_parts to grainwright_worker;

alter table photos
  -- Of the file without what the camera wrote into it: whoever has only that can check it. Null for photos of before.
  add column bare_sha256 text check (bare_sha256 ~ '^[0-9a-f]{64}$'),
  -- What the camera wrote, as words, the position included; nobody but the staff reads it.
  add column exif jsonb check (jsonb_typeof(exif) = 'object'),
  -- When the device says that it was taken.
  add column captured_at timestamptz,
  -- The photo that this one was taken instead of; both are kept.
  add column retake_of uuid,
  add foreign key (tenant_id, work_order_id, retake_of) references photos (tenant_id, work_order_id, id),
  add check (retake_of <> id);
create index photos_by_storage_key on photos (tenant_id, storage_key);
create index photo_derivatives_by_storage_key on photo_derivatives (tenant_id, storage_key);
grant select (bare_sha256, captured_at, retake_of) on photos to grainwright_account, grainwright_vehicle_owner;
