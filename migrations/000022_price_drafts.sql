-- Price lists in the making, tried on past work before they count. Only the staff reads them. One that was put into
-- force or discarded stays as it was.

create table price_drafts (
  tenant_id uuid not null,
  id uuid not null,
  name text not null check (length(name) between 1 and 80),
  -- The first day its prices would count.
  counts_from date not null,
  -- The day whose list it was copied from.
  copied_from date not null,
  -- The periods that the price book had from that day on, by which a change behind the draft's back is noticed.
  base jsonb not null,
  -- Counted up with every change, so that nobody overwrites what they have not seen.
  revision integer not null default 1 check (revision > 0),
  state text not null default 'open' check (state in ('open', 'published', 'discarded')),
  started_by uuid not null,
  started_at timestamptz not null,
  ended_by uuid,
  ended_at timestamptz,
  primary key (tenant_id, id),
  foreign key (tenant_id, started_by) references staff_members,
  foreign key (tenant_id, ended_by) references staff_members,
  check ((state = 'open') = (ended_by is null)),
  check ((ended_by is null) = (ended_at is null))
);
call wall('price_drafts');

create table price_draft_rates (
  tenant_id uuid not null,
  draft_id uuid not null,
  code text not null check (code ~ '^[A-Z0-9-]{1,12}$'),
  repair text not null,
  family text not null check (length(family) between 1 and 60),
  over_inches numeric(6, 3) check (over_inches >= 0),
  to_inches numeric(6, 3) check (to_inches > over_inches),
  part text check (length(part) between 1 and 60),
  material text check (length(material) between 1 and 40),
  list_minor bigint not null check (list_minor > 0),
  materials_percent numeric(6, 3) not null check (materials_percent between 0 and 100),
  takes_further_repair boolean not null,
  repairs_damage boolean not null,
  primary key (tenant_id, draft_id, code),
  foreign key (tenant_id, draft_id) references price_drafts,
  check ((over_inches is null) = (to_inches is null))
);
call wall('price_draft_rates');

create function keep_ended_draft() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if tg_table_name = 'price_drafts' then
    if old.state <> 'open' then
      raise exception 'a price list that was put into force or discarded stays as it was' using errcode = 'restrict_violation';
    end if;
    return new;
  end if;
  if exists (select from price_drafts d where d.tenant_id = coalesce(new.tenant_id, old.tenant_id)
      and d.id = coalesce(new.draft_id, old.draft_id) and d.state <> 'open') then
    raise exception 'a price list that was put into force or discarded stays as it was' using errcode = 'restrict_violation';
  end if;
  return coalesce(new, old);
end $$;
create trigger keep_ended before update on price_drafts for each row execute function keep_ended_draft();
create trigger keep_ended before insert or update or delete on price_draft_rates
  for each row execute function keep_ended_draft();

grant select, insert, update (name, counts_from, base, revision, state, ended_by, ended_at)
  on price_drafts to grainwright_staff;
grant select, insert, delete on price_draft_rates to grainwright_staff;
