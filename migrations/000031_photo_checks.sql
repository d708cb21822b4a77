-- What was found of a photo when it came in, why one with a warning is kept, and recordings of the walk around a vehicle.

create table photo_checks (
  tenant_id uuid not null,
  photo_id uuid not null,
  -- Variance of the Laplacian in the sharpest field; shares of 0 to 1.
  sharpness double precision not null check (sharpness >= 0),
  dark double precision not null check (dark between 0 and 1),
  washed_out double precision not null check (washed_out between 0 and 1),
  -- A difference hash of 64 bits, and the brightness of 32 by 32 fields.
  hash text not null check (hash ~ '^[0-9a-f]{16}$'),
  print text not null check (length(print) = 2048 and print ~ '^[0-9a-f]+$'),
  -- Each {code, sentence}, as it was told.
  warnings jsonb not null check (jsonb_typeof(warnings) = 'array' and jsonb_array_length(warnings) <= 8),
  checked_at timestamptz not null,
  primary key (tenant_id, photo_id),
  foreign key (tenant_id, photo_id) references photos
);
create index photo_checks_by_hash on photo_checks (tenant_id, hash);
create index photos_by_digest on photos (tenant_id, sha256);

-- Kept in spite of its warnings, and why. The newest reason is the one that is shown.
create table photo_overrides (
  tenant_id uuid not null,
  id uuid not null,
  photo_id uuid not null,
  reason text not null check (length(reason) between 1 and 500),
  made_by uuid not null,
  made_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, photo_id) references photo_checks,
  foreign key (tenant_id, made_by) references staff_members
);
create index photo_overrides_by_photo on photo_overrides (tenant_id, photo_id, made_at);

create table recordings (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  kind text not null check (kind in ('walk_around')),
  media_type text not null check (media_type in ('video/webm', 'video/mp4', 'video/quicktime')),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  bytes bigint not null check (bytes > 0),
  -- As the phone counted them; null where it did not say.
  seconds integer check (seconds between 0 and 36000),
  -- The phone wrote into the file where it was recorded: then nobody but the staff opens it.
  names_place boolean not null,
  captured_at timestamptz,
  received_at timestamptz not null,
  received_from uuid not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, received_from) references staff_members
);
create index recordings_by_work_order on recordings (tenant_id, work_order_id, received_at);

-- Where its bytes are: of the film itself and of the picture that stands for it.
create table recording_files (
  tenant_id uuid not null,
  recording_id uuid not null,
  part text not null check (part in ('film', 'poster')),
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  bytes bigint not null check (bytes > 0),
  storage_key text not null,
  primary key (tenant_id, recording_id, part),
  foreign key (tenant_id, recording_id) references recordings
);
create index recording_files_by_storage_key on recording_files (tenant_id, storage_key);

call wall('photo_checks');
call wall('photo_overrides');
call wall('recordings',
  'exists (select 1 from work_orders w where w.tenant_id = recordings.tenant_id and w.id = recordings.work_order_id)');
call wall('recording_files',
  'exists (select 1 from recordings r where r.tenant_id = recording_files.tenant_id and r.id = recording_files.recording_id
    and (recording_files.part = ''poster'' or not r.names_place))');
call append_only('photo_checks');
call append_only('photo_overrides');
call append_only('recordings');
call append_only('recording_files');

grant select, insert on photo_checks, photo_overrides, recordings, recording_files to grainwright_staff;
grant select on photo_checks, photo_overrides, recordings, recording_files to grainwright_worker;
grant select (tenant_id, id, work_order_id, kind, media_type, sha256, bytes, seconds, names_place, captured_at, received_at)
  on recordings to grainwright_account;
grant select on recording_files to grainwright_account;
