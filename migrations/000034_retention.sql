-- How long photos, recordings, files and the words of mails are kept, and what went when that was over. Unless the owner
-- of a business says otherwise, everything is kept. Rows stay; what goes is the bytes, and the words of a mail.

-- The day after which something may go.
create function kept_through(ended_on date, period integer, unit text) returns date
language sql immutable
  return (ended_on + case unit when 'years' then make_interval(years => period) else make_interval(days => period) end)::date;

create table retention_rules (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null check (kind in ('photos', 'recordings', 'documents', 'mails')),
  number integer not null check (number > 0),
  -- Null: kept for good.
  period integer check (period > 0),
  unit text check (unit in ('days', 'years')),
  reason text not null default '' check (length(reason) <= 500),
  set_by uuid not null,
  set_at timestamptz not null,
  -- A shorter period waits, so that a mistake can be stopped.
  effective_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, kind, number),
  foreign key (tenant_id, set_by) references staff_members,
  check ((period is null) = (unit is null)),
  check (effective_at >= set_at),
  check (period is null or kept_through('2001-01-01', period, unit)
    between kept_through('2001-01-01', case kind when 'recordings' then 90 when 'documents' then 1095 else 365 end, 'days')
    and kept_through('2001-01-01', 50, 'years'))
);

-- Nothing goes before the owner has switched it on. The newest row counts.
create table retention_switches (
  tenant_id uuid not null,
  id uuid not null,
  number integer not null check (number > 0),
  is_on boolean not null,
  set_by uuid not null,
  set_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, number),
  foreign key (tenant_id, set_by) references staff_members
);

-- What must not go whatever the rules say: of one work order, or all of an account.
create table legal_holds (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid,
  account_id uuid,
  reason text not null check (length(reason) between 1 and 500),
  placed_by uuid not null,
  placed_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, placed_by) references staff_members,
  check (num_nonnulls(work_order_id, account_id) = 1)
);
create index legal_holds_by_work_order on legal_holds (tenant_id, work_order_id) where work_order_id is not null;
create index legal_holds_by_account on legal_holds (tenant_id, account_id) where account_id is not null;

create table legal_hold_ends (
  tenant_id uuid not null,
  hold_id uuid not null,
  reason text not null check (length(reason) between 1 and 500),
  ended_by uuid not null,
  ended_at timestamptz not null,
  primary key (tenant_id, hold_id),
  foreign key (tenant_id, hold_id) references legal_holds,
  foreign key (tenant_id, ended_by) references staff_members
);

-- What went, under which rule, with the digests of its files.
create table deletions (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null check (kind in ('photos', 'recordings', 'documents', 'mails')),
  subject_id uuid not null,
  work_order_id uuid,
  account_id uuid,
  rule_id uuid not null,
  -- Of the rule, for everybody to read.
  period integer not null,
  unit text not null,
  ended_on date not null,
  -- Each {what, sha256, bytes, storage_key}; of a mail's words only their digest and length.
  files jsonb not null check (jsonb_typeof(files) = 'array'),
  bytes bigint not null check (bytes >= 0),
  deleted_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, kind, subject_id),
  foreign key (tenant_id, rule_id) references retention_rules,
  foreign key (tenant_id, work_order_id) references work_orders,
  foreign key (tenant_id, account_id) references accounts
);
create index deletions_latest on deletions (tenant_id, deleted_at desc, id desc);

-- Its bytes are gone from the store, but for those that something else still needs.
create table deletion_removals (
  tenant_id uuid not null,
  deletion_id uuid not null,
  objects_removed integer not null check (objects_removed >= 0),
  objects_shared integer not null check (objects_shared >= 0),
  removed_at timestamptz not null,
  primary key (tenant_id, deletion_id),
  foreign key (tenant_id, deletion_id) references deletions
);

