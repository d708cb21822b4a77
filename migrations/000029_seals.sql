-- Seals over what was answered, signed and credited, in one chain per business; the days' roots over them; and a chain
-- over the audit records. What is in a chain can't be changed, left out or put in without the links after it showing it.

-- A server whose administrator is held to row security like everybody else lets the functions below reach what the
-- background's role may reach, within the tenant of the transaction. One that bypasses it needs nothing.
do $$ begin
  if not (select rolsuper or rolbypassrls from pg_roles where rolname = current_user) then
    execute format('grant grainwright_worker to %I with inherit true', current_user);
  end if;
end $$;

-- Keys: what each is made from lies outside the database, and only its salt and its public half are here.
create table signing_keys (
  tenant_id uuid not null,
  id uuid not null,
  -- Counted from 1. The newest one that the chain has begun with or introduced is the one that signs.
  number integer not null check (number > 0),
  key_id text not null check (key_id = encode(sha256(decode(public_key, 'hex')), 'hex')),
  public_key text not null check (public_key ~ '^[0-9a-f]{64}$'),
  salt text not null check (salt ~ '^[0-9a-f]{64}$'),
  cause text not null check (cause in ('first', 'rotated', 'secret_changed')),
  -- Null where the background began it by itself.
  made_by uuid,
  made_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, number),
  unique (tenant_id, key_id),
  foreign key (tenant_id, made_by) references staff_members,
  check ((cause = 'first') = (number = 1)),
  check ((cause = 'rotated') = (made_by is not null))
);

-- What waits for its seal. Triggers write it with what is to be sealed, so that nobody can forget to.
create table seal_requests (
  tenant_id uuid not null,
  kind text not null check (kind in ('approval', 'acceptance', 'release', 'credit', 'rework', 'key')),
  subject_id uuid not null,
  work_order_id uuid,
  account_id uuid,
  happened_at timestamptz not null,
  -- The number of its seal; null while it waits.
  seal_number bigint,
  primary key (tenant_id, kind, subject_id),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, account_id) references accounts
);
create index seal_requests_waiting on seal_requests (tenant_id, happened_at, kind, subject_id) where seal_number is null;

create table seals (
  tenant_id uuid not null,
  number bigint not null check (number > 0),
  kind text not null,
  subject_id uuid not null,
  work_order_id uuid,
  account_id uuid,
  happened_at timestamptz not null,
  sealed_at timestamptz not null,
  -- The business's own day of `sealed_at`.
  sealed_on date not null,
  previous text,
  -- Canonical JSON (RFC 8785) that the chain, the signature and the day's root are made of.
  text text not null,
  sha256 text not null check (sha256 = encode(sha256(convert_to(text, 'UTF8')), 'hex')),
  -- What is sealed, as canonical JSON, and what of it the staff alone may show.
  content text not null,
  content_sha256 text not null check (content_sha256 = encode(sha256(convert_to(content, 'UTF8')), 'hex')),
  withheld text check (withheld is null
    or content::jsonb ->> 'withheldDigest' = encode(sha256(convert_to(withheld, 'UTF8')), 'hex')),
  key_id text not null,
  signature text not null check (signature ~ '^[0-9a-f]{128}$'),
  primary key (tenant_id, number),
  unique (tenant_id, kind, subject_id),
  foreign key (tenant_id, kind, subject_id) references seal_requests,
  foreign key (tenant_id, key_id) references signing_keys (tenant_id, key_id),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  check ((number = 1) = (previous is null)),
  check (text::jsonb ->> 'format' = 'seal-1' and text::jsonb ->> 'tenant' = tenant_id::text
    and text::jsonb ->> 'number' = number::text and text::jsonb ->> 'previous' is not distinct from previous
    and text::jsonb ->> 'kind' = kind and text::jsonb ->> 'subject' = subject_id::text
    and text::jsonb ->> 'workOrder' is not distinct from work_order_id::text
    and text::jsonb ->> 'content' = content_sha256 and text::jsonb ->> 'key' = key_id)
);
create index seals_by_work_order on seals (tenant_id, work_order_id, number);
create index seals_by_day on seals (tenant_id, sealed_on, number);

