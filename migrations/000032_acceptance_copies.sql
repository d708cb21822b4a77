-- What is kept with a signature, and the copies that signers get of what they signed.

-- How long a signer can read their copy again by its link.
alter table businesses add column acceptance_copy_days integer not null default 365
  check (acceptance_copy_days between 1 and 3650);
grant update (acceptance_copy_days) on businesses to grainwright_staff;

alter table acceptances
  -- Exactly as it was typed; the signer's name is the same one with its spaces put in order.
  add column typed_name text check (length(typed_name) between 1 and 400),
  -- The drawn signature as a picture, made from the strokes and named by what is in it.
  add column signature_sha256 text check (signature_sha256 ~ '^[0-9a-f]{64}$'),
  add column signature_key text,
  add column signer_email text not null default '' check (length(signer_email) <= 254),
  add column signer_phone text not null default '' check (length(signer_phone) <= 40),
  -- When it was given by the device's own clock, where that was sent later.
  add column answered_at timestamptz,
  add check ((signature_sha256 is null) = (signature_key is null)),
  add unique (tenant_id, work_order_id, id),
  -- Those of before have neither.
  add constraint acceptances_mark_kept
    check ((method = 'drawn') = (signature_sha256 is not null) and (method = 'typed') = (typed_name is not null)) not valid;
create index acceptances_by_signature_key on acceptances (tenant_id, signature_key) where signature_key is not null;

-- How to reach the signer, and from where they answered, is the business's to know and not the payer's.
revoke select on acceptances from grainwright_account;
grant select (tenant_id, id, work_order_id, outcome, remark, signer_name, signer_role, identified_by, method, strokes, shown,
  shown_digest, taken_by, accepted_at, visit_signature_id, link_id, typed_name, signature_sha256, signature_key, answered_at)
  on acceptances to grainwright_account;

-- A third thing that a link opens: the copy of what was signed, to read again.
alter table access_links
  drop constraint access_links_purpose_check,
  add constraint access_links_purpose_check check (purpose in ('approval', 'acceptance', 'acceptance_copy'));

-- Where a copy of a signed answer went, or that none was wanted. One id stands for all vehicles of one signature.
create table acceptance_copies (
  tenant_id uuid not null,
  id uuid not null,
  acceptance_id uuid not null,
  work_order_id uuid not null,
  channel text not null check (channel in ('mail', 'link', 'declined')),
  -- The address of a mail, or the telephone number that a link was passed on to; empty where it was shown there and then.
  address text not null default '' check (length(address) <= 254),
  -- By which it can be read again.
  link_id uuid,
  mail_id uuid,
  -- Null where the signer has it from the link that they answered by.
  given_by uuid,
  given_at timestamptz not null,
  primary key (tenant_id, id, acceptance_id),
  foreign key (tenant_id, work_order_id, acceptance_id) references acceptances (tenant_id, work_order_id, id),
  foreign key (tenant_id, link_id) references access_links,
  foreign key (tenant_id, mail_id) references outgoing_mails,
  foreign key (tenant_id, given_by) references staff_members,
  check ((channel = 'declined') = (link_id is null)),
  check ((channel = 'mail') = (mail_id is not null)),
  check (channel <> 'mail' or address <> ''),
  check (channel <> 'declined' or address = '')
);
create index acceptance_copies_by_acceptance on acceptance_copies (tenant_id, acceptance_id, given_at);
create index acceptance_copies_by_work_order on acceptance_copies (tenant_id, work_order_id);
create index acceptance_copies_by_link on acceptance_copies (tenant_id, link_id) where link_id is not null;
call wall('acceptance_copies');
call append_only('acceptance_copies');
grant select, insert on acceptance_copies to grainwright_staff;

-- Whoever holds the link of a copy reads the answers that it is the copy of, one work order at a time.
create policy vehicle_owner on acceptance_copies to grainwright_vehicle_owner
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and work_order_id = (select own_work_order()) and link_id = (select own_link()))
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid) and false);
grant select (tenant_id, id, acceptance_id, work_order_id, link_id) on acceptance_copies to grainwright_vehicle_owner;
alter policy vehicle_owner on access_links
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and (purpose = 'acceptance_copy' or (purpose = 'acceptance' and work_order_id = (select own_work_order())))
    and secret_hash = (select nullif(current_setting('app.link_hash', true), '')));
alter policy vehicle_owner on acceptances
  using (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and work_order_id = (select own_work_order())
    and (link_id = (select own_link()) or exists (select from acceptance_copies c
      where c.tenant_id = acceptances.tenant_id and c.acceptance_id = acceptances.id and c.link_id = (select own_link()))))
  with check (tenant_id = (select nullif(current_setting('app.tenant_id', true), '')::uuid)
    and work_order_id = (select own_work_order()) and link_id = (select own_link())
    and exists (select from work_orders w
      where w.tenant_id = acceptances.tenant_id and w.id = acceptances.work_order_id and w.state = 'done')
    and exists (select from access_links l
      where l.tenant_id = acceptances.tenant_id and l.id = acceptances.link_id and l.purpose = 'acceptance'
        and l.revoked_at is null and l.expires_at > acceptances.accepted_at));
