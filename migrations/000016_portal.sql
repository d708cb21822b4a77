-- Certificates that an account's own people hand in. None of them counts before the business has looked at it: then it
-- is filed as a certificate of its own, or not taken, with the reason.

create table handed_in_certificates (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  kind text not null check (kind in ('resale', 'exempt_use')),
  number text not null check (length(number) between 1 and 80),
  valid_from date not null,
  valid_to date check (valid_to >= valid_from),
  handed_in_by uuid not null,
  handed_in_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, handed_in_by) references contacts (tenant_id, account_id, person_id)
);
create index handed_in_certificates_latest on handed_in_certificates (tenant_id, account_id, handed_in_at desc);
call wall('handed_in_certificates', 'account_id = (select own_account())');
call account_adds('handed_in_certificates', $$account_id = (select own_account()) and exists (
  select from contacts c where c.tenant_id = handed_in_certificates.tenant_id and c.account_id = (select own_account())
    and c.person_id = handed_in_certificates.handed_in_by and c.role in ('approver', 'payer'))$$);
call append_only('handed_in_certificates');
grant select on handed_in_certificates to grainwright_staff;
grant select, insert on handed_in_certificates to grainwright_account;

alter table certificates add unique (tenant_id, account_id, id);

create table certificate_checks (
  tenant_id uuid not null,
  handed_in_id uuid not null,
  account_id uuid not null,
  answer text not null check (answer in ('confirmed', 'not_taken')),
  -- What to do instead, for the account to read.
  reason text not null default '' check (length(reason) <= 500),
  -- What it was filed as.
  certificate_id uuid,
  checked_by uuid not null,
  checked_at timestamptz not null,
  primary key (tenant_id, handed_in_id),
  foreign key (tenant_id, account_id, handed_in_id) references handed_in_certificates (tenant_id, account_id, id),
  foreign key (tenant_id, account_id, certificate_id) references certificates (tenant_id, account_id, id),
  foreign key (tenant_id, checked_by) references staff_members,
  check ((answer = 'confirmed') = (certificate_id is not null)),
  check (answer = 'confirmed' or reason <> '')
);
call wall('certificate_checks', 'account_id = (select own_account())');
call append_only('certificate_checks');
grant select, insert on certificate_checks to grainwright_staff;
grant select on certificate_checks to grainwright_account;