-- When a work order was over: its last step into a state that nothing more is owed in, and that of its reworks.
create view work_order_ends with (security_invoker = true) as
  select w.tenant_id, w.id as work_order_id, w.account_id,
    greatest((select max(s.happened_at) from work_order_steps s
        where s.tenant_id = w.tenant_id and s.work_order_id = w.id and s.to_state = w.state),
      (select max(t.happened_at) from work_orders r
        join work_order_steps t on t.tenant_id = r.tenant_id and t.work_order_id = r.id
        where r.tenant_id = w.tenant_id and r.rework_of_id = w.id)) as ended_at
  from work_orders w
  where (w.state in ('paid', 'declined', 'void', 'written_off') or (w.state = 'accepted' and w.rework_of_id is not null))
    and not exists (select from work_orders r where r.tenant_id = w.tenant_id and r.rework_of_id = w.id
      and r.state not in ('paid', 'declined', 'void', 'written_off', 'accepted'));

-- What is still there of what may go one day, and since when its time counts: photos and recordings since their work
-- order was over, a statement's files since it was issued, a mail's words since it was sent and its work order was over.
create view retention_candidates with (security_invoker = true) as
  select c.tenant_id, c.kind, c.subject_id, c.work_order_id, c.account_id, c.ended_at, c.bytes,
    exists (select from legal_holds h
      where h.tenant_id = c.tenant_id and (h.work_order_id = c.work_order_id or h.account_id = c.account_id)
        and not exists (select from legal_hold_ends e where e.tenant_id = h.tenant_id and e.hold_id = h.id)) as held
  from (
    select p.tenant_id, 'photos'::text as kind, p.id as subject_id, p.work_order_id, e.account_id, e.ended_at,
      (p.bytes + coalesce((select sum(d.bytes) from photo_derivatives d
          where d.tenant_id = p.tenant_id and d.photo_id = p.id), 0)
        + coalesce((select sum(v.bytes) from photo_coverings g join covered_copies v
          on v.tenant_id = g.tenant_id and v.covering_id = g.id
          where g.tenant_id = p.tenant_id and g.photo_id = p.id), 0))::bigint as bytes
    from photos p
    join work_order_ends e on e.tenant_id = p.tenant_id and e.work_order_id = p.work_order_id
    union all
    select r.tenant_id, 'recordings', r.id, r.work_order_id, e.account_id, e.ended_at,
      coalesce((select sum(f.bytes) from recording_files f
        where f.tenant_id = r.tenant_id and f.recording_id = r.id), 0)::bigint
    from recordings r
    join work_order_ends e on e.tenant_id = r.tenant_id and e.work_order_id = r.work_order_id
    union all
    select s.tenant_id, 'documents', s.id, null, s.account_id, s.issued_at,
      (select sum(f.bytes) from statement_files f where f.tenant_id = s.tenant_id and f.statement_id = s.id)::bigint
    from statements s
    where exists (select from statement_files f where f.tenant_id = s.tenant_id and f.statement_id = s.id)
    union all
    select m.tenant_id, 'mails', m.id, about.work_order_id, coalesce(m.account_id, e.account_id),
      greatest(coalesce(m.settled_at, m.queued_at), e.ended_at), octet_length(m.body)::bigint
    from outgoing_mails m
    left join lateral (
      select w.id as work_order_id from work_orders w where w.tenant_id = m.tenant_id and w.id = m.about_id
      union all
      select v.work_order_id from estimate_versions v where v.tenant_id = m.tenant_id and v.id = m.about_id
      union all
      select d.work_order_id from decisions d where d.tenant_id = m.tenant_id and d.id = m.about_id
      union all
      select g.work_order_id from messages g where g.tenant_id = m.tenant_id and g.id = m.about_id
      union all
      select a.work_order_id from acceptances a where a.tenant_id = m.tenant_id and a.id = m.about_id
      limit 1) about on true
    left join work_order_ends e on e.tenant_id = m.tenant_id and e.work_order_id = about.work_order_id
    where m.state <> 'queued' and (about.work_order_id is null or e.ended_at is not null)
  ) c
  where not exists (select from deletions d
    where d.tenant_id = c.tenant_id and d.kind = c.kind and d.subject_id = c.subject_id);

