-- What an account agrees to beforehand, the answers that follow from it by rule, and its purchase orders.

-- Up to given limits nobody has to be asked. All limits that are given hold; the figure compared is repairs with their
-- minimum and after-hours, before trip and tax. What was agreed never changes: another one follows it. Its last day
-- may be set, also to the day before its first: then it was taken back before it ever counted.
create table standing_approvals (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  per_vehicle_minor bigint check (per_vehicle_minor > 0),
  per_visit_minor bigint check (per_visit_minor > 0),
  per_month_minor bigint check (per_month_minor > 0),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from - 1),
  -- Who agreed to it, where and when, in the business's own words.
  note text not null check (length(note) between 1 and 500),
  set_by uuid not null,
  set_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, set_by) references staff_members,
  check (num_nonnulls(per_vehicle_minor, per_visit_minor, per_month_minor) > 0),
  exclude using gist (tenant_id with =, account_id with =, daterange(valid_from, valid_to + 1, '[)') with &&)
);
call wall('standing_approvals', 'account_id = (select own_account())');
grant select, insert, update (valid_to) on standing_approvals to grainwright_staff;
grant select on standing_approvals to grainwright_account;

-- An answer by rule names no person. It keeps the rule's words as they stood, the day they counted for, and what they
-- were compared with: this vehicle (compared_minor), and with it the visit and the month as far as approved by rule.
alter table decisions
  alter column decided_by drop not null,
  add column standing_approval_id uuid,
  add column rule_text text check (length(rule_text) between 1 and 1000),
  add column rule_day date,
  add column rule_visit_minor bigint,
  add column rule_month_minor bigint,
  add foreign key (tenant_id, account_id, standing_approval_id) references standing_approvals (tenant_id, account_id, id),
  drop constraint decisions_given_check,
  add constraint decisions_given_check check (given in ('here', 'in_person', 'by_phone', 'in_writing', 'by_rule')),
  drop constraint decisions_check,
  add constraint decisions_check check ((recorded_by is null) = (given in ('here', 'by_rule'))),
  add check (case given when 'by_rule'
    then decided_by is null and num_nulls(standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor) = 0
    else decided_by is not null
      and num_nonnulls(standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor) = 0 end),
  -- Whoever wrote an answer, its amounts belong together.
  add check (compared_minor = repairs_minor + after_hours_minor),
  add check (total_minor = repairs_minor + after_hours_minor + trip_minor + tax_minor);
create index decisions_by_rule on decisions (tenant_id, account_id, rule_day) where given = 'by_rule';

-- Whatever the program says: no rule approves above a limit, or before or after it holds. Sums of a visit and a month
-- are right because whoever answers by rule holds the account's lock while doing so.
create function check_rule_answer() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
declare
  rule standing_approvals%rowtype;
  visit bigint;
  month bigint;
begin
  select * into strict rule from standing_approvals s
    where s.tenant_id = new.tenant_id and s.account_id = new.account_id and s.id = new.standing_approval_id;
  select new.compared_minor + coalesce(sum(d.compared_minor) filter (where w.visit_id = own.visit_id), 0),
      new.compared_minor + coalesce(sum(d.compared_minor) filter (
        where date_trunc('month', d.rule_day) = date_trunc('month', new.rule_day)), 0)
    into visit, month
    from work_orders own
    left join decisions d on d.tenant_id = own.tenant_id and d.account_id = own.account_id and d.given = 'by_rule'
    left join work_orders w on w.tenant_id = d.tenant_id and w.decision_id = d.id and w.state <> 'void'
    where own.tenant_id = new.tenant_id and own.id = new.work_order_id and (d.id is null or w.id is not null);
  if new.rule_day < rule.valid_from or new.rule_day > coalesce(rule.valid_to, new.rule_day)
    or new.compared_minor > coalesce(rule.per_vehicle_minor, new.compared_minor)
    or visit > coalesce(rule.per_visit_minor, visit) or month > coalesce(rule.per_month_minor, month)
    or (visit, month) is distinct from (new.rule_visit_minor, new.rule_month_minor) then
    raise exception 'the standing approval does not cover this' using errcode = 'check_violation';
  end if;
  return new;
end $$;
create trigger rule_answer before insert on decisions for each row
  when (new.given = 'by_rule') execute function check_rule_answer();

-- Whoever says yes beside the vehicle signs for it on the technician's phone. The decision names the version and the
-- digest that were shown.
create table decision_signatures (
  tenant_id uuid not null,
  decision_id uuid not null,
  signer_name text not null check (length(signer_name) between 1 and 200),
  method text not null check (method in ('drawn', 'typed')),
  strokes jsonb,
  device text not null default '',
  taken_by uuid not null,
  signed_at timestamptz not null,
  primary key (tenant_id, decision_id),
  foreign key (tenant_id, decision_id) references decisions,
  foreign key (tenant_id, taken_by) references staff_members,
  check ((method = 'drawn') = (strokes is not null))
);
call wall('decision_signatures',
  'exists (select 1 from decisions d where d.tenant_id = decision_signatures.tenant_id and d.id = decision_signatures.decision_id)');
call append_only('decision_signatures');
grant select, insert on decision_signatures to grainwright_staff;
grant select on decision_signatures to grainwright_account;

-- An account prices its answer by the version alone, in the program; here it is held to what the version allows. Yes to
-- everything costs what was offered. Without some lines the others cost no less than offered and no more than each by
-- itself, and the lines with the minimum are the repairs.
create function check_account_answer() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  if exists (
    select from decisions d
    join estimate_versions v on v.tenant_id = d.tenant_id and v.id = d.version_id
    where d.tenant_id = new.tenant_id and d.id = new.decision_id and (
      d.digest <> v.digest
      or exists (select from decision_lines l
        join estimate_lines e on e.tenant_id = l.tenant_id and e.version_id = d.version_id and e.line_id = l.line_id
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and case l.answer
          when 'approved' then l.net_minor not between e.net_minor and greatest(e.net_minor, e.before_further_minor)
          else l.net_minor <> e.net_minor end)
      or d.repairs_minor - d.minimum_minor is distinct from coalesce((select sum(l.net_minor) from decision_lines l
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved'), 0)
      or (d.repairs_minor, d.minimum_minor, d.after_hours_minor, d.trip_minor, d.tax_minor)
          is distinct from (v.repairs_minor, v.minimum_minor, v.after_hours_minor, v.trip_minor, v.tax_minor)
        and not exists (select from decision_lines l
          where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'declined'))) then
    raise exception 'the answer does not come to what the estimate says' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $$;
create trigger account_answer before update on work_orders for each row
  when (current_user = 'grainwright_account' and new.decision_id is distinct from old.decision_id)
  execute function check_account_answer();

-- Orders that an account gives its work by number, with what all invoices that carry the number may come to.
create table purchase_orders (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  number text not null check (length(number) between 1 and 40),
  cap_minor bigint check (cap_minor > 0),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  note text not null default '' check (length(note) <= 500),
  primary key (tenant_id, id),
  unique (tenant_id, account_id, number),
  foreign key (tenant_id, account_id) references accounts
);
call wall('purchase_orders', 'account_id = (select own_account())');
grant select, insert, update (cap_minor, valid_to, note) on purchase_orders to grainwright_staff;
grant select on purchase_orders to grainwright_account;

-- What carries a number is found by it.
create index work_orders_by_po on work_orders (tenant_id, account_id, po_number) where po_number <> '';
create index work_orders_by_ro on work_orders (tenant_id, account_id, ro_number) where ro_number <> '';
create index decisions_by_work_order on decisions (tenant_id, work_order_id, decided_at);
