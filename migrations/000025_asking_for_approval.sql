-- Who is asked for an answer, and what they saw when they gave it.

create or replace function enqueue_job(task text, subject_id uuid) returns void
language plpgsql security definer set search_path = pg_catalog, pg_temp as $$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'enqueue_job needs a tenant'; end if;
  if task not in ('make_photo_derivatives', 'run_statements', 'send_mail', 'ask_for_approval', 'pass_on_answer',
    'tell_answer', 'sweep_waiting', 'mail_message', 'mail_acceptance') then
    raise exception 'no task named %', task;
  end if;
  -- The role of whoever calls; inside, the function has its owner's.
  if current_setting('role') = 'grainwright_vehicle_owner' and task <> 'mail_acceptance' then
    raise exception 'a vehicle''s owner asks for no %', task using errcode = 'insufficient_privilege';
  end if;
  perform graphile_worker.add_job(task, json_build_object('tenant_id', tenant, 'subject_id', subject_id),
    job_key => format('%s:%s:%s', task, tenant, subject_id), max_attempts => 12);
end $$;

alter table outgoing_mails
  drop constraint outgoing_mails_kind_check,
  add constraint outgoing_mails_kind_check check (kind in ('statement', 'estimate', 'estimate_reminder', 'numbers_wanted',
    'message', 'answer_copy', 'acceptance'));

-- In which order an account's approvers are asked. Those of old are asked as they were added: their ids tell when.
alter table contacts add column ask_position integer not null default 1 check (ask_position > 0);
update contacts c set ask_position = told.position
  from (
    select tenant_id, account_id, person_id,
      row_number() over (partition by tenant_id, account_id order by person_id) as position
    from contacts
  ) told
  where (told.tenant_id, told.account_id, told.person_id) = (c.tenant_id, c.account_id, c.person_id);

-- Whether mail can reach somebody is told to the account's people, who may have to pass something on. The address is not.
alter table people add column has_email boolean not null generated always as (length(email) <= 254 and email ~
  '^[A-Za-z0-9.!#$%&''*+/=?^_`{|}~-]{1,64}@[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?(\.[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?)+$'
  ) stored;
grant select (has_email) on people to grainwright_account;

-- Whoever answers by a link is the contact whose link it is.
alter table access_links add unique (tenant_id, account_id, person_id, id);

-- An answer that came to more than its contact's limit, for somebody who may give it. It says what that contact wants;
-- it approves nothing.
create table passed_on_answers (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  version_id uuid not null,
  digest text not null,
  passed_by uuid not null,
  link_id uuid,
  -- A list of {line_id, answer, reason}.
  answers jsonb not null check (jsonb_typeof(answers) = 'array'),
  compared_minor bigint not null,
  total_minor bigint not null,
  limit_minor bigint not null check (compared_minor > limit_minor),
  -- Null: nobody of the account may approve as much, or mail reaches nobody who may.
  passed_to uuid check (passed_to <> passed_by),
  passed_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, work_order_id, version_id, id),
  -- Nobody mails a colleague again and again.
  unique (tenant_id, version_id, passed_by),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, work_order_id, version_id) references estimate_versions (tenant_id, work_order_id, id),
  foreign key (tenant_id, account_id, passed_by) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, account_id, passed_to) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, account_id, passed_by, link_id) references access_links (tenant_id, account_id, person_id, id)
);
call wall('passed_on_answers', 'account_id = (select own_account())');
call append_only('passed_on_answers');
grant select on passed_on_answers to grainwright_staff;
grant select, insert on passed_on_answers to grainwright_account;