-- The rule that counts at a moment, for each kind that has one: the newest one in effect. One that was overtaken by a
-- newer one while it waited never counts.
create function retention_rules_at(at timestamptz) returns setof retention_rules language sql stable
begin atomic
  select distinct on (r.tenant_id, r.kind) r.* from retention_rules r
  where r.effective_at <= at
    and not exists (select from retention_rules newer where newer.tenant_id = r.tenant_id and newer.kind = r.kind
      and newer.number > r.number and newer.set_at < r.effective_at)
  order by r.tenant_id, r.kind, r.number desc;
end;

-- What would go at a moment, by the business's own day: all whose time is over, what a hold keeps included.
create function retention_due(at timestamptz)
returns table (tenant_id uuid, kind text, subject_id uuid, work_order_id uuid, account_id uuid, ended_on date,
  kept_through date, bytes bigint, held boolean, rule_id uuid, period integer, unit text)
language sql stable
begin atomic
  select c.tenant_id, c.kind, c.subject_id, c.work_order_id, c.account_id, (c.ended_at at time zone b.time_zone)::date,
    kept_through((c.ended_at at time zone b.time_zone)::date, r.period, r.unit), c.bytes, c.held, r.id, r.period, r.unit
  from retention_rules_at(at) r
  join businesses b on b.tenant_id = r.tenant_id
  join retention_candidates c on c.tenant_id = r.tenant_id and c.kind = r.kind
  where r.period is not null
    and kept_through((c.ended_at at time zone b.time_zone)::date, r.period, r.unit) < (at at time zone b.time_zone)::date;
end;

-- A shorter period takes effect 30 days after it was set, not before.
create function check_retention_rule() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
declare
  now_kept constant date := (select kept_through('2001-01-01', r.period, r.unit) from retention_rules_at(new.set_at) r
    where r.tenant_id = new.tenant_id and r.kind = new.kind);
  then_kept constant date := kept_through('2001-01-01', new.period, new.unit);
begin
  if then_kept is not null and (now_kept is null or then_kept < now_kept)
    and new.effective_at < new.set_at + interval '30 days' then
    raise exception 'a shorter period waits 30 days' using errcode = 'restrict_violation';
  end if;
  return new;
end $$;
create trigger check_retention_rule before insert on retention_rules for each row execute function check_retention_rule();

-- A hold and a deletion at one moment come one after the other, so that a hold in force is seen.
create function await_retention() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  perform pg_advisory_xact_lock(hashtextextended('retention ' || new.tenant_id::text, 0));
  return new;
end $$;
create trigger await_retention before insert on legal_holds for each row execute function await_retention();

-- Never before its time, never what a hold keeps, never unless it was switched on.
create function check_deletion() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  perform pg_advisory_xact_lock(hashtextextended('retention ' || new.tenant_id::text, 0));
  if not coalesce((select s.is_on from retention_switches s where s.tenant_id = new.tenant_id
    order by s.number desc limit 1), false) then
    raise exception 'nothing is deleted before it is switched on' using errcode = 'restrict_violation';
  end if;
  if not exists (select from retention_due(new.deleted_at) d
    where d.tenant_id = new.tenant_id and d.kind = new.kind and d.subject_id = new.subject_id and d.rule_id = new.rule_id
      and d.ended_on = new.ended_on and d.period = new.period and d.unit = new.unit and not d.held) then
    raise exception '% % is to be kept', new.kind, new.subject_id using errcode = 'restrict_violation';
  end if;
  return new;
end $$;
create trigger check_deletion before insert on deletions for each row execute function check_deletion();

-- The words of a mail go, and only once it is on record that they do.
create function check_mail_words() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if new.body <> '' or not exists (select from deletions d
    where d.tenant_id = new.tenant_id and d.kind = 'mails' and d.subject_id = new.id) then
    raise exception 'the words of a mail stay' using errcode = 'restrict_violation';
  end if;
  return new;
end $$;
create trigger check_mail_words before update of body on outgoing_mails for each row
  when (new.body is distinct from old.body) execute function check_mail_words();
revoke all on function kept_through, retention_rules_at, retention_due from public;

