-- Questions and answers on a work order, between an account and the business.

create table messages (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  side text not null check (side in ('account', 'business')),
  author_id uuid not null,
  text text not null check (length(text) between 1 and 2000),
  written_at timestamptz not null,
  -- By which link a contact wrote; null for whoever was signed in.
  link_id uuid,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id, work_order_id) references work_orders (tenant_id, account_id, id),
  foreign key (tenant_id, author_id) references people,
  foreign key (tenant_id, account_id, author_id, link_id) references access_links (tenant_id, account_id, person_id, id),
  check (link_id is null or side = 'account')
);
create index messages_by_work_order on messages (tenant_id, work_order_id, written_at desc, id desc);
create index messages_by_author on messages (tenant_id, author_id, written_at);
call wall('messages', 'account_id = (select own_account())');
call append_only('messages');
-- An account's contact writes as themselves, in their account's name.
call account_adds('messages', $$account_id = (select own_account()) and side = 'account'
  and link_opens(messages.link_id, messages.written_at)
  and exists (select from contacts c join businesses b on b.tenant_id = c.tenant_id
    where c.tenant_id = messages.tenant_id and c.account_id = (select own_account()) and c.person_id = messages.author_id
    and (c.ended_on is null or c.ended_on > (messages.written_at at time zone b.time_zone)::date))$$);
-- And the staff for the business.
call staff_adds('messages', $$side = 'business'$$);
grant select, insert on messages to grainwright_staff;
grant insert on messages to grainwright_account;
grant select (tenant_id, id, account_id, work_order_id, side, author_id, text, written_at) on messages
  to grainwright_account;

-- Whoever waits at the vehicle hears of a question at once.
create trigger news after insert on messages for each row execute function tell_news('work_order_id');
create index messages_by_moment on messages (tenant_id, written_at);
