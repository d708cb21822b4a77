-- Statements as they were issued, the runs that issue them, and the mail that goes out.

-- Frozen: what a statement says never changes, and its digest proves it.
create table statements (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  month date not null check (extract(day from month) = 1),
  kind text not null check (kind in ('open_item', 'balance_forward')),
  -- The last posting that it takes account of. What is posted later is told in the next one, whatever its date.
  posting bigint not null check (posting >= 0),
  -- The account's statement before this one: a chain without branches.
  previous_id uuid,
  currency char(3) not null,
  opening_minor bigint not null,
  charges_minor bigint not null,
  credits_minor bigint not null,
  payments_minor bigint not null,
  closing_minor bigint not null,
  -- Everything it shows, as canonical JSON (RFC 8785); sheets and files are made of this alone.
  content text not null,
  sha256 text not null check (sha256 = encode(sha256(convert_to(content, 'UTF8')), 'hex')),
  issued_by uuid not null,
  issued_at timestamptz not null,
  primary key (tenant_id, id),
  unique (tenant_id, account_id, id),
  unique (tenant_id, account_id, month),
  unique (tenant_id, previous_id),
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, account_id, previous_id) references statements (tenant_id, account_id, id),
  foreign key (tenant_id, issued_by) references people,
  check (opening_minor + charges_minor - credits_minor - payments_minor = closing_minor)
);
create unique index statements_first_once on statements (tenant_id, account_id) where previous_id is null;

-- Made when somebody first asks for one, and the same bytes ever after.
create table statement_files (
  tenant_id uuid not null,
  statement_id uuid not null,
  kind text not null check (kind in ('pdf', 'csv')),
  storage_key text not null,
  sha256 text not null check (sha256 ~ '^[0-9a-f]{64}$'),
  bytes bigint not null check (bytes > 0),
  made_at timestamptz not null,
  primary key (tenant_id, statement_id, kind),
  foreign key (tenant_id, statement_id) references statements
);

-- A month's statements asked for, and how far each account has come.
create table statement_runs (
  tenant_id uuid not null,
  id uuid not null,
  month date not null check (extract(day from month) = 1),
  all_accounts boolean not null,
  asked_by uuid not null,
  asked_at timestamptz not null,
  primary key (tenant_id, id),
  foreign key (tenant_id, asked_by) references people
);
create index statement_runs_latest on statement_runs (tenant_id, asked_at desc, id desc);

create table statement_run_accounts (
  tenant_id uuid not null,
  run_id uuid not null,
  account_id uuid not null,
  state text not null default 'waiting' check (state in ('waiting', 'issued', 'issued_before', 'nothing_to_tell', 'failed')),
  statement_id uuid,
  -- Why it failed, in a sentence that says what to do.
  problem text not null default '',
  primary key (tenant_id, run_id, account_id),
  foreign key (tenant_id, run_id) references statement_runs,
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, account_id, statement_id) references statements (tenant_id, account_id, id),
  check ((statement_id is not null) = (state in ('issued', 'issued_before'))),
  check ((problem <> '') = (state = 'failed'))
);
create index statement_run_accounts_waiting on statement_run_accounts (tenant_id, run_id) where state = 'waiting';

-- What is sent, or kept in the mailbox where no mail server is named. No control character gets into a header.
create table outgoing_mails (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null check (kind in ('statement')),
  account_id uuid,
  -- What it is about, by its kind.
  about_id uuid not null,
  sender_name text not null check (length(sender_name) between 1 and 200 and sender_name !~ '[[:cntrl:]]'),
  reply_to text not null default '' check (length(reply_to) <= 254 and reply_to !~ '[[:cntrl:][:space:]]'),
  recipients text[] not null check (cardinality(recipients) between 1 and 20
    and array_to_string(recipients, '') !~ '[[:cntrl:][:space:]<>,;"]'),
  subject_line text not null check (length(subject_line) between 1 and 200 and subject_line !~ '[[:cntrl:]]'),
  body text not null,
  state text not null default 'queued' check (state in ('queued', 'sent', 'kept', 'failed')),
  tries integer not null default 0 check (tries >= 0),
  -- What the mail server said, the last time that it took it not.
  problem text not null default '',
  queued_by uuid not null,
  queued_at timestamptz not null,
  settled_at timestamptz,
  primary key (tenant_id, id),
  foreign key (tenant_id, account_id) references accounts,
  foreign key (tenant_id, queued_by) references people,
  check ((settled_at is null) = (state in ('queued', 'failed')))
);
create index outgoing_mails_latest on outgoing_mails (tenant_id, queued_at desc, id desc);
create index outgoing_mails_about on outgoing_mails (tenant_id, about_id);

-- An object that is kept already, or a statement's file, which is made when the mail goes out.
create table outgoing_mail_attachments (
  tenant_id uuid not null,
  mail_id uuid not null,
  position integer not null,
  file_name text not null check (file_name ~ '^[A-Za-z0-9._-]{1,120}$'),
  media_type text not null check (media_type ~ '^[a-z]+/[a-z0-9.+-]+$'),
  storage_key text,
  statement_id uuid,
  primary key (tenant_id, mail_id, position),
  foreign key (tenant_id, mail_id) references outgoing_mails,
  foreign key (tenant_id, statement_id) references statements,
  check (num_nonnulls(storage_key, statement_id) = 1)
);

call wall('statements', 'account_id = (select own_account())');
call wall('statement_files', 'exists (select 1 from statements s where s.tenant_id = statement_files.tenant_id
  and s.id = statement_files.statement_id)');
call wall('statement_runs');
call wall('statement_run_accounts');
call wall('outgoing_mails');
call wall('outgoing_mail_attachments');
call append_only('statements');
call append_only('statement_files');
call append_only('statement_runs');
call append_only('outgoing_mail_attachments');

grant select, insert on statements, statement_runs, statement_run_accounts, outgoing_mails, outgoing_mail_attachments
  to grainwright_staff;
grant select on statement_files to grainwright_staff;
grant update (state, statement_id, problem) on statement_run_accounts to grainwright_staff;
grant update (state, tries, settled_at) on outgoing_mails to grainwright_staff;
grant select on statements, statement_files to grainwright_account;
grant select on statements, outgoing_mails, outgoing_mail_attachments to grainwright_worker;
grant select, insert on statement_files to grainwright_worker;
grant update (state, tries, problem, settled_at) on outgoing_mails to grainwright_worker;