call wall('retention_rules');
call wall('retention_switches');
call wall('legal_holds');
call wall('legal_hold_ends');
call wall('deletion_removals');
-- Others learn that a picture or a file is gone, where they saw it before.
call wall('deletions', $$
  (kind = 'photos' and exists (select 1 from photos p where p.tenant_id = deletions.tenant_id and p.id = deletions.subject_id))
  or (kind = 'recordings' and exists (select 1 from recordings r
    where r.tenant_id = deletions.tenant_id and r.id = deletions.subject_id))
  or (kind = 'documents' and exists (select 1 from statements s
    where s.tenant_id = deletions.tenant_id and s.id = deletions.subject_id))$$,
  $$kind = 'photos' and exists (select 1 from photos p
    where p.tenant_id = deletions.tenant_id and p.id = deletions.subject_id)$$);
-- How long things are kept is the owner's to say, and to lift a hold, too.
call staff_adds('retention_rules', $$exists (select from staff_members s
  where s.tenant_id = retention_rules.tenant_id and s.person_id = retention_rules.set_by and s.role = 'owner')$$);
call staff_adds('retention_switches', $$exists (select from staff_members s
  where s.tenant_id = retention_switches.tenant_id and s.person_id = retention_switches.set_by and s.role = 'owner')$$);
call staff_adds('legal_hold_ends', $$exists (select from staff_members s
  where s.tenant_id = legal_hold_ends.tenant_id and s.person_id = legal_hold_ends.ended_by and s.role = 'owner')$$);
call append_only('retention_rules');
call append_only('retention_switches');
call append_only('legal_holds');
call append_only('legal_hold_ends');
call append_only('deletions');
call append_only('deletion_removals');

grant select, insert on retention_rules, retention_switches, legal_holds, legal_hold_ends, deletions, deletion_removals
  to grainwright_staff;
grant select on work_order_ends, retention_candidates to grainwright_staff;
grant update (body) on outgoing_mails to grainwright_staff;
grant execute on function kept_through, retention_rules_at, retention_due to grainwright_staff;
grant select on deletions to grainwright_worker;
grant select (tenant_id, id, kind, subject_id, period, unit, deleted_at) on deletions
  to grainwright_account, grainwright_vehicle_owner;

create or replace view shown_copies with (security_invoker = true) as
  select d.tenant_id, d.photo_id, d.kind, d.sha256, d.bytes, d.width, d.height, d.storage_key, d.made_at
  from photo_derivatives d
  where not exists (select from standing_coverings s where s.tenant_id = d.tenant_id and s.photo_id = d.photo_id)
    and not exists (select from deletions g where g.tenant_id = d.tenant_id and g.kind = 'photos' and g.subject_id = d.photo_id)
  union all
  select c.tenant_id, s.photo_id, c.kind, c.sha256, c.bytes, c.width, c.height, c.storage_key, c.made_at
  from standing_coverings s
  join covered_copies c on c.tenant_id = s.tenant_id and c.covering_id = s.id
  where c.kind in ('view', 'thumb')
    and not exists (select from deletions g where g.tenant_id = s.tenant_id and g.kind = 'photos' and g.subject_id = s.photo_id);

-- Whether bytes are still needed is asked by their place.
create index covered_copies_by_storage_key on covered_copies (tenant_id, storage_key);
create index statement_files_by_storage_key on statement_files (tenant_id, storage_key);

create or replace function enqueue_job(task text, subject_id uuid) returns void
language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'enqueue_job needs a tenant'; end if;
  if task not in ('make_photo_derivatives', 'run_statements', 'send_mail', 'ask_for_approval', 'pass_on_answer',
    'tell_answer', 'sweep_waiting', 'mail_message', 'mail_acceptance', 'seal_records', 'make_covered_copies',
    'remove_deleted') then
    raise exception 'no task named %', task;
  end if;
  -- The role of whoever calls; inside, the function has its owner's.
  if current_setting('role') = 'grainwright_vehicle_owner' and task not in ('mail_acceptance', 'seal_records') then
    raise exception 'a vehicle''s owner asks for no %', task using errcode = 'insufficient_privilege';
  end if;
  perform graphile_worker.add_job(task, json_build_object('tenant_id', tenant, 'subject_id', subject_id),
    job_key => format('%s:%s:%s', task, tenant, subject_id), max_attempts => 12);
end $$;
