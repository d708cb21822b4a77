-- What is not any one tenant's: tenants, users, sessions, memberships. Reached by a small pool of its own,
-- in the role grainwright_registry, and by nobody else.

create extension if not exists btree_gist;

revoke all on schema public from public;
grant usage on schema public
  to grainwright_staff, grainwright_account, grainwright_vehicle_owner, grainwright_worker;

create schema registry;
revoke all on schema registry from public;
grant usage on schema registry to grainwright_registry;

create table registry.tenants (
  id uuid primary key,
  name text not null check (length(name) between 1 and 200),
  created_at timestamptz not null
);

create table registry.users (
  id uuid primary key,
  email text not null check (email = lower(email) and length(email) between 3 and 254),
  password_hash text not null,
  created_at timestamptz not null,
  disabled_at timestamptz,
  constraint users_email_once unique (email)
);

-- A person may be staff of one tenant and a contact of accounts of another. The role itself is the
-- tenant's to give and stands in its own rows, so that a change takes effect with the next request.
-- With a join code, of which only the SHA-256 is kept, it is pending: whoever gave an e-mail address its
-- first password may not be the one who reads its mail, and gets nowhere else by it.
create table registry.memberships (
  id uuid primary key,
  user_id uuid not null references registry.users,
  tenant_id uuid not null references registry.tenants,
  person_id uuid not null,
  account_id uuid,
  join_code_hash text check (join_code_hash ~ '^[0-9a-f]{64}$'),
  constraint memberships_once unique nulls not distinct (user_id, tenant_id, account_id)
);

create table registry.sessions (
  id_hash text primary key check (id_hash ~ '^[0-9a-f]{64}$'),
  user_id uuid not null references registry.users,
  membership_id uuid references registry.memberships,
  expires_at timestamptz not null,
  ends_at timestamptz not null
);
create index sessions_by_user on registry.sessions (user_id);
create index sessions_by_expiry on registry.sessions (expires_at);

-- How often a password was tried lately, by a digest of who tried what, so that every web process counts together.
create table registry.sign_in_failures (
  key_hash text primary key,
  failures integer not null,
  window_ends_at timestamptz not null
);
create index sign_in_failures_by_end on registry.sign_in_failures (window_ends_at);

grant select, insert on registry.tenants to grainwright_registry;
grant select, insert, update on registry.users, registry.memberships to grainwright_registry;
grant select, insert, update, delete on registry.sessions, registry.sign_in_failures to grainwright_registry;

-- The wall around a tenant's rows, the same for every table. `account_rule` and `vehicle_owner_rule` say which
-- of the tenant's rows an account's contact and a vehicle's owner may reach; null: none.
create procedure public.wall(tenant_table regclass, account_rule text default null, vehicle_owner_rule text default null)
language plpgsql as $$
declare
  own constant text := 'tenant_id = (select nullif(current_setting(''app.tenant_id'', true), '''')::uuid)';
begin
  execute format('alter table %s enable row level security', tenant_table);
  execute format('alter table %s force row level security', tenant_table);
  execute format('create policy tenant on %s to grainwright_staff, grainwright_worker using (%s) with check (%s)',
    tenant_table, own, own);
  if account_rule is not null then
    execute format('create policy account on %s to grainwright_account using (%s and (%s)) with check (%s and (%s))',
      tenant_table, own, account_rule, own, account_rule);
  end if;
  if vehicle_owner_rule is not null then
    execute format('create policy vehicle_owner on %s to grainwright_vehicle_owner using (%s and (%s)) with check (%s and (%s))',
      tenant_table, own, vehicle_owner_rule, own, vehicle_owner_rule);
  end if;
end $$;

create function public.own_account() returns uuid language sql stable
  as $$ select nullif(current_setting('app.account_id', true), '')::uuid $$;
create function public.own_work_order() returns uuid language sql stable
  as $$ select nullif(current_setting('app.work_order_id', true), '')::uuid $$;

-- Records that nobody may change: the privilege is not granted, and the trigger stops whoever has it by ownership.
create function public.refuse_change() returns trigger language plpgsql as $$
begin
  raise exception '% is append-only: % refused', tg_table_name, tg_op using errcode = 'restrict_violation';
end $$;

create procedure public.append_only(tenant_table regclass)
language plpgsql as $$
begin
  execute format('create trigger append_only before update or delete on %s for each row execute function public.refuse_change()', tenant_table);
  execute format('create trigger append_only_truncate before truncate on %s for each statement execute function public.refuse_change()', tenant_table);
end $$;

revoke all on procedure public.wall, public.append_only from public;
