-- Delegates, reminders, estimates that nobody answers, numbers that are owed, and news for whoever waits.

-- Tells whoever listens that there is something new on a work order: only which one, and of which business. The rest is
-- read with the listener's own rights.
create function tell_news() returns trigger
language plpgsql set search_path = pg_catalog, public, pg_temp as $$
begin
  perform pg_notify('grainwright_news', (to_jsonb(new) ->> 'tenant_id') || ' ' || (to_jsonb(new) ->> tg_argv[0]));
  return null;
end $$;
revoke all on function tell_news from public;
create trigger news after insert on work_order_steps for each row execute function tell_news('work_order_id');
create trigger news after insert on audit_records for each row
  when (new.action = 'numbers_given') execute function tell_news('subject_id');

-- What is new since a moment, of the business as a whole.
create index work_order_steps_by_moment on work_order_steps (tenant_id, happened_at);
create index audit_records_numbers_given on audit_records (tenant_id, at) where action = 'numbers_given';

-- An approver who is away lets somebody of the same account answer for them, from a day to a day.
create table approval_delegations (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  from_person uuid not null,
  to_person uuid not null check (to_person <> from_person),
  valid_from date not null,
  valid_to date not null check (valid_to between valid_from and valid_from + 366),
  -- Less than whoever is away may approve; null: as much. It never comes to more than they may at the time.
  limit_minor bigint check (limit_minor >= 0),
  made_at timestamptz not null,
  -- Of the staff, where they wrote it down; null: whoever is away did it themselves.
  recorded_by uuid,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  unique (tenant_id, account_id, to_person, id),
  foreign key (tenant_id, account_id, from_person) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, account_id, to_person) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, recorded_by) references staff_members
);
create index approval_delegations_by_delegate on approval_delegations (tenant_id, account_id, to_person, valid_to);
create index approval_delegations_by_account on approval_delegations (tenant_id, account_id, valid_to);

-- Taken back before its last day.
create table approval_delegation_ends (
  tenant_id uuid not null,
  delegation_id uuid not null,
  account_id uuid not null,
  ended_by uuid not null,
  ended_at timestamptz not null,
  primary key (tenant_id, delegation_id),
  foreign key (tenant_id, account_id, delegation_id) references approval_delegations (tenant_id, account_id, id),
  foreign key (tenant_id, ended_by) references people
);

call wall('approval_delegations', 'account_id = (select own_account())');
call wall('approval_delegation_ends', 'account_id = (select own_account())');
call append_only('approval_delegations');
call append_only('approval_delegation_ends');
grant select, insert on approval_delegations, approval_delegation_ends to grainwright_staff, grainwright_account;

-- An approver names somebody for themselves, for no more than they may approve; they or their delegate end it.
call account_adds('approval_delegations', $$account_id = (select own_account()) and recorded_by is null
  and exists (select from contacts c join businesses b on b.tenant_id = c.tenant_id
    where c.tenant_id = approval_delegations.tenant_id
    and c.account_id = (select own_account()) and c.person_id = approval_delegations.from_person and c.role = 'approver'
    and (c.ended_on is null or c.ended_on > (approval_delegations.made_at at time zone b.time_zone)::date)
    and (approval_delegations.limit_minor is null or c.limit_minor is null or approval_delegations.limit_minor <= c.limit_minor))
  and exists (select from contacts c join businesses b on b.tenant_id = c.tenant_id
    where c.tenant_id = approval_delegations.tenant_id
    and c.account_id = (select own_account()) and c.person_id = approval_delegations.to_person
    and (c.ended_on is null or c.ended_on > (approval_delegations.made_at at time zone b.time_zone)::date))$$);
call account_adds('approval_delegation_ends', $$account_id = (select own_account()) and exists (
  select from approval_delegations g where g.tenant_id = approval_delegation_ends.tenant_id
    and g.account_id = (select own_account()) and g.id = approval_delegation_ends.delegation_id
    and approval_delegation_ends.ended_by in (g.from_person, g.to_person))$$);

-- In whose place somebody answered. Their limit is then what the other could have approved at that time, or less.
alter table decisions
  add column delegation_id uuid,
  add foreign key (tenant_id, account_id, decided_by, delegation_id)
    references approval_delegations (tenant_id, account_id, to_person, id);

-- An account adds its own answer: an approver's within their limit, or a delegate's within that of whoever is away, on
-- a day on which the delegation counts. Nobody answers who has left, nor for somebody who has.
call account_adds('decisions', $$account_id = (select own_account()) and recorded_by is null
  and link_opens(decisions.link_id, decisions.decided_at)
  and (decisions.limit_minor is null or decisions.compared_minor <= decisions.limit_minor)
  and exists (
    select from contacts c
    join businesses b on b.tenant_id = c.tenant_id
    left join approval_delegations g on g.tenant_id = c.tenant_id and g.account_id = c.account_id
      and g.to_person = c.person_id and g.id = decisions.delegation_id
    left join contacts f on f.tenant_id = g.tenant_id and f.account_id = g.account_id and f.person_id = g.from_person
    where c.tenant_id = decisions.tenant_id and c.account_id = (select own_account())
      and c.person_id = decisions.decided_by
      and (c.ended_on is null or c.ended_on > (decisions.decided_at at time zone b.time_zone)::date)
      and case when decisions.delegation_id is null
        then c.role = 'approver' and decisions.limit_minor is not distinct from c.limit_minor
        else f.role = 'approver' and decisions.limit_minor is not distinct from least(f.limit_minor, g.limit_minor)
          and (f.ended_on is null or f.ended_on > (decisions.decided_at at time zone b.time_zone)::date)
          and (decisions.decided_at at time zone b.time_zone)::date between g.valid_from and g.valid_to
          and not exists (select from approval_delegation_ends e where e.tenant_id = g.tenant_id
            and e.delegation_id = g.id and e.ended_at <= decisions.decided_at) end)$$);

-- After how many hours without an answer its people are asked once more, as the account chooses; null: never.
alter table accounts add column remind_after_hours integer check (remind_after_hours between 1 and 720);
grant select (remind_after_hours), update (remind_after_hours) on accounts to grainwright_account;

-- Who was asked once more about which version, by which mail.
create table approval_reminders (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  version_id uuid not null,
  person_id uuid not null,
  -- However many processes look at once, each is sent once.
  number integer not null check (number in (1, 2)),
  mail_id uuid not null,
  reminded_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, version_id, person_id, number),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, work_order_id, version_id) references estimate_versions (tenant_id, work_order_id, id),
  foreign key (tenant_id, account_id, person_id) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, mail_id) references outgoing_mails
);
call wall('approval_reminders');
call append_only('approval_reminders');
grant select, insert on approval_reminders to grainwright_staff;

-- Who of an account was asked by which mail for the numbers that finished work lacks, on which day of the business.
create table numbers_chased (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  person_id uuid not null,
  chased_on date not null,
  mail_id uuid not null,
  chased_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, person_id, chased_on),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, person_id) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, mail_id) references outgoing_mails
);
call wall('numbers_chased', 'account_id = (select own_account())');
call append_only('numbers_chased');
grant select, insert on numbers_chased to grainwright_staff;
-- What somebody was asked about their link opens, and nothing else of the account.
grant select (tenant_id, account_id, work_order_id, person_id) on numbers_chased to grainwright_account;