create table seal_days (
  tenant_id uuid not null,
  day date not null,
  -- Counted from 1, over the days that have seals.
  number bigint not null check (number > 0),
  first_number bigint not null check (first_number > 0),
  size integer not null check (size > 0),
  root text not null check (root ~ '^[0-9a-f]{64}$'),
  -- Of every seal of the day, in their order, its leaf in the tree (RFC 6962 section 2.1): proofs are made of these.
  leaves text[] not null check (cardinality(leaves) = size),
  previous text,
  audit_number bigint,
  audit_sha256 text,
  text text not null,
  sha256 text not null check (sha256 = encode(sha256(convert_to(text, 'UTF8')), 'hex')),
  key_id text not null,
  signature text not null check (signature ~ '^[0-9a-f]{128}$'),
  closed_at timestamptz not null,
  primary key (tenant_id, day),
  unique (tenant_id, number),
  foreign key (tenant_id, key_id) references signing_keys (tenant_id, key_id),
  check ((number = 1) = (previous is null)),
  check (num_nulls(audit_number, audit_sha256) in (0, 2)),
  check (text::jsonb ->> 'format' = 'seal-day-1' and text::jsonb ->> 'tenant' = tenant_id::text
    and text::jsonb ->> 'day' = to_char(day, 'YYYY-MM-DD') and text::jsonb ->> 'firstNumber' = first_number::text
    and text::jsonb ->> 'size' = size::text and text::jsonb ->> 'root' = root
    and text::jsonb ->> 'previous' is not distinct from previous
    and text::jsonb #>> '{audit,number}' is not distinct from audit_number::text
    and text::jsonb #>> '{audit,sha256}' is not distinct from audit_sha256 and text::jsonb ->> 'key' = key_id)
);

-- Audit records are written without waiting for each other; the background puts them into their chain.
create table audit_waiting (
  tenant_id uuid not null,
  audit_id uuid not null,
  primary key (tenant_id, audit_id),
  foreign key (tenant_id, audit_id) references audit_records
);
create table audit_links (
  tenant_id uuid not null,
  number bigint not null check (number > 0),
  audit_id uuid not null,
  previous text,
  -- Of the record's canonical JSON.
  record_sha256 text not null check (record_sha256 ~ '^[0-9a-f]{64}$'),
  -- Of the link's own canonical JSON: its members in the order of their names, as RFC 8785 has them.
  sha256 text not null check (sha256 = encode(sha256(convert_to(format(
    '{"format":"audit-link-1","number":%s,"previous":%s,"record":"%s","tenant":"%s"}',
    number, coalesce('"' || previous || '"', 'null'), record_sha256, tenant_id), 'UTF8')), 'hex')),
  chained_at timestamptz not null,
  primary key (tenant_id, number),
  unique (tenant_id, audit_id),
  foreign key (tenant_id, audit_id) references audit_records,
  check ((number = 1) = (previous is null))
);

-- Where each chain ends. Only the functions below move it, one link at a time.
create table chain_heads (
  tenant_id uuid not null,
  chain text not null check (chain in ('seals', 'seal_days', 'audit')),
  number bigint not null check (number >= 0),
  sha256 text,
  primary key (tenant_id, chain),
  check ((number = 0) = (sha256 is null))
);

call wall('signing_keys', 'true');
call wall('seal_requests');
-- Accounts read the seals of what is theirs, and those by which the keys follow each other.
call wall('seals', $$account_id = (select own_account()) or kind = 'key'$$,
  $$kind = 'acceptance' and work_order_id = (select own_work_order())$$);
call wall('seal_days', 'true');
call wall('audit_waiting');
call wall('audit_links');
call wall('chain_heads');
call append_only('signing_keys');
call append_only('seals');
call append_only('seal_days');
call append_only('audit_links');

-- A wait ends once, with a seal; nothing else about it changes.
create function check_seal_request() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if old.seal_number is not null or (to_jsonb(new) - 'seal_number') is distinct from (to_jsonb(old) - 'seal_number') then
    raise exception 'a seal is put once' using errcode = 'restrict_violation';
  end if;
  return new;
end $$;
create trigger put_once before update on seal_requests for each row execute function check_seal_request();
create trigger append_only before delete on seal_requests for each row execute function refuse_change();
create trigger append_only_truncate before truncate on seal_requests for each statement execute function refuse_change();

-- A chain grows by one link at its end and in no other way.
create function check_chain_head() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if tg_op = 'DELETE' or (new.tenant_id, new.chain) is distinct from (old.tenant_id, old.chain)
    or new.number <= old.number then
    raise exception 'a chain only grows' using errcode = 'restrict_violation';
  end if;
  return new;
end $$;
create trigger only_grows before update or delete on chain_heads for each row execute function check_chain_head();
create trigger append_only_truncate before truncate on chain_heads for each statement execute function refuse_change();

grant select on signing_keys, seal_requests, seals, seal_days, audit_links, chain_heads to grainwright_staff;
grant insert on signing_keys to grainwright_staff, grainwright_worker;
grant select on signing_keys, seal_requests, seals, seal_days, audit_waiting, audit_links, chain_heads to grainwright_worker;
grant select (tenant_id, id, number, key_id, public_key, cause, made_at) on signing_keys to grainwright_account;
grant select (tenant_id, number, kind, subject_id, work_order_id, account_id, happened_at, sealed_at, sealed_on, previous,
  text, sha256, content, content_sha256, key_id, signature) on seals to grainwright_account;
grant select on seal_days to grainwright_account;
grant select (tenant_id, number, kind, subject_id, work_order_id, sealed_at, sha256, key_id) on seals
  to grainwright_vehicle_owner;
-- What a seal's content is made of.
grant select on decisions, decision_lines, decision_signatures, estimate_versions, acceptances, acceptance_releases,
  missing_signatures, visit_signatures, acceptance_requests, work_orders, vehicles, credit_notes, credit_note_lines,
  invoices, approval_delegations, audit_records to grainwright_worker;

-- Locks the end of a chain until the transaction is over, and answers where it is.
create function lock_chain(of_chain text) returns table (number bigint, sha256 text)
language plpgsql security definer set search_path = pg_catalog, public, pg_temp as $$
#variable_conflict use_column
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'a chain belongs to a tenant'; end if;
  insert into chain_heads as h (tenant_id, chain, number) values (tenant, of_chain, 0) on conflict do nothing;
  return query select h.number, h.sha256 from chain_heads h
    where h.tenant_id = tenant and h.chain = of_chain for update;
end $$;

-- Moves the end of a chain by one link, whose own checks are those of its table.
create function advance_chain(of_chain text, link_number bigint, link_previous text, link_sha256 text) returns void
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
  head record;
begin
  select * into head from lock_chain(of_chain);
  if link_number is distinct from head.number + 1 or link_previous is distinct from head.sha256 then
    raise exception 'link % does not follow link % of the chain %', link_number, head.number, of_chain
      using errcode = 'integrity_constraint_violation';
  end if;
  update chain_heads set number = link_number, sha256 = link_sha256 where tenant_id = tenant and chain = of_chain;
end $$;

-- Seals and days are written like any row, and by this stand at the end of their chain or nowhere.
create function chain_seal() returns trigger
language plpgsql security definer set search_path = pg_catalog, public, pg_temp as $$
declare
  asked seal_requests;
begin
  perform advance_chain('seals', new.number, new.previous, new.sha256);
  if (new.text::jsonb ->> 'sealedAt')::timestamptz is distinct from new.sealed_at
    or (new.text::jsonb ->> 'happenedAt')::timestamptz is distinct from new.happened_at then
    raise exception 'the moments of seal % are not those of its text', new.number using errcode = 'check_violation';
  end if;
  if exists (select from seals s where s.tenant_id = new.tenant_id and s.number = new.number - 1
      and s.sealed_at > new.sealed_at)
    or exists (select from seal_days d where d.tenant_id = new.tenant_id and d.day >= new.sealed_on) then
    raise exception 'seal % is older than what it follows', new.number using errcode = 'check_violation';
  end if;
  update seal_requests r set seal_number = new.number
    where r.tenant_id = new.tenant_id and r.kind = new.kind and r.subject_id = new.subject_id returning r.* into asked;
  if not found or (asked.work_order_id, asked.account_id, asked.happened_at)
      is distinct from (new.work_order_id, new.account_id, new.happened_at) then
    raise exception 'nobody asked for seal %', new.number using errcode = 'check_violation';
  end if;
  return null;
end $$;
create trigger chained after insert on seals for each row execute function chain_seal();

create function chain_seal_day() returns trigger
language plpgsql security definer set search_path = pg_catalog, public, pg_temp as $$
begin
  -- No seal comes into the day while it is closed.
  perform lock_chain('seals');
  perform advance_chain('seal_days', new.number, new.previous, new.sha256);
  if new.first_number <> coalesce((select d.first_number + d.size from seal_days d
      where d.tenant_id = new.tenant_id and d.number = new.number - 1), 1)
    or new.leaves is distinct from (select array_agg(encode(sha256('\x00' || convert_to(s.text, 'UTF8')), 'hex') order by s.number)
      from seals s where s.tenant_id = new.tenant_id and s.sealed_on = new.day)
    or new.first_number is distinct from (select min(s.number) from seals s
      where s.tenant_id = new.tenant_id and s.sealed_on = new.day) then
    raise exception 'the day % does not hold its seals', new.day using errcode = 'check_violation';
  end if;
  return null;
end $$;
create trigger chained after insert on seal_days for each row execute function chain_seal_day();

grant insert on seals, seal_days to grainwright_worker;

-- Puts audit records that wait into their chain, in the order given; the links are computed here.
create function chain_audit_records(ids uuid[], records text[], at timestamptz) returns void
language plpgsql security definer set search_path = pg_catalog, public, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
  head record;
  link text;
begin
  select * into head from lock_chain('audit');
  for i in 1 .. coalesce(cardinality(ids), 0) loop
    link := encode(sha256(convert_to(format(
      '{"format":"audit-link-1","number":%s,"previous":%s,"record":"%s","tenant":"%s"}',
      head.number + 1, coalesce('"' || head.sha256 || '"', 'null'), records[i], tenant), 'UTF8')), 'hex');
    delete from audit_waiting w where w.tenant_id = tenant and w.audit_id = ids[i];
    if not found then
      raise exception 'audit record % does not wait for its link', ids[i] using errcode = 'check_violation';
    end if;
    insert into audit_links (tenant_id, number, audit_id, previous, record_sha256, sha256, chained_at)
      values (tenant, head.number + 1, ids[i], head.sha256, records[i], link, at);
    head.number := head.number + 1;
    head.sha256 := link;
  end loop;
  update chain_heads h set number = head.number, sha256 = head.sha256
    where h.tenant_id = tenant and h.chain = 'audit' and h.number < head.number;
end $$;

revoke all on function lock_chain, advance_chain, chain_seal, chain_seal_day, chain_audit_records from public;
grant execute on function lock_chain, chain_audit_records to grainwright_worker;

-- What asks for a seal. The one function that all of these tables' triggers call; nobody calls it by themselves.
create function ask_for_seal(tenant uuid, of_kind text, subject uuid, work_order uuid, account uuid, at timestamptz)
returns void language sql set search_path = pg_catalog, public, pg_temp as $$
  insert into seal_requests (tenant_id, kind, subject_id, work_order_id, account_id, happened_at)
  values (tenant, of_kind, subject, work_order, account, at) on conflict do nothing
$$;
create function request_seal() returns trigger
language plpgsql security definer set search_path = pg_catalog, public, pg_temp as $$
begin
  case tg_table_name
    when 'decision_lines' then
      perform ask_for_seal(d.tenant_id, 'approval', d.id, d.work_order_id, d.account_id, d.decided_at)
      from decisions d where (d.tenant_id, d.id) in (
        select a.tenant_id, a.decision_id from added a where a.answer = 'approved');
    when 'acceptances' then
      perform ask_for_seal(w.tenant_id, 'acceptance', new.id, w.id, w.account_id, new.accepted_at)
      from work_orders w where w.tenant_id = new.tenant_id and w.id = new.work_order_id;
    when 'acceptance_releases' then
      -- A work order is released once, and the seal is named by what was let go.
      perform ask_for_seal(w.tenant_id, 'release', new.missing_signature_id, w.id, w.account_id, new.released_at)
      from work_orders w where w.tenant_id = new.tenant_id and w.id = new.work_order_id;
    when 'credit_notes' then
      perform ask_for_seal(new.tenant_id, 'credit', new.id, null, new.account_id, new.issued_at);
    when 'work_orders' then
      perform ask_for_seal(new.tenant_id, 'rework', new.id, new.id, new.account_id, new.written_up_at);
    when 'signing_keys' then
      perform ask_for_seal(new.tenant_id, 'key', new.id, null, null, new.made_at);
  end case;
  return null;
end $$;
create trigger asks_for_seal after insert on decision_lines referencing new table as added
  for each statement execute function request_seal();
create trigger asks_for_seal after insert on acceptances for each row execute function request_seal();
create trigger asks_for_seal after insert on acceptance_releases for each row execute function request_seal();
create trigger asks_for_seal after insert on credit_notes for each row execute function request_seal();
create trigger asks_for_seal after insert or update of rework_of_id on work_orders for each row
  when (new.rework_of_id is not null) execute function request_seal();
create trigger asks_for_seal after insert on signing_keys for each row
  when (new.cause <> 'first') execute function request_seal();

-- Every audit record waits for its link.
create function wait_for_link() returns trigger
language plpgsql security definer set search_path = pg_catalog, public, pg_temp as $$
begin
  insert into audit_waiting (tenant_id, audit_id) values (new.tenant_id, new.id);
  return null;
end $$;
create trigger waits_for_link after insert on audit_records for each row execute function wait_for_link();
revoke all on function ask_for_seal, request_seal, wait_for_link from public;

-- The worker hears of it as the transaction commits, not before: nobody holds the queue's row while they work. Without
-- a tenant an administrator is at work, and the next look finds what they did.
create function tell_sealer() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if nullif(current_setting('app.tenant_id', true), '') is not null then
    perform enqueue_job('seal_records', new.tenant_id);
  end if;
  return null;
end $$;
revoke all on function tell_sealer from public;
create constraint trigger tells_sealer after insert on seal_requests deferrable initially deferred
  for each row execute function tell_sealer();

create or replace function enqueue_job(task text, subject_id uuid) returns void
language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'enqueue_job needs a tenant'; end if;
  if task not in ('make_photo_derivatives', 'run_statements', 'send_mail', 'ask_for_approval', 'pass_on_answer',
    'tell_answer', 'sweep_waiting', 'mail_message', 'mail_acceptance', 'seal_records') then
    raise exception 'no task named %', task;
  end if;
  -- The role of whoever calls; inside, the function has its owner's.
  if current_setting('role') = 'grainwright_vehicle_owner' and task not in ('mail_acceptance', 'seal_records') then
    raise exception 'a vehicle''s owner asks for no %', task using errcode = 'insufficient_privilege';
  end if;
  perform graphile_worker.add_job(task, json_build_object('tenant_id', tenant, 'subject_id', subject_id),
    job_key => format('%s:%s:%s', task, tenant, subject_id), max_attempts => 12);
end $$;

-- What was there before: sealed when the worker runs, and the seal says when that was.
do $$
declare
  tenant uuid;
begin
  for tenant in select id from registry.tenants loop
    perform set_config('app.tenant_id', tenant::text, true);
    perform ask_for_seal(d.tenant_id, 'approval', d.id, d.work_order_id, d.account_id, d.decided_at)
      from decisions d where d.tenant_id = tenant and exists (select from decision_lines l
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved');
    perform ask_for_seal(a.tenant_id, 'acceptance', a.id, w.id, w.account_id, a.accepted_at)
      from acceptances a join work_orders w on w.tenant_id = a.tenant_id and w.id = a.work_order_id
      where a.tenant_id = tenant;
    perform ask_for_seal(a.tenant_id, 'release', a.missing_signature_id, w.id, w.account_id, a.released_at)
      from acceptance_releases a join work_orders w on w.tenant_id = a.tenant_id and w.id = a.work_order_id
      where a.tenant_id = tenant;
    perform ask_for_seal(n.tenant_id, 'credit', n.id, null, n.account_id, n.issued_at)
      from credit_notes n where n.tenant_id = tenant;
    perform ask_for_seal(w.tenant_id, 'rework', w.id, w.id, w.account_id, w.written_up_at)
      from work_orders w where w.tenant_id = tenant and w.rework_of_id is not null;
    insert into audit_waiting (tenant_id, audit_id) select r.tenant_id, r.id from audit_records r where r.tenant_id = tenant;
  end loop;
  perform set_config('app.tenant_id', '', true);
end $$;

-- What an account reads of the audit records: who did what, and when, to what is its own; out of a closed list of actions,
-- and never the detail or where it came from, which are not granted.
create function shown_to_accounts(action text) returns boolean language sql immutable
set search_path = pg_catalog, pg_temp as $$
  select action in ('work_order_written_up', 'work_order_submitted', 'approval_asked', 'answer_passed_on',
    'estimate_revised', 'work_order_price_changed', 'work_order_approved', 'work_order_approved_by_rule',
    'work_order_declined', 'work_order_lapsed', 'photo_added', 'photo_covered', 'work_order_started',
    'work_order_finished', 'acceptance_taken', 'visit_accepted', 'work_order_accepted', 'signature_missing',
    'work_order_released', 'work_order_reworked_done', 'work_order_voided', 'numbers_given', 'message_written',
    'work_order_invoiced', 'work_order_settled', 'work_order_payment_came_back', 'work_order_invoice_voided',
    'invoice_issued', 'invoice_voided', 'credit_note_issued', 'credit_note_applied', 'dispute_opened',
    'dispute_answered', 'late_charge_charged', 'discount_taken', 'statement_issued')
$$;
revoke all on function shown_to_accounts from public;
grant execute on function shown_to_accounts to grainwright_account;
alter policy account on audit_records using (
  tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid) and shown_to_accounts(action)
  and case subject_kind
    when 'work_order' then exists (select from work_orders s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'estimate_version' then exists (
      select from estimate_versions s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'decision' then exists (select from decisions s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'photo' then exists (select from photos s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'acceptance' then exists (select from acceptances s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'missing_signature' then exists (
      select from missing_signatures s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'visit_signature' then exists (
      select from visit_signatures s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'message' then exists (select from messages s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'invoice' then exists (select from invoices s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'credit_note' then exists (
      select from credit_notes s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    when 'statement' then exists (select from statements s where s.tenant_id = audit_records.tenant_id and s.id = subject_id)
    else false end);
grant select (tenant_id, id, at, person_id, account_id, action, subject_kind, subject_id) on audit_records
  to grainwright_account;
