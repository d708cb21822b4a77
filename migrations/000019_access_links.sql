-- Links that open one thing to one person without a password: a contact's estimates, or a vehicle owner's acceptance.

create table access_links (
  tenant_id uuid not null,
  id uuid not null,
  purpose text not null check (purpose in ('approval', 'acceptance')),
  account_id uuid not null,
  -- The contact who answers; a vehicle's owner is nobody of ours.
  person_id uuid,
  -- What it is about. A contact's link opens what waits for that contact; this is where it begins.
  work_order_id uuid not null,
  -- SHA-256 of the secret. The secret is made again from the link's id and a key outside the database when it is mailed.
  secret_hash text not null check (secret_hash ~ '^[0-9a-f]{64}$'),
  made_by uuid not null,
  made_at timestamptz not null,
  expires_at timestamptz not null check (expires_at > made_at),
  revoked_at timestamptz,
  primary key (tenant_id, id),
  unique (tenant_id, secret_hash),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, person_id) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, made_by) references people,
  check ((purpose = 'approval') = (person_id is not null))
);
create index access_links_of_person on access_links (tenant_id, account_id, person_id) where revoked_at is null;
create index access_links_by_work_order on access_links (tenant_id, work_order_id);
-- An account's transaction reads whether a contact's link still opens, and never its secret.
call wall('access_links', $$account_id = (select own_account()) and purpose = 'approval'$$);
grant select, insert, update (revoked_at) on access_links to grainwright_staff;
grant select on access_links to grainwright_worker;
grant select (tenant_id, id, purpose, account_id, person_id, work_order_id, expires_at, revoked_at)
  on access_links to grainwright_account;
-- What was taken back stays taken back.
create trigger revoked_for_good before update on access_links for each row
  when (old.revoked_at is not null and new.revoked_at is distinct from old.revoked_at) execute function refuse_change();

-- Whether what an account writes may name this link at this moment; whoever is signed in names none.
create function link_opens(link uuid, at timestamptz) returns boolean
language sql stable set search_path = pg_catalog, public, pg_temp as $$
  select link is null or exists (select from access_links l
    where l.tenant_id = nullif(current_setting('app.tenant_id', true), '')::uuid and l.account_id = own_account()
      and l.id = link and l.revoked_at is null and l.expires_at > at)
$$;
revoke all on function link_opens from public;
grant execute on function link_opens to grainwright_account;

-- What the staff may add is less than what they may see, as with `account_adds`.
create procedure staff_adds(tenant_table regclass, rule text)
language plpgsql as $$
declare
  own constant text := 'tenant_id = (select nullif(current_setting(''app.tenant_id'', true), '''')::uuid)';
begin
  execute format('alter policy tenant on %s with check (%s and (%s))', tenant_table, own, rule);
end $$;
revoke all on procedure staff_adds from public;

-- Whoever holds a secret reads the one row that it opens, and nothing else of the business.
create policy link on access_links to grainwright_link
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and secret_hash = (select nullif(current_setting('app.link_hash', true), '')))
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid) and false);
grant usage on schema public to grainwright_link;
grant select (tenant_id, id, purpose, account_id, person_id, work_order_id, secret_hash, expires_at, revoked_at)
  on access_links to grainwright_link;