-- An account passes on what one of its approvers may not approve, of the version that waits for it.
call account_adds('passed_on_answers', $$account_id = (select own_account())
  and link_opens(passed_on_answers.link_id, passed_on_answers.passed_at)
  and exists (select from contacts c join businesses b on b.tenant_id = c.tenant_id
    where c.tenant_id = passed_on_answers.tenant_id and c.account_id = (select own_account())
    and c.person_id = passed_on_answers.passed_by
    and (c.ended_on is null or c.ended_on > (passed_on_answers.passed_at at time zone b.time_zone)::date))
  and exists (select from work_orders w
    join estimate_versions v on v.tenant_id = w.tenant_id and v.id = w.current_version_id
    where w.tenant_id = passed_on_answers.tenant_id and w.id = passed_on_answers.work_order_id
      and w.state = 'awaiting_approval' and v.id = passed_on_answers.version_id and v.digest = passed_on_answers.digest)
  and (passed_to is null or exists (select from contacts c where c.tenant_id = passed_on_answers.tenant_id
    and c.account_id = (select own_account()) and c.person_id = passed_on_answers.passed_to and c.role = 'approver'
    and (c.limit_minor is null or c.limit_minor >= passed_on_answers.compared_minor)))$$);

-- Who was asked for an answer to which version, by which mail and link, and why they.
create table approval_asks (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  version_id uuid not null,
  person_id uuid not null,
  why text not null check (why in ('first', 'above_limit', 'passed_on', 'asked_again', 'delegate')),
  passed_on_id uuid,
  link_id uuid not null,
  mail_id uuid not null,
  asked_by uuid not null,
  asked_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, work_order_id, version_id) references estimate_versions (tenant_id, work_order_id, id),
  foreign key (tenant_id, account_id, person_id) references contacts (tenant_id, account_id, person_id),
  foreign key (tenant_id, work_order_id, version_id, passed_on_id)
    references passed_on_answers (tenant_id, work_order_id, version_id, id),
  foreign key (tenant_id, account_id, person_id, link_id) references access_links (tenant_id, account_id, person_id, id),
  foreign key (tenant_id, mail_id) references outgoing_mails,
  foreign key (tenant_id, asked_by) references people,
  check ((why = 'passed_on') = (passed_on_id is not null))
);
-- However often a job runs, it asks once.
create unique index approval_asks_once on approval_asks (tenant_id, version_id, person_id)
  where why in ('first', 'above_limit', 'delegate');
create unique index approval_asks_passed_on_once on approval_asks (tenant_id, passed_on_id) where passed_on_id is not null;
create index approval_asks_by_work_order on approval_asks (tenant_id, work_order_id, asked_at);
create index approval_asks_by_person on approval_asks (tenant_id, account_id, person_id);
call wall('approval_asks', 'account_id = (select own_account())');
call append_only('approval_asks');
grant select, insert on approval_asks to grainwright_staff;
-- An account's people see who of them was asked, not by which link.
grant select (tenant_id, id, account_id, work_order_id, version_id, person_id, why, passed_on_id, asked_by, asked_at)
  on approval_asks to grainwright_account;

-- By which link an answer came, and what stood on the page when it was given: canonical JSON, whose digest proves it.
-- Of older answers only the version and its digest are known.
alter table decisions
  add column link_id uuid,
  add column seen text,
  add column seen_digest text,
  add foreign key (tenant_id, account_id, decided_by, link_id)
    references access_links (tenant_id, account_id, person_id, id),
  add constraint decisions_seen check (seen is null and seen_digest is null
    or seen is not null and seen_digest = encode(sha256(convert_to(seen, 'UTF8')), 'hex')),
  add constraint decisions_by_link check ((given = 'by_link') = (link_id is not null)),
  drop constraint decisions_given_check,
  add constraint decisions_given_check
    check (given in ('here', 'by_link', 'in_person', 'by_phone', 'in_writing', 'by_rule', 'without_charge')),
  drop constraint decisions_check,
  add constraint decisions_check
    check ((recorded_by is null) = (given in ('here', 'by_link', 'by_rule', 'without_charge')));
-- What a contact answers themselves, only their own account's transactions write.
call staff_adds('decisions', $$given not in ('here', 'by_link')$$);
