-- What was done on a phone without signal stands as it was there: the vehicle as it was typed and signed under, and when
-- that was by the phone's clock. And a legal hold keeps the reworks of what it is on, and what they put right.

alter table work_orders
  -- By the phone's clock, where it was written up on one and sent later.
  add column made_at timestamptz check (made_at <= written_up_at),
  -- The vehicle as it was written up, which its owner signs; null where it is signed as it is on record.
  add column vehicle_as_written jsonb check (jsonb_typeof(vehicle_as_written) = 'object');
grant select (made_at, vehicle_as_written) on work_orders to grainwright_account;
grant select (vehicle_as_written) on work_orders to grainwright_vehicle_owner;

create function keep_as_written() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  raise exception 'what a work order was written up as does not change' using errcode = 'insufficient_privilege';
end $$;
create trigger as_written before update on work_orders for each row
  when ((old.made_at, old.written_up_at, old.vehicle_as_written)
    is distinct from (new.made_at, new.written_up_at, new.vehicle_as_written))
  execute function keep_as_written();

-- Out of what is chained, so that an account reads it beside the server's time.
alter table audit_records
  add column made_on_phone_at text generated always as (detail ->> 'made_on_phone_at') stored;
grant select (made_on_phone_at) on audit_records to grainwright_account;

-- The work orders that a standing hold keeps: its own, those that put it right, and those that it puts right itself.
create view held_work_orders with (security_invoker = true) as
  with recursive held as (
    select h.tenant_id, h.id as hold_id, h.work_order_id
    from legal_holds h
    where h.work_order_id is not null
      and not exists (select from legal_hold_ends e where e.tenant_id = h.tenant_id and e.hold_id = h.id)
    union
    select k.tenant_id, k.hold_id, case when w.id = k.work_order_id then w.rework_of_id else w.id end
    from held k
    join work_orders w on w.tenant_id = k.tenant_id
      and (w.rework_of_id = k.work_order_id or (w.id = k.work_order_id and w.rework_of_id is not null))
  )
  select tenant_id, hold_id, work_order_id from held;
grant select on held_work_orders to grainwright_staff;

create or replace view retention_candidates with (security_invoker = true) as
  select c.tenant_id, c.kind, c.subject_id, c.work_order_id, c.account_id, c.ended_at, c.bytes,
    (exists (select from legal_holds h
        where h.tenant_id = c.tenant_id and h.account_id = c.account_id
          and not exists (select from legal_hold_ends e where e.tenant_id = h.tenant_id and e.hold_id = h.id))
      or exists (select from held_work_orders k
        where k.tenant_id = c.tenant_id and k.work_order_id = c.work_order_id)) as held
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
