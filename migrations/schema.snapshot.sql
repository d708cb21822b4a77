public.acceptance_copies (
  tenant_id uuid not null,
  id uuid not null,
  acceptance_id uuid not null,
  work_order_id uuid not null,
  channel text not null,
  address text not null default ''::text,
  link_id uuid,
  mail_id uuid,
  given_by uuid,
  given_at timestamp with time zone not null
);
public.acceptance_releases (
  tenant_id uuid not null,
  work_order_id uuid not null,
  missing_signature_id uuid not null,
  reason text not null,
  released_by uuid not null,
  released_at timestamp with time zone not null
);
public.acceptance_requests (
  tenant_id uuid not null,
  link_id uuid not null,
  work_order_id uuid not null,
  owner_name text not null,
  phone text not null default ''::text,
  email text not null default ''::text,
  unanswered_at timestamp with time zone
);
public.acceptances (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  outcome text not null,
  remark text not null default ''::text,
  signer_name text not null,
  signer_role text not null,
  identified_by text not null,
  method text not null,
  strokes jsonb,
  shown text not null,
  shown_digest text not null,
  device text not null default ''::text,
  taken_by uuid,
  accepted_at timestamp with time zone not null,
  visit_signature_id uuid,
  link_id uuid,
  from_address text not null default ''::text,
  typed_name text,
  signature_sha256 text,
  signature_key text,
  signer_email text not null default ''::text,
  signer_phone text not null default ''::text,
  answered_at timestamp with time zone
);
public.access_links (
  tenant_id uuid not null,
  id uuid not null,
  purpose text not null,
  account_id uuid not null,
  person_id uuid,
  work_order_id uuid not null,
  secret_hash text not null,
  made_by uuid not null,
  made_at timestamp with time zone not null,
  expires_at timestamp with time zone not null,
  revoked_at timestamp with time zone
);
public.account_groups (
  tenant_id uuid not null,
  id uuid not null,
  name text not null
);
public.account_prices (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  code text not null,
  price_minor bigint not null,
  reason text not null,
  valid_from date not null,
  valid_to date
);
public.accounts (
  tenant_id uuid not null,
  id uuid not null,
  short_name text not null,
  name text not null,
  kind text not null,
  billing_address text not null default ''::text,
  tier_code text not null,
  tax_area_id uuid not null,
  terms_days integer not null,
  statement_kind text not null,
  invoice_rule text not null,
  requires_ro boolean not null default false,
  requires_po boolean not null default false,
  own_number_kind text,
  own_number_required boolean not null default false,
  acceptance_rule text not null,
  photo_rule text not null,
  shows_prices_at_acceptance boolean not null default false,
  walk_in boolean not null default false,
  opened_on date not null,
  ended_on date,
  group_id uuid,
  no_show_fee_minor bigint,
  applies_money_itself boolean not null default false,
  statement_email text not null default ''::text,
  successor_id uuid,
  remind_after_hours integer
);
public.approval_asks (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  version_id uuid not null,
  person_id uuid not null,
  why text not null,
  passed_on_id uuid,
  link_id uuid not null,
  mail_id uuid not null,
  asked_by uuid not null,
  asked_at timestamp with time zone not null
);
public.approval_delegation_ends (
  tenant_id uuid not null,
  delegation_id uuid not null,
  account_id uuid not null,
  ended_by uuid not null,
  ended_at timestamp with time zone not null
);
public.approval_delegations (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  from_person uuid not null,
  to_person uuid not null,
  valid_from date not null,
  valid_to date not null,
  limit_minor bigint,
  made_at timestamp with time zone not null,
  recorded_by uuid
);
public.approval_reminders (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  version_id uuid not null,
  person_id uuid not null,
  number integer not null,
  mail_id uuid not null,
  reminded_at timestamp with time zone not null
);
public.audit_links (
  tenant_id uuid not null,
  number bigint not null,
  audit_id uuid not null,
  previous text,
  record_sha256 text not null,
  sha256 text not null,
  chained_at timestamp with time zone not null
);
public.audit_records (
  tenant_id uuid not null,
  id uuid not null,
  at timestamp with time zone not null,
  person_id uuid,
  account_id uuid,
  action text not null,
  subject_kind text not null,
  subject_id uuid not null,
  detail jsonb not null,
  from_address text not null default ''::text,
  made_on_phone_at text default (detail ->> 'made_on_phone_at'::text)
);
public.audit_waiting (
  tenant_id uuid not null,
  audit_id uuid not null
);
public.billed_work_orders (
  tenant_id uuid not null,
  work_order_id uuid not null,
  invoice_id uuid not null
);
public.businesses (
  tenant_id uuid not null,
  name text not null,
  address text not null,
  phone text not null,
  email text not null,
  time_zone text not null,
  currency character(3) not null,
  tax_components text not null,
  tax_basis text not null,
  aging_basis text not null,
  invoice_prefix text not null,
  estimate_valid_days integer not null,
  document_note text not null default ''::text,
  credit_note_prefix text not null default 'CN-'::text,
  fee_prefix text not null default 'FEE-'::text,
  small_difference_minor bigint not null default 200,
  return_fee_minor bigint not null default 0,
  late_charge_percent numeric(6,3) not null default 0,
  late_charge_grace_days integer not null default 0,
  write_off_reclaims_tax boolean not null default false,
  duplicate_days integer not null default 30,
  comeback_days integer not null default 90,
  certificate_warning_days integer not null default 30,
  page_size text not null default 'letter'::text,
  logo_key text,
  settings_revision integer not null default 1,
  logo_media_type text,
  warranty_days integer not null default 90,
  acceptance_link_days integer not null default 14,
  acceptance_copy_days integer not null default 365
);
public.care_factors (
  tenant_id uuid not null,
  code text not null,
  name text not null
);
public.care_percents (
  tenant_id uuid not null,
  id uuid not null,
  factor_code text not null,
  percent numeric(6,3) not null,
  valid_from date not null,
  valid_to date
);
public.caution_acknowledgments (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  codes text[] not null,
  acknowledged_by uuid not null,
  acknowledged_at timestamp with time zone not null
);
public.certificate_checks (
  tenant_id uuid not null,
  handed_in_id uuid not null,
  account_id uuid not null,
  answer text not null,
  reason text not null default ''::text,
  certificate_id uuid,
  checked_by uuid not null,
  checked_at timestamp with time zone not null
);
public.certificates (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  kind text not null,
  number text not null,
  valid_from date not null,
  valid_to date
);
public.chain_heads (
  tenant_id uuid not null,
  chain text not null,
  number bigint not null,
  sha256 text
);
public.clearing_movements (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null,
  amount_minor bigint not null,
  occurred_on date not null,
  reference text not null default ''::text,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null
);
public.commission_rates (
  tenant_id uuid not null,
  id uuid not null,
  person_id uuid not null,
  percent numeric(6,3) not null,
  valid_from date not null,
  valid_to date,
  set_by uuid not null,
  set_at timestamp with time zone not null
);
public.contacts (
  tenant_id uuid not null,
  account_id uuid not null,
  person_id uuid not null,
  role text not null,
  limit_minor bigint,
  ended_on date,
  ask_position integer not null default 1
);
public.contracts (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  name text not null,
  discount_percent numeric(6,3) not null,
  reason text not null,
  valid_from date not null,
  valid_to date
);
public.covered_copies (
  tenant_id uuid not null,
  covering_id uuid not null,
  kind text not null,
  sha256 text not null,
  bytes bigint not null,
  width integer not null,
  height integer not null,
  storage_key text not null,
  made_at timestamp with time zone not null
);
public.credit_moves (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid,
  credit_note_id uuid,
  to_account_id uuid not null,
  to_payment_id uuid not null,
  amount_minor bigint not null,
  moved_on date not null,
  takes_back uuid,
  moved_by uuid not null,
  moved_at timestamp with time zone not null
);
public.credit_note_applications (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  credit_note_id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null,
  applied_on date not null,
  applied_by uuid not null,
  applied_at timestamp with time zone not null
);
public.credit_note_balances (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  unapplied_minor bigint not null
);
public.credit_note_lines (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  position integer not null,
  kind text not null,
  work_order_id uuid,
  line_id uuid,
  description text not null,
  net_minor bigint not null,
  labor_minor bigint not null,
  materials_minor bigint not null
);
public.credit_note_tax_bases (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  area_code text not null,
  taxable_minor bigint not null,
  exempt_minor bigint not null,
  non_taxable_minor bigint not null
);
public.credit_note_taxes (
  tenant_id uuid not null,
  credit_note_id uuid not null,
  position integer not null,
  area_code text not null,
  area_name text not null,
  component text not null,
  rate_percent numeric(8,5) not null,
  base_minor bigint not null,
  tax_minor bigint not null
);
public.credit_notes (
  tenant_id uuid not null,
  id uuid not null,
  sequence bigint not null,
  number text not null,
  account_id uuid not null,
  invoice_id uuid not null,
  issued_on date not null,
  currency character(3) not null,
  reason text not null,
  seller jsonb not null,
  buyer jsonb not null,
  remaining jsonb not null,
  net_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  issued_by uuid not null,
  issued_at timestamp with time zone not null,
  asked jsonb not null
);
public.decision_lines (
  tenant_id uuid not null,
  decision_id uuid not null,
  line_id uuid not null,
  answer text not null,
  reason text not null default ''::text,
  further_percent numeric(6,3) not null,
  net_minor bigint not null,
  labor_minor bigint not null,
  materials_minor bigint not null,
  trail text not null
);
public.decision_signatures (
  tenant_id uuid not null,
  decision_id uuid not null,
  signer_name text not null,
  method text not null,
  strokes jsonb,
  device text not null default ''::text,
  taken_by uuid not null,
  signed_at timestamp with time zone not null
);
public.decisions (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  account_id uuid not null,
  version_id uuid not null,
  digest text not null,
  decided_by uuid,
  recorded_by uuid,
  given text not null default 'here'::text,
  decided_at timestamp with time zone not null,
  limit_minor bigint,
  compared_minor bigint not null,
  repairs_minor bigint not null,
  minimum_minor bigint not null,
  after_hours_minor bigint not null,
  trip_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  standing_approval_id uuid,
  rule_text text,
  rule_day date,
  rule_visit_minor bigint,
  rule_month_minor bigint,
  rush_minor bigint not null default 0,
  visit_minimum_minor bigint not null default 0,
  link_id uuid,
  seen text,
  seen_digest text,
  delegation_id uuid
);
public.deletion_removals (
  tenant_id uuid not null,
  deletion_id uuid not null,
  objects_removed integer not null,
  objects_shared integer not null,
  removed_at timestamp with time zone not null
);
public.deletions (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null,
  subject_id uuid not null,
  work_order_id uuid,
  account_id uuid,
  rule_id uuid not null,
  period integer not null,
  unit text not null,
  ended_on date not null,
  files jsonb not null,
  bytes bigint not null,
  deleted_at timestamp with time zone not null
);
public.discounts_taken (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null,
  reason text not null,
  taken_on date not null,
  taken_by uuid not null,
  taken_at timestamp with time zone not null
);
public.dispute_answers (
  tenant_id uuid not null,
  dispute_id uuid not null,
  answer text not null,
  credit_note_id uuid,
  note text not null default ''::text,
  answered_on date not null,
  answered_by uuid not null,
  answered_at timestamp with time zone not null
);
public.disputes (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  line_id uuid,
  amount_minor bigint not null,
  reason text not null,
  note text not null default ''::text,
  opened_on date not null,
  by_contact boolean not null,
  opened_by uuid not null,
  opened_at timestamp with time zone not null
);
public.document_numbers (
  tenant_id uuid not null,
  kind text not null,
  next bigint not null
);
public.estimate_lines (
  tenant_id uuid not null,
  version_id uuid not null,
  line_id uuid not null,
  position integer not null,
  code text not null,
  repair text not null,
  description text not null,
  list_minor bigint not null,
  after_factor_minor bigint not null,
  before_further_minor bigint not null,
  before_further_trail text not null,
  takes_further_repair boolean not null,
  materials_percent numeric(6,3) not null,
  further_percent numeric(6,3) not null,
  net_minor bigint not null,
  labor_minor bigint not null,
  materials_minor bigint not null,
  trail text not null,
  by_hand text
);
public.estimate_versions (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  version integer not null,
  content text not null,
  digest text not null,
  rate_day date not null,
  expires_on date not null,
  currency character(3) not null,
  rules jsonb not null,
  repairs_minor bigint not null,
  minimum_minor bigint not null,
  after_hours_minor bigint not null,
  trip_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  made_by uuid not null,
  made_at timestamp with time zone not null,
  rush_minor bigint not null default 0,
  visit_minimum_minor bigint not null default 0
);
public.floor_consents (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  price_minor bigint not null,
  floor_minor bigint not null,
  reason text not null,
  consented_by uuid not null,
  consented_at timestamp with time zone not null
);
public.handed_in_certificates (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  kind text not null,
  number text not null,
  valid_from date not null,
  valid_to date,
  handed_in_by uuid not null,
  handed_in_at timestamp with time zone not null
);
public.held_work_orders (
  tenant_id uuid,
  hold_id uuid,
  work_order_id uuid
);
public.invoice_balances (
  tenant_id uuid not null,
  invoice_id uuid not null,
  open_minor bigint not null
);
public.invoice_lines (
  tenant_id uuid not null,
  invoice_id uuid not null,
  position integer not null,
  kind text not null,
  work_order_id uuid,
  line_id uuid,
  code text not null,
  description text not null,
  trail text not null default ''::text,
  net_minor bigint not null,
  labor_minor bigint not null,
  materials_minor bigint not null,
  visit_id uuid
);
public.invoice_tax_bases (
  tenant_id uuid not null,
  invoice_id uuid not null,
  area_code text not null,
  taxable_minor bigint not null,
  exempt_minor bigint not null,
  non_taxable_minor bigint not null
);
public.invoice_taxes (
  tenant_id uuid not null,
  invoice_id uuid not null,
  position integer not null,
  area_code text not null,
  area_name text not null,
  component text not null,
  rate_percent numeric(8,5) not null,
  base_minor bigint not null,
  tax_minor bigint not null
);
public.invoice_visits (
  tenant_id uuid not null,
  invoice_id uuid not null,
  account_id uuid not null,
  visit_id uuid not null,
  position integer not null,
  worked_on date not null,
  place text not null,
  area_code text not null,
  certificate_kind text,
  certificate_number text not null default ''::text
);
public.invoice_voids (
  tenant_id uuid not null,
  invoice_id uuid not null,
  voided_on date not null,
  reason text not null,
  voided_by uuid not null,
  voided_at timestamp with time zone not null
);
public.invoice_work_orders (
  tenant_id uuid not null,
  invoice_id uuid not null,
  work_order_id uuid not null,
  position integer not null,
  vehicle text not null,
  numbers text not null default ''::text,
  acceptance_id uuid,
  subtotal_minor bigint not null
);
public.invoices (
  tenant_id uuid not null,
  id uuid not null,
  sequence bigint not null,
  number text not null,
  account_id uuid not null,
  visit_id uuid,
  issued_on date not null,
  due_on date not null,
  worked_on date,
  currency character(3) not null,
  seller jsonb not null,
  buyer jsonb not null,
  certificate_number text not null default ''::text,
  basis jsonb,
  net_minor bigint not null,
  tax_minor bigint not null,
  total_minor bigint not null,
  issued_by uuid not null,
  issued_at timestamp with time zone not null,
  kind text not null default 'invoice'::text,
  subject text not null default ''::text,
  certificates jsonb default (basis -> 'certificates'::text)
);
public.journal_entries (
  tenant_id uuid not null,
  id uuid not null,
  posting bigint not null,
  event text not null,
  occurred_on date not null,
  currency character(3) not null,
  posted_by uuid not null,
  posted_at timestamp with time zone not null
);
public.journal_lines (
  tenant_id uuid not null,
  entry_id uuid not null,
  position integer not null,
  ledger_account text not null,
  amount_minor bigint not null,
  account_id uuid,
  invoice_id uuid,
  payment_id uuid,
  tax_area text,
  tax_component text,
  credit_note_id uuid
);
public.key_tests (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  battery text,
  coating text,
  lock_contact text,
  unlock_contact text,
  trunk_contact text,
  horn_contact text,
  tested_by uuid not null,
  tested_at timestamp with time zone not null
);
public.late_charges (
  tenant_id uuid not null,
  invoice_id uuid not null,
  month date not null,
  account_id uuid not null,
  document_id uuid not null,
  base_minor bigint not null,
  percent numeric(6,3) not null
);
public.legal_hold_ends (
  tenant_id uuid not null,
  hold_id uuid not null,
  reason text not null,
  ended_by uuid not null,
  ended_at timestamp with time zone not null
);
public.legal_holds (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid,
  account_id uuid,
  reason text not null,
  placed_by uuid not null,
  placed_at timestamp with time zone not null
);
public.messages (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  side text not null,
  author_id uuid not null,
  text text not null,
  written_at timestamp with time zone not null,
  link_id uuid
);
public.missing_signatures (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  why text not null,
  reason text not null,
  witness text not null,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null
);
public.month_closings (
  tenant_id uuid not null,
  id uuid not null,
  month date not null,
  action text not null,
  reason text not null default ''::text,
  posting bigint not null,
  done_by uuid not null,
  done_at timestamp with time zone not null,
  step integer not null
);
public.numbers_chased (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  person_id uuid not null,
  chased_on date not null,
  mail_id uuid not null,
  chased_at timestamp with time zone not null
);
public.opening_items (
  tenant_id uuid not null,
  opening_id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null
);
public.openings (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  brought_on date not null,
  payment_id uuid,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null
);
public.outgoing_mail_attachments (
  tenant_id uuid not null,
  mail_id uuid not null,
  position integer not null,
  file_name text not null,
  media_type text not null,
  storage_key text,
  statement_id uuid
);
public.outgoing_mails (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null,
  account_id uuid,
  about_id uuid not null,
  sender_name text not null,
  reply_to text not null default ''::text,
  recipients text[] not null,
  subject_line text not null,
  body text not null,
  state text not null default 'queued'::text,
  tries integer not null default 0,
  problem text not null default ''::text,
  queued_by uuid not null,
  queued_at timestamp with time zone not null,
  settled_at timestamp with time zone
);
public.parked_receipts (
  tenant_id uuid not null,
  id uuid not null,
  method text not null,
  reference text not null default ''::text,
  payer text not null default ''::text,
  amount_minor bigint not null,
  currency character(3) not null,
  received_on date not null,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null
);
public.passed_on_answers (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  work_order_id uuid not null,
  version_id uuid not null,
  digest text not null,
  passed_by uuid not null,
  link_id uuid,
  answers jsonb not null,
  compared_minor bigint not null,
  total_minor bigint not null,
  limit_minor bigint not null,
  passed_to uuid,
  passed_at timestamp with time zone not null
);
public.payment_applications (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid not null,
  invoice_id uuid not null,
  amount_minor bigint not null,
  applied_on date not null,
  applied_by uuid not null,
  applied_at timestamp with time zone not null,
  by_rule boolean not null default false
);
public.payment_balances (
  tenant_id uuid not null,
  payment_id uuid not null,
  unapplied_minor bigint not null
);
public.payment_returns (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid not null,
  returned_on date not null,
  reason text not null,
  fee_invoice_id uuid,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null
);
public.payment_unapplications (
  tenant_id uuid not null,
  id uuid not null,
  application_id uuid not null,
  return_id uuid,
  unapplied_on date not null,
  reason text not null,
  unapplied_by uuid not null,
  unapplied_at timestamp with time zone not null
);
public.payments (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  method text not null,
  reference text not null default ''::text,
  amount_minor bigint not null,
  currency character(3) not null,
  received_on date not null,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null,
  purpose text not null default 'payment'::text,
  work_order_id uuid
);
public.people (
  tenant_id uuid not null,
  id uuid not null,
  name text not null,
  email text not null default ''::text,
  phone text not null default ''::text,
  has_email boolean not null default ((length(email) <= 254) AND (email ~ '^[A-Za-z0-9.!#$%&''*+/=?^_`{|}~-]{1,64}@[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?(\.[A-Za-z0-9]([A-Za-z0-9-]*[A-Za-z0-9])?)+$'::text))
);
public.photo_checks (
  tenant_id uuid not null,
  photo_id uuid not null,
  sharpness double precision not null,
  dark double precision not null,
  washed_out double precision not null,
  hash text not null,
  print text not null,
  warnings jsonb not null,
  checked_at timestamp with time zone not null
);
public.photo_coverings (
  tenant_id uuid not null,
  id uuid not null,
  photo_id uuid not null,
  number integer not null,
  regions jsonb not null,
  covers boolean not null default (jsonb_array_length(regions) > 0),
  reason text not null,
  made_by uuid not null,
  made_at timestamp with time zone not null
);
public.photo_derivatives (
  tenant_id uuid not null,
  photo_id uuid not null,
  kind text not null,
  sha256 text not null,
  bytes bigint not null,
  width integer not null,
  height integer not null,
  storage_key text not null,
  made_at timestamp with time zone not null
);
public.photo_overrides (
  tenant_id uuid not null,
  id uuid not null,
  photo_id uuid not null,
  reason text not null,
  made_by uuid not null,
  made_at timestamp with time zone not null
);
public.photos (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid,
  purpose text not null,
  sha256 text not null,
  bytes bigint not null,
  media_type text not null,
  width integer not null,
  height integer not null,
  storage_key text not null,
  taken_at_local text,
  latitude double precision,
  longitude double precision,
  received_at timestamp with time zone not null,
  received_from uuid not null,
  bare_sha256 text,
  exif jsonb,
  captured_at timestamp with time zone,
  retake_of uuid
);
public.price_draft_rates (
  tenant_id uuid not null,
  draft_id uuid not null,
  code text not null,
  repair text not null,
  family text not null,
  over_inches numeric(6,3),
  to_inches numeric(6,3),
  part text,
  material text,
  list_minor bigint not null,
  materials_percent numeric(6,3) not null,
  takes_further_repair boolean not null,
  repairs_damage boolean not null
);
public.price_drafts (
  tenant_id uuid not null,
  id uuid not null,
  name text not null,
  counts_from date not null,
  copied_from date not null,
  base jsonb not null,
  revision integer not null default 1,
  state text not null default 'open'::text,
  started_by uuid not null,
  started_at timestamp with time zone not null,
  ended_by uuid,
  ended_at timestamp with time zone
);
public.price_terms (
  tenant_id uuid not null,
  id uuid not null,
  further_repair_percents numeric(6,3)[] not null,
  trip_minor bigint not null,
  miles_included numeric(6,1) not null,
  mile_minor bigint not null,
  after_hours_percent numeric(6,3) not null,
  after_hours_minimum_minor bigint not null,
  deposit_from_minor bigint not null,
  deposit_percent numeric(6,3) not null,
  deposit_step_minor bigint not null,
  valid_from date not null,
  valid_to date,
  floor_percent numeric(6,3),
  rush_percent numeric(6,3) not null default 0,
  rush_minimum_minor bigint not null default 0,
  trip_zones jsonb not null default '[]'::jsonb
);
public.purchase_orders (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  number text not null,
  cap_minor bigint,
  valid_from date not null,
  valid_to date,
  note text not null default ''::text
);
public.rates (
  tenant_id uuid not null,
  id uuid not null,
  code text not null,
  repair text not null,
  family text not null,
  over_inches numeric(6,3),
  to_inches numeric(6,3),
  list_minor bigint not null,
  materials_percent numeric(6,3) not null,
  takes_further_repair boolean not null,
  repairs_damage boolean not null,
  valid_from date not null,
  valid_to date,
  part text,
  material text
);
public.receipt_assignments (
  tenant_id uuid not null,
  receipt_id uuid not null,
  account_id uuid not null,
  payment_id uuid not null,
  assigned_on date not null,
  assigned_by uuid not null,
  assigned_at timestamp with time zone not null
);
public.recording_files (
  tenant_id uuid not null,
  recording_id uuid not null,
  part text not null,
  sha256 text not null,
  bytes bigint not null,
  storage_key text not null
);
public.recording_withholdings (
  tenant_id uuid not null,
  id uuid not null,
  recording_id uuid not null,
  number integer not null,
  withheld boolean not null,
  reason text not null,
  made_by uuid not null,
  made_at timestamp with time zone not null
);
public.recordings (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  kind text not null,
  media_type text not null,
  sha256 text not null,
  bytes bigint not null,
  seconds integer,
  names_place boolean not null,
  captured_at timestamp with time zone,
  received_at timestamp with time zone not null,
  received_from uuid not null
);
public.refunds (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  payment_id uuid,
  credit_note_id uuid,
  amount_minor bigint not null,
  fee_kept_minor bigint not null default 0,
  method text not null,
  reference text not null default ''::text,
  refunded_on date not null,
  recorded_by uuid not null,
  recorded_at timestamp with time zone not null
);
public.replacement_quotes (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  part text not null default ''::text,
  side text not null default ''::text,
  amount_minor bigint not null,
  part_minor bigint,
  fitting_hours numeric(5,2),
  hourly_minor bigint,
  note text not null default ''::text,
  origin text not null,
  taken_from_id uuid,
  given_by uuid not null,
  given_at timestamp with time zone not null,
  superseded_at timestamp with time zone
);
public.retention_candidates (
  tenant_id uuid,
  kind text,
  subject_id uuid,
  work_order_id uuid,
  account_id uuid,
  ended_at timestamp with time zone,
  bytes bigint,
  held boolean
);
public.retention_rules (
  tenant_id uuid not null,
  id uuid not null,
  kind text not null,
  number integer not null,
  period integer,
  unit text,
  reason text not null default ''::text,
  set_by uuid not null,
  set_at timestamp with time zone not null,
  effective_at timestamp with time zone not null
);
public.retention_switches (
  tenant_id uuid not null,
  id uuid not null,
  number integer not null,
  is_on boolean not null,
  set_by uuid not null,
  set_at timestamp with time zone not null
);
public.seal_days (
  tenant_id uuid not null,
  day date not null,
  number bigint not null,
  first_number bigint not null,
  size integer not null,
  root text not null,
  leaves text[] not null,
  previous text,
  audit_number bigint,
  audit_sha256 text,
  text text not null,
  sha256 text not null,
  key_id text not null,
  signature text not null,
  closed_at timestamp with time zone not null
);
public.seal_requests (
  tenant_id uuid not null,
  kind text not null,
  subject_id uuid not null,
  work_order_id uuid,
  account_id uuid,
  happened_at timestamp with time zone not null,
  seal_number bigint
);
public.seals (
  tenant_id uuid not null,
  number bigint not null,
  kind text not null,
  subject_id uuid not null,
  work_order_id uuid,
  account_id uuid,
  happened_at timestamp with time zone not null,
  sealed_at timestamp with time zone not null,
  sealed_on date not null,
  previous text,
  text text not null,
  sha256 text not null,
  content text not null,
  content_sha256 text not null,
  withheld text,
  key_id text not null,
  signature text not null
);
public.seam_releases (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  part text not null,
  side text not null default ''::text,
  reason text not null,
  released_by uuid not null,
  released_at timestamp with time zone not null
);
public.shown_copies (
  tenant_id uuid,
  photo_id uuid,
  kind text,
  sha256 text,
  bytes bigint,
  width integer,
  height integer,
  storage_key text,
  made_at timestamp with time zone
);
public.signing_keys (
  tenant_id uuid not null,
  id uuid not null,
  number integer not null,
  key_id text not null,
  public_key text not null,
  salt text not null,
  cause text not null,
  made_by uuid,
  made_at timestamp with time zone not null
);
public.sites (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  name text not null,
  address text not null default ''::text,
  miles numeric(6,1) not null
);
public.staff_members (
  tenant_id uuid not null,
  person_id uuid not null,
  role text not null,
  short_name text not null,
  ended_on date,
  prices_by_hand boolean not null default false
);
public.standing_approvals (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  per_vehicle_minor bigint,
  per_visit_minor bigint,
  per_month_minor bigint,
  valid_from date not null,
  valid_to date,
  note text not null,
  set_by uuid not null,
  set_at timestamp with time zone not null
);
public.standing_coverings (
  tenant_id uuid,
  photo_id uuid,
  id uuid,
  number integer,
  made_at timestamp with time zone
);
public.statement_files (
  tenant_id uuid not null,
  statement_id uuid not null,
  kind text not null,
  storage_key text not null,
  sha256 text not null,
  bytes bigint not null,
  made_at timestamp with time zone not null
);
public.statement_run_accounts (
  tenant_id uuid not null,
  run_id uuid not null,
  account_id uuid not null,
  state text not null default 'waiting'::text,
  statement_id uuid,
  problem text not null default ''::text
);
public.statement_runs (
  tenant_id uuid not null,
  id uuid not null,
  month date not null,
  all_accounts boolean not null,
  asked_by uuid not null,
  asked_at timestamp with time zone not null
);
public.statements (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  month date not null,
  kind text not null,
  posting bigint not null,
  previous_id uuid,
  currency character(3) not null,
  opening_minor bigint not null,
  charges_minor bigint not null,
  credits_minor bigint not null,
  payments_minor bigint not null,
  closing_minor bigint not null,
  content text not null,
  sha256 text not null,
  issued_by uuid not null,
  issued_at timestamp with time zone not null
);
public.stop_points (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  line_id uuid not null,
  photo_id uuid not null,
  note text not null,
  shown boolean not null,
  made_by uuid not null,
  made_at timestamp with time zone not null
);
public.tax_areas (
  tenant_id uuid not null,
  id uuid not null,
  code text not null,
  name text not null
);
public.tax_classes (
  tenant_id uuid not null,
  id uuid not null,
  tax_area_id uuid not null,
  taxable text[] not null,
  valid_from date not null,
  valid_to date
);
public.tax_rates (
  tenant_id uuid not null,
  id uuid not null,
  tax_area_id uuid not null,
  component text not null,
  position integer not null,
  rate_percent numeric(8,5) not null,
  valid_from date not null,
  valid_to date
);
public.tier_prices (
  tenant_id uuid not null,
  id uuid not null,
  tier_code text not null,
  code text not null,
  price_minor bigint not null,
  reason text not null,
  valid_from date not null,
  valid_to date
);
public.tier_terms (
  tenant_id uuid not null,
  id uuid not null,
  tier_code text not null,
  discount_percent numeric(6,3) not null,
  vehicle_minimum_minor bigint not null,
  trip_waived_from_minor bigint,
  valid_from date not null,
  valid_to date,
  vehicle_cap_minor bigint,
  visit_minimum_minor bigint not null default 0
);
public.tiers (
  tenant_id uuid not null,
  code text not null,
  name text not null
);
public.upload_parts (
  tenant_id uuid not null,
  upload_id uuid not null,
  part_offset bigint not null,
  bytes bigint not null,
  sha256 text not null,
  storage_key text not null,
  received_at timestamp with time zone not null
);
public.uploads (
  tenant_id uuid not null,
  id uuid not null,
  person_id uuid not null,
  media_type text not null,
  bytes bigint not null,
  sha256 text not null,
  begun_at timestamp with time zone not null,
  last_part_at timestamp with time zone not null,
  used_for uuid,
  used_at timestamp with time zone
);
public.vehicle_owner_lines (
  tenant_id uuid,
  id uuid,
  work_order_id uuid,
  position integer,
  part text,
  side text,
  damage text,
  methods text[],
  family text,
  repairs_damage boolean
);
public.vehicles (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  vin text,
  last_eight text,
  model_year integer,
  make text not null default ''::text,
  model text not null default ''::text,
  color text not null default ''::text
);
public.visit_signatures (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  visit_id uuid not null,
  shown text not null,
  shown_digest text not null,
  taken_by uuid not null,
  signed_at timestamp with time zone not null
);
public.visits (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  site_id uuid not null,
  technician_id uuid not null,
  day date not null,
  miles numeric(6,1) not null,
  after_hours boolean not null,
  walk_in boolean not null,
  rush boolean not null default false,
  position integer not null
);
public.withheld_recordings (
  tenant_id uuid,
  recording_id uuid,
  id uuid,
  made_at timestamp with time zone
);
public.work_order_ends (
  tenant_id uuid,
  work_order_id uuid,
  account_id uuid,
  ended_at timestamp with time zone
);
public.work_order_lines (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  position integer not null,
  part text not null,
  side text not null default ''::text,
  damage text not null,
  visible_when text not null default ''::text,
  observation text not null,
  inference text not null,
  material text not null,
  overrule_reason text,
  methods text[] not null default '{}'::text[],
  layers integer,
  measured_inches numeric(6,3),
  family text not null default ''::text,
  rate_code text,
  factor_code text,
  by_hand_minor bigint,
  by_hand_materials_percent numeric(6,3),
  by_hand_reason text,
  repairs_damage boolean not null,
  note text not null default ''::text,
  withdrawn_at timestamp with time zone,
  by_hand_by uuid
);
public.work_order_steps (
  tenant_id uuid not null,
  id uuid not null,
  work_order_id uuid not null,
  event text not null,
  to_state text not null,
  person_id uuid,
  happened_at timestamp with time zone not null,
  note text not null default ''::text
);
public.work_orders (
  tenant_id uuid not null,
  id uuid not null,
  number bigint not null,
  account_id uuid not null,
  visit_id uuid not null,
  vehicle_id uuid not null,
  state text not null,
  hold_reason text,
  own_number text not null default ''::text,
  ro_number text not null default ''::text,
  po_number text not null default ''::text,
  owner_name text not null default ''::text,
  owner_phone text not null default ''::text,
  odometer_miles integer,
  current_version_id uuid,
  decision_id uuid,
  written_up_at timestamp with time zone not null,
  void_reason text,
  void_note text not null default ''::text,
  duplicate_of_id uuid,
  no_show_fee_minor bigint,
  rework_of_id uuid,
  rework_reason text,
  technician_minutes integer,
  materials_cost_minor bigint,
  airbag_lamp_before text,
  airbag_lamp_after text,
  made_at timestamp with time zone,
  vehicle_as_written jsonb
);
public.write_off_recoveries (
  tenant_id uuid not null,
  write_off_id uuid not null,
  reason text not null,
  recovered_on date not null,
  recovered_by uuid not null,
  recovered_at timestamp with time zone not null
);
public.write_off_taxes (
  tenant_id uuid not null,
  write_off_id uuid not null,
  position integer not null,
  area_code text not null,
  component text not null,
  tax_minor bigint not null
);
public.write_offs (
  tenant_id uuid not null,
  id uuid not null,
  account_id uuid not null,
  invoice_id uuid not null,
  kind text not null,
  amount_minor bigint not null,
  reason text not null default ''::text,
  written_off_on date not null,
  written_off_by uuid not null,
  written_off_at timestamp with time zone not null
);
registry.memberships (
  id uuid not null,
  user_id uuid not null,
  tenant_id uuid not null,
  person_id uuid not null,
  account_id uuid,
  join_code_hash text
);
registry.sessions (
  id_hash text not null,
  user_id uuid not null,
  membership_id uuid,
  expires_at timestamp with time zone not null,
  ends_at timestamp with time zone not null
);
registry.sign_in_failures (
  key_hash text not null,
  failures integer not null,
  window_ends_at timestamp with time zone not null
);
registry.tenants (
  id uuid not null,
  name text not null,
  created_at timestamp with time zone not null
);
registry.users (
  id uuid not null,
  email text not null,
  password_hash text not null,
  created_at timestamp with time zone not null,
  disabled_at timestamp with time zone
);

-- constraints
acceptance_copies acceptance_copies_address_check CHECK ((length(address) <= 254));
acceptance_copies acceptance_copies_channel_check CHECK ((channel = ANY (ARRAY['mail'::text, 'link'::text, 'declined'::text])));
acceptance_copies acceptance_copies_check CHECK (((channel = 'declined'::text) = (link_id IS NULL)));
acceptance_copies acceptance_copies_check1 CHECK (((channel = 'mail'::text) = (mail_id IS NOT NULL)));
acceptance_copies acceptance_copies_check2 CHECK (((channel <> 'mail'::text) OR (address <> ''::text)));
acceptance_copies acceptance_copies_check3 CHECK (((channel <> 'declined'::text) OR (address = ''::text)));
acceptance_copies acceptance_copies_pkey PRIMARY KEY (tenant_id, id, acceptance_id);
acceptance_copies acceptance_copies_tenant_id_given_by_fkey FOREIGN KEY (tenant_id, given_by) REFERENCES staff_members(tenant_id, person_id);
acceptance_copies acceptance_copies_tenant_id_link_id_fkey FOREIGN KEY (tenant_id, link_id) REFERENCES access_links(tenant_id, id);
acceptance_copies acceptance_copies_tenant_id_mail_id_fkey FOREIGN KEY (tenant_id, mail_id) REFERENCES outgoing_mails(tenant_id, id);
acceptance_copies acceptance_copies_tenant_id_work_order_id_acceptance_id_fkey FOREIGN KEY (tenant_id, work_order_id, acceptance_id) REFERENCES acceptances(tenant_id, work_order_id, id);
acceptance_releases acceptance_releases_pkey PRIMARY KEY (tenant_id, work_order_id);
acceptance_releases acceptance_releases_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
acceptance_releases acceptance_releases_tenant_id_released_by_fkey FOREIGN KEY (tenant_id, released_by) REFERENCES staff_members(tenant_id, person_id);
acceptance_releases acceptance_releases_tenant_id_work_order_id_missing_signat_fkey FOREIGN KEY (tenant_id, work_order_id, missing_signature_id) REFERENCES missing_signatures(tenant_id, work_order_id, id);
acceptance_requests acceptance_requests_check CHECK (((phone <> ''::text) OR (email <> ''::text)));
acceptance_requests acceptance_requests_email_check CHECK ((length(email) <= 254));
acceptance_requests acceptance_requests_owner_name_check CHECK (((length(owner_name) >= 1) AND (length(owner_name) <= 200)));
acceptance_requests acceptance_requests_phone_check CHECK ((length(phone) <= 40));
acceptance_requests acceptance_requests_pkey PRIMARY KEY (tenant_id, link_id);
acceptance_requests acceptance_requests_tenant_id_work_order_id_link_id_fkey FOREIGN KEY (tenant_id, work_order_id, link_id) REFERENCES access_links(tenant_id, work_order_id, id);
acceptances acceptances_check CHECK (((method = 'drawn'::text) = (strokes IS NOT NULL)));
acceptances acceptances_check1 CHECK (((outcome = 'accepted'::text) OR (remark <> ''::text)));
acceptances acceptances_check2 CHECK ((num_nonnulls(taken_by, link_id) = 1));
acceptances acceptances_check3 CHECK (((link_id IS NULL) OR (visit_signature_id IS NULL)));
acceptances acceptances_check4 CHECK (((signature_sha256 IS NULL) = (signature_key IS NULL)));
acceptances acceptances_mark_kept CHECK ((((method = 'drawn'::text) = (signature_sha256 IS NOT NULL)) AND ((method = 'typed'::text) = (typed_name IS NOT NULL)))) NOT VALID;
acceptances acceptances_method_check CHECK ((method = ANY (ARRAY['drawn'::text, 'typed'::text])));
acceptances acceptances_outcome_check CHECK ((outcome = ANY (ARRAY['accepted'::text, 'accepted_with_remark'::text, 'not_accepted'::text])));
acceptances acceptances_pkey PRIMARY KEY (tenant_id, id);
acceptances acceptances_remark_check CHECK ((length(remark) <= 2000));
acceptances acceptances_shown_digest_check CHECK ((shown_digest ~ '^[0-9a-f]{64}$'::text));
acceptances acceptances_signature_sha256_check CHECK ((signature_sha256 ~ '^[0-9a-f]{64}$'::text));
acceptances acceptances_signer_email_check CHECK ((length(signer_email) <= 254));
acceptances acceptances_signer_name_check CHECK (((length(signer_name) >= 1) AND (length(signer_name) <= 200)));
acceptances acceptances_signer_phone_check CHECK ((length(signer_phone) <= 40));
acceptances acceptances_signer_role_check CHECK ((signer_role = ANY (ARRAY['vehicle_owner'::text, 'account_representative'::text])));
acceptances acceptances_tenant_id_taken_by_fkey FOREIGN KEY (tenant_id, taken_by) REFERENCES staff_members(tenant_id, person_id);
acceptances acceptances_tenant_id_visit_signature_id_fkey FOREIGN KEY (tenant_id, visit_signature_id) REFERENCES visit_signatures(tenant_id, id);
acceptances acceptances_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
acceptances acceptances_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
acceptances acceptances_tenant_id_work_order_id_link_id_fkey FOREIGN KEY (tenant_id, work_order_id, link_id) REFERENCES access_links(tenant_id, work_order_id, id);
acceptances acceptances_typed_name_check CHECK (((length(typed_name) >= 1) AND (length(typed_name) <= 400)));
access_links access_links_check CHECK ((expires_at > made_at));
access_links access_links_check1 CHECK (((purpose = 'approval'::text) = (person_id IS NOT NULL)));
access_links access_links_pkey PRIMARY KEY (tenant_id, id);
access_links access_links_purpose_check CHECK ((purpose = ANY (ARRAY['approval'::text, 'acceptance'::text, 'acceptance_copy'::text])));
access_links access_links_secret_hash_check CHECK ((secret_hash ~ '^[0-9a-f]{64}$'::text));
access_links access_links_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
access_links access_links_tenant_id_account_id_person_id_fkey FOREIGN KEY (tenant_id, account_id, person_id) REFERENCES contacts(tenant_id, account_id, person_id);
access_links access_links_tenant_id_account_id_person_id_id_key UNIQUE (tenant_id, account_id, person_id, id);
access_links access_links_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
access_links access_links_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES people(tenant_id, id);
access_links access_links_tenant_id_secret_hash_key UNIQUE (tenant_id, secret_hash);
access_links access_links_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
account_groups account_groups_name_check CHECK (((length(name) >= 1) AND (length(name) <= 200)));
account_groups account_groups_pkey PRIMARY KEY (tenant_id, id);
account_groups account_groups_tenant_id_name_key UNIQUE (tenant_id, name);
account_prices account_prices_check CHECK ((valid_to >= valid_from));
account_prices account_prices_no_overlap EXCLUDE USING gist (tenant_id WITH =, account_id WITH =, code WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
account_prices account_prices_pkey PRIMARY KEY (tenant_id, id);
account_prices account_prices_price_minor_check CHECK ((price_minor > 0));
account_prices account_prices_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
accounts accounts_acceptance_rule_check CHECK ((acceptance_rule = ANY (ARRAY['none'::text, 'vehicle_owner'::text, 'account_representative'::text])));
accounts accounts_check CHECK ((ended_on >= opened_on));
accounts accounts_check1 CHECK ((successor_id IS DISTINCT FROM id));
accounts accounts_invoice_rule_check CHECK ((invoice_rule = ANY (ARRAY['at_once'::text, 'per_visit'::text, 'monthly'::text])));
accounts accounts_kind_check CHECK ((kind = ANY (ARRAY['used_car_lot'::text, 'new_car_dealer'::text, 'glass_installer'::text, 'tint_shop'::text, 'body_shop'::text, 'fleet'::text, 'rental'::text, 'wholesaler'::text, 'insurer'::text, 'retail'::text])));
accounts accounts_name_check CHECK (((length(name) >= 1) AND (length(name) <= 200)));
accounts accounts_no_show_fee_minor_check CHECK ((no_show_fee_minor > 0));
accounts accounts_own_number_kind_check CHECK ((own_number_kind = ANY (ARRAY['stock'::text, 'unit'::text, 'lot'::text, 'job'::text, 'claim'::text])));
accounts accounts_photo_rule_check CHECK ((photo_rule = ANY (ARRAY['retail'::text, 'trade'::text, 'lot'::text])));
accounts accounts_pkey PRIMARY KEY (tenant_id, id);
accounts accounts_remind_after_hours_check CHECK (((remind_after_hours >= 1) AND (remind_after_hours <= 720)));
accounts accounts_short_name_check CHECK ((short_name ~ '^[A-Z0-9]{1,8}$'::text));
accounts accounts_statement_email_check CHECK ((length(statement_email) <= 254));
accounts accounts_statement_kind_check CHECK ((statement_kind = ANY (ARRAY['open_item'::text, 'balance_forward'::text, 'none'::text])));
accounts accounts_tenant_id_group_id_fkey FOREIGN KEY (tenant_id, group_id) REFERENCES account_groups(tenant_id, id);
accounts accounts_tenant_id_short_name_key UNIQUE (tenant_id, short_name);
accounts accounts_tenant_id_successor_id_fkey FOREIGN KEY (tenant_id, successor_id) REFERENCES accounts(tenant_id, id);
accounts accounts_tenant_id_tax_area_id_fkey FOREIGN KEY (tenant_id, tax_area_id) REFERENCES tax_areas(tenant_id, id);
accounts accounts_tenant_id_tier_code_fkey FOREIGN KEY (tenant_id, tier_code) REFERENCES tiers(tenant_id, code);
accounts accounts_terms_days_check CHECK (((terms_days >= 0) AND (terms_days <= 180)));
approval_asks approval_asks_check CHECK (((why = 'passed_on'::text) = (passed_on_id IS NOT NULL)));
approval_asks approval_asks_pkey PRIMARY KEY (tenant_id, id);
approval_asks approval_asks_tenant_id_account_id_person_id_fkey FOREIGN KEY (tenant_id, account_id, person_id) REFERENCES contacts(tenant_id, account_id, person_id);
approval_asks approval_asks_tenant_id_account_id_person_id_link_id_fkey FOREIGN KEY (tenant_id, account_id, person_id, link_id) REFERENCES access_links(tenant_id, account_id, person_id, id);
approval_asks approval_asks_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
approval_asks approval_asks_tenant_id_asked_by_fkey FOREIGN KEY (tenant_id, asked_by) REFERENCES people(tenant_id, id);
approval_asks approval_asks_tenant_id_mail_id_fkey FOREIGN KEY (tenant_id, mail_id) REFERENCES outgoing_mails(tenant_id, id);
approval_asks approval_asks_tenant_id_work_order_id_version_id_fkey FOREIGN KEY (tenant_id, work_order_id, version_id) REFERENCES estimate_versions(tenant_id, work_order_id, id);
approval_asks approval_asks_tenant_id_work_order_id_version_id_passed_on_fkey FOREIGN KEY (tenant_id, work_order_id, version_id, passed_on_id) REFERENCES passed_on_answers(tenant_id, work_order_id, version_id, id);
approval_asks approval_asks_why_check CHECK ((why = ANY (ARRAY['first'::text, 'above_limit'::text, 'passed_on'::text, 'asked_again'::text, 'delegate'::text])));
approval_delegation_ends approval_delegation_ends_pkey PRIMARY KEY (tenant_id, delegation_id);
approval_delegation_ends approval_delegation_ends_tenant_id_account_id_delegation_i_fkey FOREIGN KEY (tenant_id, account_id, delegation_id) REFERENCES approval_delegations(tenant_id, account_id, id);
approval_delegation_ends approval_delegation_ends_tenant_id_ended_by_fkey FOREIGN KEY (tenant_id, ended_by) REFERENCES people(tenant_id, id);
approval_delegations approval_delegations_check CHECK ((to_person <> from_person));
approval_delegations approval_delegations_check1 CHECK (((valid_to >= valid_from) AND (valid_to <= (valid_from + 366))));
approval_delegations approval_delegations_limit_minor_check CHECK ((limit_minor >= 0));
approval_delegations approval_delegations_pkey PRIMARY KEY (tenant_id, id);
approval_delegations approval_delegations_tenant_id_account_id_from_person_fkey FOREIGN KEY (tenant_id, account_id, from_person) REFERENCES contacts(tenant_id, account_id, person_id);
approval_delegations approval_delegations_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
approval_delegations approval_delegations_tenant_id_account_id_to_person_fkey FOREIGN KEY (tenant_id, account_id, to_person) REFERENCES contacts(tenant_id, account_id, person_id);
approval_delegations approval_delegations_tenant_id_account_id_to_person_id_key UNIQUE (tenant_id, account_id, to_person, id);
approval_delegations approval_delegations_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES staff_members(tenant_id, person_id);
approval_reminders approval_reminders_number_check CHECK ((number = ANY (ARRAY[1, 2])));
approval_reminders approval_reminders_pkey PRIMARY KEY (tenant_id, id);
approval_reminders approval_reminders_tenant_id_account_id_person_id_fkey FOREIGN KEY (tenant_id, account_id, person_id) REFERENCES contacts(tenant_id, account_id, person_id);
approval_reminders approval_reminders_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
approval_reminders approval_reminders_tenant_id_mail_id_fkey FOREIGN KEY (tenant_id, mail_id) REFERENCES outgoing_mails(tenant_id, id);
approval_reminders approval_reminders_tenant_id_version_id_person_id_number_key UNIQUE (tenant_id, version_id, person_id, number);
approval_reminders approval_reminders_tenant_id_work_order_id_version_id_fkey FOREIGN KEY (tenant_id, work_order_id, version_id) REFERENCES estimate_versions(tenant_id, work_order_id, id);
audit_links audit_links_check CHECK ((sha256 = encode(sha256(convert_to(format('{"format":"audit-link-1","number":%s,"previous":%s,"record":"%s","tenant":"%s"}'::text, number, COALESCE((('"'::text || previous) || '"'::text), 'null'::text), record_sha256, tenant_id), 'UTF8'::name)), 'hex'::text)));
audit_links audit_links_check1 CHECK (((number = 1) = (previous IS NULL)));
audit_links audit_links_number_check CHECK ((number > 0));
audit_links audit_links_pkey PRIMARY KEY (tenant_id, number);
audit_links audit_links_record_sha256_check CHECK ((record_sha256 ~ '^[0-9a-f]{64}$'::text));
audit_links audit_links_tenant_id_audit_id_fkey FOREIGN KEY (tenant_id, audit_id) REFERENCES audit_records(tenant_id, id);
audit_links audit_links_tenant_id_audit_id_key UNIQUE (tenant_id, audit_id);
audit_records audit_records_check CHECK (((person_id IS NOT NULL) OR ((account_id IS NULL) AND (detail ? 'by_link'::text))));
audit_records audit_records_pkey PRIMARY KEY (tenant_id, id);
audit_records audit_records_tenant_id_person_id_fkey FOREIGN KEY (tenant_id, person_id) REFERENCES people(tenant_id, id);
audit_waiting audit_waiting_pkey PRIMARY KEY (tenant_id, audit_id);
audit_waiting audit_waiting_tenant_id_audit_id_fkey FOREIGN KEY (tenant_id, audit_id) REFERENCES audit_records(tenant_id, id);
billed_work_orders billed_work_orders_pkey PRIMARY KEY (tenant_id, work_order_id);
billed_work_orders billed_work_orders_tenant_id_invoice_id_work_order_id_fkey FOREIGN KEY (tenant_id, invoice_id, work_order_id) REFERENCES invoice_work_orders(tenant_id, invoice_id, work_order_id);
businesses businesses_acceptance_copy_days_check CHECK (((acceptance_copy_days >= 1) AND (acceptance_copy_days <= 3650)));
businesses businesses_acceptance_link_days_check CHECK (((acceptance_link_days >= 1) AND (acceptance_link_days <= 90)));
businesses businesses_aging_basis_check CHECK ((aging_basis = ANY (ARRAY['due_date'::text, 'document_date'::text])));
businesses businesses_certificate_warning_days_check CHECK (((certificate_warning_days >= 0) AND (certificate_warning_days <= 365)));
businesses businesses_check CHECK (((invoice_prefix <> credit_note_prefix) AND (invoice_prefix <> fee_prefix) AND (credit_note_prefix <> fee_prefix)));
businesses businesses_check1 CHECK (((logo_key IS NULL) = (logo_media_type IS NULL)));
businesses businesses_comeback_days_check CHECK (((comeback_days >= 0) AND (comeback_days <= 1000)));
businesses businesses_credit_note_prefix_check CHECK ((credit_note_prefix ~ '^[A-Z]{1,6}-$'::text));
businesses businesses_duplicate_days_check CHECK (((duplicate_days >= 0) AND (duplicate_days <= 365)));
businesses businesses_estimate_valid_days_check CHECK (((estimate_valid_days >= 1) AND (estimate_valid_days <= 365)));
businesses businesses_fee_prefix_check CHECK ((fee_prefix ~ '^[A-Z]{1,6}-$'::text));
businesses businesses_invoice_prefix_check CHECK ((invoice_prefix ~ '^[A-Z]{1,6}-$'::text));
businesses businesses_late_charge_grace_days_check CHECK (((late_charge_grace_days >= 0) AND (late_charge_grace_days <= 365)));
businesses businesses_late_charge_percent_check CHECK (((late_charge_percent >= (0)::numeric) AND (late_charge_percent <= (100)::numeric)));
businesses businesses_logo_media_type_check CHECK ((logo_media_type = ANY (ARRAY['image/png'::text, 'image/jpeg'::text])));
businesses businesses_name_check CHECK (((length(name) >= 1) AND (length(name) <= 200)));
businesses businesses_page_size_check CHECK ((page_size = ANY (ARRAY['letter'::text, 'a4'::text])));
businesses businesses_pkey PRIMARY KEY (tenant_id);
businesses businesses_return_fee_minor_check CHECK ((return_fee_minor >= 0));
businesses businesses_small_difference_minor_check CHECK ((small_difference_minor >= 0));
businesses businesses_tax_basis_check CHECK ((tax_basis = ANY (ARRAY['invoice'::text, 'item'::text])));
businesses businesses_tax_components_check CHECK ((tax_components = ANY (ARRAY['each'::text, 'together'::text])));
businesses businesses_warranty_days_check CHECK (((warranty_days >= 0) AND (warranty_days <= 1000)));
care_factors care_factors_code_check CHECK ((code ~ '^[a-z_]{1,20}$'::text));
care_factors care_factors_pkey PRIMARY KEY (tenant_id, code);
care_percents care_percents_check CHECK ((valid_to >= valid_from));
care_percents care_percents_no_overlap EXCLUDE USING gist (tenant_id WITH =, factor_code WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
care_percents care_percents_percent_check CHECK (((percent >= (100)::numeric) AND (percent <= (300)::numeric)));
care_percents care_percents_pkey PRIMARY KEY (tenant_id, id);
care_percents care_percents_tenant_id_factor_code_fkey FOREIGN KEY (tenant_id, factor_code) REFERENCES care_factors(tenant_id, code);
caution_acknowledgments caution_acknowledgments_pkey PRIMARY KEY (tenant_id, id);
caution_acknowledgments caution_acknowledgments_tenant_id_acknowledged_by_fkey FOREIGN KEY (tenant_id, acknowledged_by) REFERENCES staff_members(tenant_id, person_id);
caution_acknowledgments caution_acknowledgments_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
certificate_checks certificate_checks_answer_check CHECK ((answer = ANY (ARRAY['confirmed'::text, 'not_taken'::text])));
certificate_checks certificate_checks_check CHECK (((answer = 'confirmed'::text) = (certificate_id IS NOT NULL)));
certificate_checks certificate_checks_check1 CHECK (((answer = 'confirmed'::text) OR (reason <> ''::text)));
certificate_checks certificate_checks_pkey PRIMARY KEY (tenant_id, handed_in_id);
certificate_checks certificate_checks_reason_check CHECK ((length(reason) <= 500));
certificate_checks certificate_checks_tenant_id_account_id_certificate_id_fkey FOREIGN KEY (tenant_id, account_id, certificate_id) REFERENCES certificates(tenant_id, account_id, id);
certificate_checks certificate_checks_tenant_id_account_id_handed_in_id_fkey FOREIGN KEY (tenant_id, account_id, handed_in_id) REFERENCES handed_in_certificates(tenant_id, account_id, id);
certificate_checks certificate_checks_tenant_id_checked_by_fkey FOREIGN KEY (tenant_id, checked_by) REFERENCES staff_members(tenant_id, person_id);
certificates certificates_check CHECK ((valid_to >= valid_from));
certificates certificates_kind_check CHECK ((kind = ANY (ARRAY['resale'::text, 'exempt_use'::text])));
certificates certificates_number_check CHECK (((length(number) >= 1) AND (length(number) <= 80)));
certificates certificates_pkey PRIMARY KEY (tenant_id, id);
certificates certificates_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
certificates certificates_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
chain_heads chain_heads_chain_check CHECK ((chain = ANY (ARRAY['seals'::text, 'seal_days'::text, 'audit'::text])));
chain_heads chain_heads_check CHECK (((number = 0) = (sha256 IS NULL)));
chain_heads chain_heads_number_check CHECK ((number >= 0));
chain_heads chain_heads_pkey PRIMARY KEY (tenant_id, chain);
clearing_movements clearing_movements_amount_minor_check CHECK ((amount_minor > 0));
clearing_movements clearing_movements_kind_check CHECK ((kind = ANY (ARRAY['fee'::text, 'payout'::text])));
clearing_movements clearing_movements_pkey PRIMARY KEY (tenant_id, id);
clearing_movements clearing_movements_reference_check CHECK ((length(reference) <= 80));
clearing_movements clearing_movements_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES people(tenant_id, id);
commission_rates commission_rates_check CHECK ((valid_to >= valid_from));
commission_rates commission_rates_percent_check CHECK (((percent >= (0)::numeric) AND (percent <= (100)::numeric)));
commission_rates commission_rates_pkey PRIMARY KEY (tenant_id, id);
commission_rates commission_rates_tenant_id_person_id_daterange_excl EXCLUDE USING gist (tenant_id WITH =, person_id WITH =, daterange(valid_from, (valid_to + 1), '[)'::text) WITH &&);
commission_rates commission_rates_tenant_id_person_id_fkey FOREIGN KEY (tenant_id, person_id) REFERENCES staff_members(tenant_id, person_id);
commission_rates commission_rates_tenant_id_set_by_fkey FOREIGN KEY (tenant_id, set_by) REFERENCES staff_members(tenant_id, person_id);
contacts contacts_ask_position_check CHECK ((ask_position > 0));
contacts contacts_check CHECK (((role = 'approver'::text) OR (limit_minor IS NULL)));
contacts contacts_limit_minor_check CHECK ((limit_minor >= 0));
contacts contacts_pkey PRIMARY KEY (tenant_id, account_id, person_id);
contacts contacts_role_check CHECK ((role = ANY (ARRAY['approver'::text, 'payer'::text, 'viewer'::text])));
contacts contacts_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
contacts contacts_tenant_id_person_id_fkey FOREIGN KEY (tenant_id, person_id) REFERENCES people(tenant_id, id);
contracts contracts_check CHECK ((valid_to >= valid_from));
contracts contracts_discount_percent_check CHECK (((discount_percent >= (0)::numeric) AND (discount_percent <= (100)::numeric)));
contracts contracts_name_check CHECK (((length(name) >= 1) AND (length(name) <= 60)));
contracts contracts_no_overlap EXCLUDE USING gist (tenant_id WITH =, account_id WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
contracts contracts_pkey PRIMARY KEY (tenant_id, id);
contracts contracts_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
covered_copies covered_copies_bytes_check CHECK ((bytes > 0));
covered_copies covered_copies_kind_check CHECK ((kind = ANY (ARRAY['full'::text, 'view'::text, 'thumb'::text])));
covered_copies covered_copies_pkey PRIMARY KEY (tenant_id, covering_id, kind);
covered_copies covered_copies_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
covered_copies covered_copies_tenant_id_covering_id_fkey FOREIGN KEY (tenant_id, covering_id) REFERENCES photo_coverings(tenant_id, id);
credit_moves credit_moves_amount_minor_check CHECK ((amount_minor > 0));
credit_moves credit_moves_check CHECK ((to_account_id <> account_id));
credit_moves credit_moves_check1 CHECK ((num_nonnulls(payment_id, credit_note_id) = 1));
credit_moves credit_moves_pkey PRIMARY KEY (tenant_id, id);
credit_moves credit_moves_tenant_id_account_id_credit_note_id_fkey FOREIGN KEY (tenant_id, account_id, credit_note_id) REFERENCES credit_notes(tenant_id, account_id, id);
credit_moves credit_moves_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
credit_moves credit_moves_tenant_id_moved_by_fkey FOREIGN KEY (tenant_id, moved_by) REFERENCES people(tenant_id, id);
credit_moves credit_moves_tenant_id_takes_back_fkey FOREIGN KEY (tenant_id, takes_back) REFERENCES credit_moves(tenant_id, id);
credit_moves credit_moves_tenant_id_takes_back_key UNIQUE (tenant_id, takes_back);
credit_moves credit_moves_tenant_id_to_account_id_to_payment_id_fkey FOREIGN KEY (tenant_id, to_account_id, to_payment_id) REFERENCES payments(tenant_id, account_id, id);
credit_note_applications credit_note_applications_amount_minor_check CHECK ((amount_minor > 0));
credit_note_applications credit_note_applications_pkey PRIMARY KEY (tenant_id, id);
credit_note_applications credit_note_applications_tenant_id_account_id_credit_note__fkey FOREIGN KEY (tenant_id, account_id, credit_note_id) REFERENCES credit_notes(tenant_id, account_id, id);
credit_note_applications credit_note_applications_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
credit_note_applications credit_note_applications_tenant_id_applied_by_fkey FOREIGN KEY (tenant_id, applied_by) REFERENCES people(tenant_id, id);
credit_note_balances credit_note_balances_pkey PRIMARY KEY (tenant_id, credit_note_id);
credit_note_balances credit_note_balances_tenant_id_credit_note_id_fkey FOREIGN KEY (tenant_id, credit_note_id) REFERENCES credit_notes(tenant_id, id);
credit_note_balances credit_note_balances_unapplied_minor_check CHECK ((unapplied_minor >= 0));
credit_note_lines credit_note_lines_check CHECK (((kind = ANY (ARRAY['trip'::text, 'fee'::text])) OR ((labor_minor + materials_minor) = net_minor)));
credit_note_lines credit_note_lines_kind_check CHECK ((kind = ANY (ARRAY['repair'::text, 'minimum'::text, 'after_hours'::text, 'rush'::text, 'visit_minimum'::text, 'trip'::text, 'fee'::text])));
credit_note_lines credit_note_lines_net_minor_check CHECK ((net_minor > 0));
credit_note_lines credit_note_lines_pkey PRIMARY KEY (tenant_id, credit_note_id, "position");
credit_note_lines credit_note_lines_tenant_id_credit_note_id_fkey FOREIGN KEY (tenant_id, credit_note_id) REFERENCES credit_notes(tenant_id, id);
credit_note_lines credit_note_lines_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
credit_note_tax_bases credit_note_tax_bases_pkey PRIMARY KEY (tenant_id, credit_note_id, area_code);
credit_note_tax_bases credit_note_tax_bases_tenant_id_credit_note_id_fkey FOREIGN KEY (tenant_id, credit_note_id) REFERENCES credit_notes(tenant_id, id);
credit_note_taxes credit_note_taxes_pkey PRIMARY KEY (tenant_id, credit_note_id, "position");
credit_note_taxes credit_note_taxes_tenant_id_credit_note_id_fkey FOREIGN KEY (tenant_id, credit_note_id) REFERENCES credit_notes(tenant_id, id);
credit_notes credit_notes_check CHECK (((net_minor + tax_minor) = total_minor));
credit_notes credit_notes_net_minor_check CHECK ((net_minor >= 0));
credit_notes credit_notes_pkey PRIMARY KEY (tenant_id, id);
credit_notes credit_notes_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
credit_notes credit_notes_sequence_check CHECK ((sequence > 0));
credit_notes credit_notes_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
credit_notes credit_notes_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
credit_notes credit_notes_tenant_id_issued_by_fkey FOREIGN KEY (tenant_id, issued_by) REFERENCES people(tenant_id, id);
credit_notes credit_notes_tenant_id_number_key UNIQUE (tenant_id, number);
credit_notes credit_notes_tenant_id_sequence_key UNIQUE (tenant_id, sequence);
credit_notes credit_notes_total_minor_check CHECK ((total_minor > 0));
decision_lines decision_lines_answer_check CHECK ((answer = ANY (ARRAY['approved'::text, 'declined'::text])));
decision_lines decision_lines_check CHECK (((labor_minor + materials_minor) = net_minor));
decision_lines decision_lines_net_minor_check CHECK ((net_minor >= 0));
decision_lines decision_lines_pkey PRIMARY KEY (tenant_id, decision_id, line_id);
decision_lines decision_lines_reason_check CHECK ((length(reason) <= 500));
decision_lines decision_lines_tenant_id_decision_id_fkey FOREIGN KEY (tenant_id, decision_id) REFERENCES decisions(tenant_id, id);
decision_signatures decision_signatures_check CHECK (((method = 'drawn'::text) = (strokes IS NOT NULL)));
decision_signatures decision_signatures_method_check CHECK ((method = ANY (ARRAY['drawn'::text, 'typed'::text])));
decision_signatures decision_signatures_pkey PRIMARY KEY (tenant_id, decision_id);
decision_signatures decision_signatures_signer_name_check CHECK (((length(signer_name) >= 1) AND (length(signer_name) <= 200)));
decision_signatures decision_signatures_tenant_id_decision_id_fkey FOREIGN KEY (tenant_id, decision_id) REFERENCES decisions(tenant_id, id);
decision_signatures decision_signatures_tenant_id_taken_by_fkey FOREIGN KEY (tenant_id, taken_by) REFERENCES staff_members(tenant_id, person_id);
decisions decisions_by_link CHECK (((given = 'by_link'::text) = (link_id IS NOT NULL)));
decisions decisions_check CHECK (((recorded_by IS NULL) = (given = ANY (ARRAY['here'::text, 'by_link'::text, 'by_rule'::text, 'without_charge'::text]))));
decisions decisions_check1 CHECK (
CASE given
    WHEN 'by_rule'::text THEN ((decided_by IS NULL) AND (num_nulls(standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor) = 0))
    ELSE (((decided_by IS NULL) = (given = 'without_charge'::text)) AND (num_nonnulls(standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor) = 0))
END);
decisions decisions_check4 CHECK (((given <> 'without_charge'::text) OR (total_minor = 0)));
decisions decisions_compared CHECK ((compared_minor = ((repairs_minor + after_hours_minor) + rush_minor)));
decisions decisions_given_check CHECK ((given = ANY (ARRAY['here'::text, 'by_link'::text, 'in_person'::text, 'by_phone'::text, 'in_writing'::text, 'by_rule'::text, 'without_charge'::text])));
decisions decisions_pkey PRIMARY KEY (tenant_id, id);
decisions decisions_rule_text_check CHECK (((length(rule_text) >= 1) AND (length(rule_text) <= 1000)));
decisions decisions_seen CHECK ((((seen IS NULL) AND (seen_digest IS NULL)) OR ((seen IS NOT NULL) AND (seen_digest = encode(sha256(convert_to(seen, 'UTF8'::name)), 'hex'::text)))));
decisions decisions_tenant_id_account_id_decided_by_delegation_id_fkey FOREIGN KEY (tenant_id, account_id, decided_by, delegation_id) REFERENCES approval_delegations(tenant_id, account_id, to_person, id);
decisions decisions_tenant_id_account_id_decided_by_fkey FOREIGN KEY (tenant_id, account_id, decided_by) REFERENCES contacts(tenant_id, account_id, person_id);
decisions decisions_tenant_id_account_id_decided_by_link_id_fkey FOREIGN KEY (tenant_id, account_id, decided_by, link_id) REFERENCES access_links(tenant_id, account_id, person_id, id);
decisions decisions_tenant_id_account_id_standing_approval_id_fkey FOREIGN KEY (tenant_id, account_id, standing_approval_id) REFERENCES standing_approvals(tenant_id, account_id, id);
decisions decisions_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
decisions decisions_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES staff_members(tenant_id, person_id);
decisions decisions_tenant_id_version_id_key UNIQUE (tenant_id, version_id);
decisions decisions_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
decisions decisions_tenant_id_work_order_id_version_id_fkey FOREIGN KEY (tenant_id, work_order_id, version_id) REFERENCES estimate_versions(tenant_id, work_order_id, id);
decisions decisions_total CHECK ((total_minor = (((((repairs_minor + after_hours_minor) + rush_minor) + visit_minimum_minor) + trip_minor) + tax_minor)));
deletion_removals deletion_removals_objects_removed_check CHECK ((objects_removed >= 0));
deletion_removals deletion_removals_objects_shared_check CHECK ((objects_shared >= 0));
deletion_removals deletion_removals_pkey PRIMARY KEY (tenant_id, deletion_id);
deletion_removals deletion_removals_tenant_id_deletion_id_fkey FOREIGN KEY (tenant_id, deletion_id) REFERENCES deletions(tenant_id, id);
deletions deletions_bytes_check CHECK ((bytes >= 0));
deletions deletions_files_check CHECK ((jsonb_typeof(files) = 'array'::text));
deletions deletions_kind_check CHECK ((kind = ANY (ARRAY['photos'::text, 'recordings'::text, 'documents'::text, 'mails'::text])));
deletions deletions_pkey PRIMARY KEY (tenant_id, id);
deletions deletions_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
deletions deletions_tenant_id_kind_subject_id_key UNIQUE (tenant_id, kind, subject_id);
deletions deletions_tenant_id_rule_id_fkey FOREIGN KEY (tenant_id, rule_id) REFERENCES retention_rules(tenant_id, id);
deletions deletions_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
discounts_taken discounts_taken_amount_minor_check CHECK ((amount_minor > 0));
discounts_taken discounts_taken_pkey PRIMARY KEY (tenant_id, id);
discounts_taken discounts_taken_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
discounts_taken discounts_taken_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
discounts_taken discounts_taken_tenant_id_taken_by_fkey FOREIGN KEY (tenant_id, taken_by) REFERENCES people(tenant_id, id);
dispute_answers dispute_answers_answer_check CHECK ((answer = ANY (ARRAY['upheld'::text, 'credited'::text])));
dispute_answers dispute_answers_check CHECK (((answer = 'credited'::text) = (credit_note_id IS NOT NULL)));
dispute_answers dispute_answers_check1 CHECK (((answer = 'credited'::text) OR (note <> ''::text)));
dispute_answers dispute_answers_note_check CHECK ((length(note) <= 2000));
dispute_answers dispute_answers_pkey PRIMARY KEY (tenant_id, dispute_id);
dispute_answers dispute_answers_tenant_id_answered_by_fkey FOREIGN KEY (tenant_id, answered_by) REFERENCES people(tenant_id, id);
dispute_answers dispute_answers_tenant_id_credit_note_id_fkey FOREIGN KEY (tenant_id, credit_note_id) REFERENCES credit_notes(tenant_id, id);
dispute_answers dispute_answers_tenant_id_dispute_id_fkey FOREIGN KEY (tenant_id, dispute_id) REFERENCES disputes(tenant_id, id);
disputes disputes_amount_minor_check CHECK ((amount_minor > 0));
disputes disputes_note_check CHECK ((length(note) <= 2000));
disputes disputes_pkey PRIMARY KEY (tenant_id, id);
disputes disputes_reason_check CHECK ((reason = ANY (ARRAY['disputed'::text, 'discount_taken'::text, 'error'::text, 'unknown'::text])));
disputes disputes_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
disputes disputes_tenant_id_opened_by_fkey FOREIGN KEY (tenant_id, opened_by) REFERENCES people(tenant_id, id);
document_numbers document_numbers_kind_check CHECK ((kind = ANY (ARRAY['work_order'::text, 'invoice'::text, 'posting'::text, 'credit_note'::text, 'fee'::text, 'opening'::text])));
document_numbers document_numbers_next_check CHECK ((next > 0));
document_numbers document_numbers_pkey PRIMARY KEY (tenant_id, kind);
estimate_lines estimate_lines_check CHECK (((labor_minor + materials_minor) = net_minor));
estimate_lines estimate_lines_labor_minor_check CHECK ((labor_minor >= 0));
estimate_lines estimate_lines_materials_minor_check CHECK ((materials_minor >= 0));
estimate_lines estimate_lines_net_minor_check CHECK ((net_minor >= 0));
estimate_lines estimate_lines_pkey PRIMARY KEY (tenant_id, version_id, line_id);
estimate_lines estimate_lines_tenant_id_version_id_fkey FOREIGN KEY (tenant_id, version_id) REFERENCES estimate_versions(tenant_id, id);
estimate_versions estimate_versions_digest_check CHECK ((digest ~ '^[0-9a-f]{64}$'::text));
estimate_versions estimate_versions_pkey PRIMARY KEY (tenant_id, id);
estimate_versions estimate_versions_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES people(tenant_id, id);
estimate_versions estimate_versions_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
estimate_versions estimate_versions_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
estimate_versions estimate_versions_tenant_id_work_order_id_version_key UNIQUE (tenant_id, work_order_id, version);
estimate_versions estimate_versions_version_check CHECK ((version > 0));
floor_consents floor_consents_check CHECK ((floor_minor > price_minor));
floor_consents floor_consents_pkey PRIMARY KEY (tenant_id, id);
floor_consents floor_consents_price_minor_check CHECK ((price_minor >= 0));
floor_consents floor_consents_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
floor_consents floor_consents_tenant_id_consented_by_fkey FOREIGN KEY (tenant_id, consented_by) REFERENCES staff_members(tenant_id, person_id);
floor_consents floor_consents_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
floor_consents floor_consents_tenant_id_work_order_id_line_id_price_minor__key UNIQUE (tenant_id, work_order_id, line_id, price_minor, floor_minor);
handed_in_certificates handed_in_certificates_check CHECK ((valid_to >= valid_from));
handed_in_certificates handed_in_certificates_kind_check CHECK ((kind = ANY (ARRAY['resale'::text, 'exempt_use'::text])));
handed_in_certificates handed_in_certificates_number_check CHECK (((length(number) >= 1) AND (length(number) <= 80)));
handed_in_certificates handed_in_certificates_pkey PRIMARY KEY (tenant_id, id);
handed_in_certificates handed_in_certificates_tenant_id_account_id_handed_in_by_fkey FOREIGN KEY (tenant_id, account_id, handed_in_by) REFERENCES contacts(tenant_id, account_id, person_id);
handed_in_certificates handed_in_certificates_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
invoice_balances invoice_balances_open_minor_check CHECK ((open_minor >= 0));
invoice_balances invoice_balances_pkey PRIMARY KEY (tenant_id, invoice_id);
invoice_balances invoice_balances_tenant_id_invoice_id_fkey FOREIGN KEY (tenant_id, invoice_id) REFERENCES invoices(tenant_id, id);
invoice_lines invoice_lines_check CHECK (((kind = ANY (ARRAY['trip'::text, 'fee'::text])) OR ((labor_minor + materials_minor) = net_minor)));
invoice_lines invoice_lines_kind_check CHECK ((kind = ANY (ARRAY['repair'::text, 'minimum'::text, 'after_hours'::text, 'rush'::text, 'visit_minimum'::text, 'trip'::text, 'fee'::text])));
invoice_lines invoice_lines_pkey PRIMARY KEY (tenant_id, invoice_id, "position");
invoice_lines invoice_lines_tenant_id_invoice_id_fkey FOREIGN KEY (tenant_id, invoice_id) REFERENCES invoices(tenant_id, id);
invoice_lines invoice_lines_tenant_id_invoice_id_visit_id_fkey FOREIGN KEY (tenant_id, invoice_id, visit_id) REFERENCES invoice_visits(tenant_id, invoice_id, visit_id);
invoice_lines invoice_lines_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
invoice_tax_bases invoice_tax_bases_pkey PRIMARY KEY (tenant_id, invoice_id, area_code);
invoice_tax_bases invoice_tax_bases_tenant_id_invoice_id_fkey FOREIGN KEY (tenant_id, invoice_id) REFERENCES invoices(tenant_id, id);
invoice_taxes invoice_taxes_pkey PRIMARY KEY (tenant_id, invoice_id, "position");
invoice_taxes invoice_taxes_tenant_id_invoice_id_fkey FOREIGN KEY (tenant_id, invoice_id) REFERENCES invoices(tenant_id, id);
invoice_visits invoice_visits_certificate_kind_check CHECK ((certificate_kind = ANY (ARRAY['resale'::text, 'exempt_use'::text])));
invoice_visits invoice_visits_check CHECK (((certificate_kind IS NULL) = (certificate_number = ''::text)));
invoice_visits invoice_visits_pkey PRIMARY KEY (tenant_id, invoice_id, visit_id);
invoice_visits invoice_visits_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
invoice_visits invoice_visits_tenant_id_account_id_visit_id_fkey FOREIGN KEY (tenant_id, account_id, visit_id) REFERENCES visits(tenant_id, account_id, id);
invoice_voids invoice_voids_pkey PRIMARY KEY (tenant_id, invoice_id);
invoice_voids invoice_voids_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
invoice_voids invoice_voids_tenant_id_invoice_id_fkey FOREIGN KEY (tenant_id, invoice_id) REFERENCES invoices(tenant_id, id);
invoice_voids invoice_voids_tenant_id_voided_by_fkey FOREIGN KEY (tenant_id, voided_by) REFERENCES people(tenant_id, id);
invoice_work_orders invoice_work_orders_pkey PRIMARY KEY (tenant_id, invoice_id, work_order_id);
invoice_work_orders invoice_work_orders_tenant_id_acceptance_id_fkey FOREIGN KEY (tenant_id, acceptance_id) REFERENCES acceptances(tenant_id, id);
invoice_work_orders invoice_work_orders_tenant_id_invoice_id_fkey FOREIGN KEY (tenant_id, invoice_id) REFERENCES invoices(tenant_id, id);
invoice_work_orders invoice_work_orders_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
invoices invoices_check CHECK ((due_on >= issued_on));
invoices invoices_check1 CHECK (((net_minor + tax_minor) = total_minor));
invoices invoices_check2 CHECK (((kind <> 'invoice'::text) OR ((basis IS NOT NULL) AND (worked_on IS NOT NULL))));
invoices invoices_check3 CHECK (((kind = 'invoice'::text) OR (tax_minor = 0)));
invoices invoices_kind_check CHECK ((kind = ANY (ARRAY['invoice'::text, 'return_fee'::text, 'late_charge'::text, 'opening_balance'::text])));
invoices invoices_pkey PRIMARY KEY (tenant_id, id);
invoices invoices_sequence_check CHECK ((sequence > 0));
invoices invoices_subject_check CHECK ((length(subject) <= 500));
invoices invoices_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
invoices invoices_tenant_id_account_id_visit_id_fkey FOREIGN KEY (tenant_id, account_id, visit_id) REFERENCES visits(tenant_id, account_id, id);
invoices invoices_tenant_id_issued_by_fkey FOREIGN KEY (tenant_id, issued_by) REFERENCES people(tenant_id, id);
invoices invoices_tenant_id_number_key UNIQUE (tenant_id, number);
journal_entries balanced TRIGGER DEFERRABLE INITIALLY DEFERRED;
journal_entries journal_entries_pkey PRIMARY KEY (tenant_id, id);
journal_entries journal_entries_posting_check CHECK ((posting > 0));
journal_entries journal_entries_tenant_id_posted_by_fkey FOREIGN KEY (tenant_id, posted_by) REFERENCES people(tenant_id, id);
journal_entries journal_entries_tenant_id_posting_key UNIQUE (tenant_id, posting);
journal_lines balanced TRIGGER DEFERRABLE INITIALLY DEFERRED;
journal_lines journal_lines_amount_minor_check CHECK ((amount_minor <> 0));
journal_lines journal_lines_check CHECK (((account_id IS NOT NULL) OR ((invoice_id IS NULL) AND (payment_id IS NULL))));
journal_lines journal_lines_check1 CHECK (((account_id IS NOT NULL) OR (credit_note_id IS NULL)));
journal_lines journal_lines_pkey PRIMARY KEY (tenant_id, entry_id, "position");
journal_lines journal_lines_tenant_id_account_id_credit_note_id_fkey FOREIGN KEY (tenant_id, account_id, credit_note_id) REFERENCES credit_notes(tenant_id, account_id, id);
journal_lines journal_lines_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
journal_lines journal_lines_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
journal_lines journal_lines_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
journal_lines journal_lines_tenant_id_entry_id_fkey FOREIGN KEY (tenant_id, entry_id) REFERENCES journal_entries(tenant_id, id);
key_tests key_tests_battery_check CHECK ((battery = ANY (ARRAY['pass'::text, 'fail'::text])));
key_tests key_tests_coating_check CHECK ((coating = ANY (ARRAY['pass'::text, 'fail'::text])));
key_tests key_tests_horn_contact_check CHECK ((horn_contact = ANY (ARRAY['pass'::text, 'fail'::text, 'not_fitted'::text])));
key_tests key_tests_lock_contact_check CHECK ((lock_contact = ANY (ARRAY['pass'::text, 'fail'::text, 'not_fitted'::text])));
key_tests key_tests_pkey PRIMARY KEY (tenant_id, id);
key_tests key_tests_tenant_id_tested_by_fkey FOREIGN KEY (tenant_id, tested_by) REFERENCES staff_members(tenant_id, person_id);
key_tests key_tests_tenant_id_work_order_id_line_id_fkey FOREIGN KEY (tenant_id, work_order_id, line_id) REFERENCES work_order_lines(tenant_id, work_order_id, id);
key_tests key_tests_trunk_contact_check CHECK ((trunk_contact = ANY (ARRAY['pass'::text, 'fail'::text, 'not_fitted'::text])));
key_tests key_tests_unlock_contact_check CHECK ((unlock_contact = ANY (ARRAY['pass'::text, 'fail'::text, 'not_fitted'::text])));
late_charges late_charges_base_minor_check CHECK ((base_minor > 0));
late_charges late_charges_month_check CHECK ((EXTRACT(day FROM month) = (1)::numeric));
late_charges late_charges_percent_check CHECK ((percent > (0)::numeric));
late_charges late_charges_pkey PRIMARY KEY (tenant_id, invoice_id, month);
late_charges late_charges_tenant_id_account_id_document_id_fkey FOREIGN KEY (tenant_id, account_id, document_id) REFERENCES invoices(tenant_id, account_id, id);
late_charges late_charges_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
late_charges late_charges_tenant_id_document_id_key UNIQUE (tenant_id, document_id);
legal_hold_ends legal_hold_ends_pkey PRIMARY KEY (tenant_id, hold_id);
legal_hold_ends legal_hold_ends_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
legal_hold_ends legal_hold_ends_tenant_id_ended_by_fkey FOREIGN KEY (tenant_id, ended_by) REFERENCES staff_members(tenant_id, person_id);
legal_hold_ends legal_hold_ends_tenant_id_hold_id_fkey FOREIGN KEY (tenant_id, hold_id) REFERENCES legal_holds(tenant_id, id);
legal_holds legal_holds_check CHECK ((num_nonnulls(work_order_id, account_id) = 1));
legal_holds legal_holds_pkey PRIMARY KEY (tenant_id, id);
legal_holds legal_holds_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
legal_holds legal_holds_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
legal_holds legal_holds_tenant_id_placed_by_fkey FOREIGN KEY (tenant_id, placed_by) REFERENCES staff_members(tenant_id, person_id);
legal_holds legal_holds_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
messages messages_check CHECK (((link_id IS NULL) OR (side = 'account'::text)));
messages messages_pkey PRIMARY KEY (tenant_id, id);
messages messages_side_check CHECK ((side = ANY (ARRAY['account'::text, 'business'::text])));
messages messages_tenant_id_account_id_author_id_link_id_fkey FOREIGN KEY (tenant_id, account_id, author_id, link_id) REFERENCES access_links(tenant_id, account_id, person_id, id);
messages messages_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
messages messages_tenant_id_author_id_fkey FOREIGN KEY (tenant_id, author_id) REFERENCES people(tenant_id, id);
messages messages_text_check CHECK (((length(text) >= 1) AND (length(text) <= 2000)));
missing_signatures missing_signatures_pkey PRIMARY KEY (tenant_id, id);
missing_signatures missing_signatures_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
missing_signatures missing_signatures_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES staff_members(tenant_id, person_id);
missing_signatures missing_signatures_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
missing_signatures missing_signatures_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
missing_signatures missing_signatures_why_check CHECK ((why = ANY (ARRAY['refused'::text, 'absent'::text])));
missing_signatures missing_signatures_witness_check CHECK (((length(witness) <= 200) AND ((witness <> ''::text) OR (why = 'absent'::text))));
month_closings month_closings_action_check CHECK ((action = ANY (ARRAY['closed'::text, 'reopened'::text])));
month_closings month_closings_check CHECK (((action = 'closed'::text) OR (reason <> ''::text)));
month_closings month_closings_check1 CHECK (((action = 'closed'::text) = ((step % 2) = 1)));
month_closings month_closings_month_check CHECK ((EXTRACT(day FROM month) = (1)::numeric));
month_closings month_closings_pkey PRIMARY KEY (tenant_id, id);
month_closings month_closings_reason_check CHECK ((length(reason) <= 500));
month_closings month_closings_step_check CHECK ((step > 0));
month_closings month_closings_tenant_id_done_by_fkey FOREIGN KEY (tenant_id, done_by) REFERENCES people(tenant_id, id);
numbers_chased numbers_chased_pkey PRIMARY KEY (tenant_id, id);
numbers_chased numbers_chased_tenant_id_account_id_person_id_fkey FOREIGN KEY (tenant_id, account_id, person_id) REFERENCES contacts(tenant_id, account_id, person_id);
numbers_chased numbers_chased_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
numbers_chased numbers_chased_tenant_id_mail_id_fkey FOREIGN KEY (tenant_id, mail_id) REFERENCES outgoing_mails(tenant_id, id);
numbers_chased numbers_chased_tenant_id_work_order_id_person_id_chased_on_key UNIQUE (tenant_id, work_order_id, person_id, chased_on);
opening_items opening_items_pkey PRIMARY KEY (tenant_id, invoice_id);
opening_items opening_items_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
opening_items opening_items_tenant_id_account_id_opening_id_fkey FOREIGN KEY (tenant_id, account_id, opening_id) REFERENCES openings(tenant_id, account_id, id);
openings openings_pkey PRIMARY KEY (tenant_id, id);
openings openings_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
openings openings_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
openings openings_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
openings openings_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES people(tenant_id, id);
outgoing_mail_attachments outgoing_mail_attachments_check CHECK ((num_nonnulls(storage_key, statement_id) = 1));
outgoing_mail_attachments outgoing_mail_attachments_file_name_check CHECK ((file_name ~ '^[A-Za-z0-9._-]{1,120}$'::text));
outgoing_mail_attachments outgoing_mail_attachments_media_type_check CHECK ((media_type ~ '^[a-z]+/[a-z0-9.+-]+$'::text));
outgoing_mail_attachments outgoing_mail_attachments_pkey PRIMARY KEY (tenant_id, mail_id, "position");
outgoing_mail_attachments outgoing_mail_attachments_tenant_id_mail_id_fkey FOREIGN KEY (tenant_id, mail_id) REFERENCES outgoing_mails(tenant_id, id);
outgoing_mail_attachments outgoing_mail_attachments_tenant_id_statement_id_fkey FOREIGN KEY (tenant_id, statement_id) REFERENCES statements(tenant_id, id);
outgoing_mails outgoing_mails_check CHECK (((settled_at IS NULL) = (state = ANY (ARRAY['queued'::text, 'failed'::text]))));
outgoing_mails outgoing_mails_kind_check CHECK ((kind = ANY (ARRAY['statement'::text, 'estimate'::text, 'estimate_reminder'::text, 'numbers_wanted'::text, 'message'::text, 'answer_copy'::text, 'acceptance'::text])));
outgoing_mails outgoing_mails_pkey PRIMARY KEY (tenant_id, id);
outgoing_mails outgoing_mails_recipients_check CHECK ((((cardinality(recipients) >= 1) AND (cardinality(recipients) <= 20)) AND (array_to_string(recipients, ''::text) !~ '[[:cntrl:][:space:]<>,;"]'::text)));
outgoing_mails outgoing_mails_reply_to_check CHECK (((length(reply_to) <= 254) AND (reply_to !~ '[[:cntrl:][:space:]]'::text)));
outgoing_mails outgoing_mails_sender_name_check CHECK ((((length(sender_name) >= 1) AND (length(sender_name) <= 200)) AND (sender_name !~ '[[:cntrl:]]'::text)));
outgoing_mails outgoing_mails_state_check CHECK ((state = ANY (ARRAY['queued'::text, 'sent'::text, 'kept'::text, 'failed'::text])));
outgoing_mails outgoing_mails_subject_line_check CHECK ((((length(subject_line) >= 1) AND (length(subject_line) <= 200)) AND (subject_line !~ '[[:cntrl:]]'::text)));
outgoing_mails outgoing_mails_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
outgoing_mails outgoing_mails_tenant_id_queued_by_fkey FOREIGN KEY (tenant_id, queued_by) REFERENCES people(tenant_id, id);
outgoing_mails outgoing_mails_tries_check CHECK ((tries >= 0));
parked_receipts parked_receipts_amount_minor_check CHECK ((amount_minor > 0));
parked_receipts parked_receipts_method_check CHECK ((method = ANY (ARRAY['check'::text, 'card'::text, 'ach'::text, 'cash'::text])));
parked_receipts parked_receipts_payer_check CHECK ((length(payer) <= 200));
parked_receipts parked_receipts_pkey PRIMARY KEY (tenant_id, id);
parked_receipts parked_receipts_reference_check CHECK ((length(reference) <= 80));
parked_receipts parked_receipts_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES people(tenant_id, id);
passed_on_answers passed_on_answers_answers_check CHECK ((jsonb_typeof(answers) = 'array'::text));
passed_on_answers passed_on_answers_check CHECK ((compared_minor > limit_minor));
passed_on_answers passed_on_answers_check1 CHECK ((passed_to <> passed_by));
passed_on_answers passed_on_answers_pkey PRIMARY KEY (tenant_id, id);
passed_on_answers passed_on_answers_tenant_id_account_id_passed_by_fkey FOREIGN KEY (tenant_id, account_id, passed_by) REFERENCES contacts(tenant_id, account_id, person_id);
passed_on_answers passed_on_answers_tenant_id_account_id_passed_by_link_id_fkey FOREIGN KEY (tenant_id, account_id, passed_by, link_id) REFERENCES access_links(tenant_id, account_id, person_id, id);
passed_on_answers passed_on_answers_tenant_id_account_id_passed_to_fkey FOREIGN KEY (tenant_id, account_id, passed_to) REFERENCES contacts(tenant_id, account_id, person_id);
passed_on_answers passed_on_answers_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
passed_on_answers passed_on_answers_tenant_id_version_id_passed_by_key UNIQUE (tenant_id, version_id, passed_by);
passed_on_answers passed_on_answers_tenant_id_work_order_id_version_id_fkey FOREIGN KEY (tenant_id, work_order_id, version_id) REFERENCES estimate_versions(tenant_id, work_order_id, id);
passed_on_answers passed_on_answers_tenant_id_work_order_id_version_id_id_key UNIQUE (tenant_id, work_order_id, version_id, id);
payment_applications payment_applications_amount_minor_check CHECK ((amount_minor > 0));
payment_applications payment_applications_pkey PRIMARY KEY (tenant_id, id);
payment_applications payment_applications_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
payment_applications payment_applications_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
payment_applications payment_applications_tenant_id_applied_by_fkey FOREIGN KEY (tenant_id, applied_by) REFERENCES people(tenant_id, id);
payment_balances payment_balances_pkey PRIMARY KEY (tenant_id, payment_id);
payment_balances payment_balances_tenant_id_payment_id_fkey FOREIGN KEY (tenant_id, payment_id) REFERENCES payments(tenant_id, id);
payment_balances payment_balances_unapplied_minor_check CHECK ((unapplied_minor >= 0));
payment_returns payment_returns_pkey PRIMARY KEY (tenant_id, id);
payment_returns payment_returns_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
payment_returns payment_returns_tenant_id_account_id_fee_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, fee_invoice_id) REFERENCES invoices(tenant_id, account_id, id);
payment_returns payment_returns_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
payment_returns payment_returns_tenant_id_payment_id_key UNIQUE (tenant_id, payment_id);
payment_returns payment_returns_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES people(tenant_id, id);
payment_unapplications payment_unapplications_pkey PRIMARY KEY (tenant_id, id);
payment_unapplications payment_unapplications_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
payment_unapplications payment_unapplications_tenant_id_application_id_fkey FOREIGN KEY (tenant_id, application_id) REFERENCES payment_applications(tenant_id, id);
payment_unapplications payment_unapplications_tenant_id_application_id_key UNIQUE (tenant_id, application_id);
payment_unapplications payment_unapplications_tenant_id_return_id_fkey FOREIGN KEY (tenant_id, return_id) REFERENCES payment_returns(tenant_id, id);
payment_unapplications payment_unapplications_tenant_id_unapplied_by_fkey FOREIGN KEY (tenant_id, unapplied_by) REFERENCES people(tenant_id, id);
payments payments_amount_minor_check CHECK ((amount_minor > 0));
payments payments_check CHECK (((purpose = 'deposit'::text) OR (work_order_id IS NULL)));
payments payments_method_check CHECK ((method = ANY (ARRAY['check'::text, 'card'::text, 'ach'::text, 'cash'::text, 'moved'::text, 'brought_forward'::text])));
payments payments_pkey PRIMARY KEY (tenant_id, id);
payments payments_purpose_check CHECK ((purpose = ANY (ARRAY['payment'::text, 'deposit'::text])));
payments payments_reference_check CHECK ((length(reference) <= 80));
payments payments_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
payments payments_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
payments payments_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
payments payments_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES people(tenant_id, id);
people people_name_check CHECK (((length(name) >= 1) AND (length(name) <= 200)));
people people_pkey PRIMARY KEY (tenant_id, id);
photo_checks photo_checks_dark_check CHECK (((dark >= (0)::double precision) AND (dark <= (1)::double precision)));
photo_checks photo_checks_hash_check CHECK ((hash ~ '^[0-9a-f]{16}$'::text));
photo_checks photo_checks_pkey PRIMARY KEY (tenant_id, photo_id);
photo_checks photo_checks_print_check CHECK (((length(print) = 2048) AND (print ~ '^[0-9a-f]+$'::text)));
photo_checks photo_checks_sharpness_check CHECK ((sharpness >= (0)::double precision));
photo_checks photo_checks_tenant_id_photo_id_fkey FOREIGN KEY (tenant_id, photo_id) REFERENCES photos(tenant_id, id);
photo_checks photo_checks_warnings_check CHECK (((jsonb_typeof(warnings) = 'array'::text) AND (jsonb_array_length(warnings) <= 8)));
photo_checks photo_checks_washed_out_check CHECK (((washed_out >= (0)::double precision) AND (washed_out <= (1)::double precision)));
photo_coverings photo_coverings_number_check CHECK ((number > 0));
photo_coverings photo_coverings_pkey PRIMARY KEY (tenant_id, id);
photo_coverings photo_coverings_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
photo_coverings photo_coverings_regions_check CHECK (((jsonb_typeof(regions) = 'array'::text) AND (jsonb_array_length(regions) <= 40)));
photo_coverings photo_coverings_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES staff_members(tenant_id, person_id);
photo_coverings photo_coverings_tenant_id_photo_id_fkey FOREIGN KEY (tenant_id, photo_id) REFERENCES photos(tenant_id, id);
photo_coverings photo_coverings_tenant_id_photo_id_number_key UNIQUE (tenant_id, photo_id, number);
photo_derivatives photo_derivatives_kind_check CHECK ((kind = ANY (ARRAY['view'::text, 'thumb'::text])));
photo_derivatives photo_derivatives_pkey PRIMARY KEY (tenant_id, photo_id, kind);
photo_derivatives photo_derivatives_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
photo_derivatives photo_derivatives_tenant_id_photo_id_fkey FOREIGN KEY (tenant_id, photo_id) REFERENCES photos(tenant_id, id);
photo_overrides photo_overrides_pkey PRIMARY KEY (tenant_id, id);
photo_overrides photo_overrides_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
photo_overrides photo_overrides_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES staff_members(tenant_id, person_id);
photo_overrides photo_overrides_tenant_id_photo_id_fkey FOREIGN KEY (tenant_id, photo_id) REFERENCES photo_checks(tenant_id, photo_id);
photos photos_bare_sha256_check CHECK ((bare_sha256 ~ '^[0-9a-f]{64}$'::text));
photos photos_bytes_check CHECK ((bytes > 0));
photos photos_check CHECK ((retake_of <> id));
photos photos_exif_check CHECK ((jsonb_typeof(exif) = 'object'::text));
photos photos_height_check CHECK ((height > 0));
photos photos_media_type_check CHECK ((media_type = ANY (ARRAY['image/jpeg'::text, 'image/png'::text, 'image/webp'::text])));
photos photos_pkey PRIMARY KEY (tenant_id, id);
photos photos_purpose_check CHECK ((purpose = ANY (ARRAY['walk_around'::text, 'before'::text, 'after_heat'::text, 'cut_out'::text, 'progress'::text, 'ruler'::text, 'after'::text, 'stop_point'::text])));
photos photos_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
photos photos_tenant_id_received_from_fkey FOREIGN KEY (tenant_id, received_from) REFERENCES staff_members(tenant_id, person_id);
photos photos_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
photos photos_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
photos photos_tenant_id_work_order_id_line_id_fkey FOREIGN KEY (tenant_id, work_order_id, line_id) REFERENCES work_order_lines(tenant_id, work_order_id, id);
photos photos_tenant_id_work_order_id_retake_of_fkey FOREIGN KEY (tenant_id, work_order_id, retake_of) REFERENCES photos(tenant_id, work_order_id, id);
photos photos_width_check CHECK ((width > 0));
price_draft_rates price_draft_rates_check CHECK ((to_inches > over_inches));
price_draft_rates price_draft_rates_check1 CHECK (((over_inches IS NULL) = (to_inches IS NULL)));
price_draft_rates price_draft_rates_code_check CHECK ((code ~ '^[A-Z0-9-]{1,12}$'::text));
price_draft_rates price_draft_rates_family_check CHECK (((length(family) >= 1) AND (length(family) <= 60)));
price_draft_rates price_draft_rates_list_minor_check CHECK ((list_minor > 0));
price_draft_rates price_draft_rates_material_check CHECK (((length(material) >= 1) AND (length(material) <= 40)));
price_draft_rates price_draft_rates_materials_percent_check CHECK (((materials_percent >= (0)::numeric) AND (materials_percent <= (100)::numeric)));
price_draft_rates price_draft_rates_over_inches_check CHECK ((over_inches >= (0)::numeric));
price_draft_rates price_draft_rates_part_check CHECK (((length(part) >= 1) AND (length(part) <= 60)));
price_draft_rates price_draft_rates_pkey PRIMARY KEY (tenant_id, draft_id, code);
price_draft_rates price_draft_rates_tenant_id_draft_id_fkey FOREIGN KEY (tenant_id, draft_id) REFERENCES price_drafts(tenant_id, id);
price_drafts price_drafts_check CHECK (((state = 'open'::text) = (ended_by IS NULL)));
price_drafts price_drafts_check1 CHECK (((ended_by IS NULL) = (ended_at IS NULL)));
price_drafts price_drafts_name_check CHECK (((length(name) >= 1) AND (length(name) <= 80)));
price_drafts price_drafts_pkey PRIMARY KEY (tenant_id, id);
price_drafts price_drafts_revision_check CHECK ((revision > 0));
price_drafts price_drafts_state_check CHECK ((state = ANY (ARRAY['open'::text, 'published'::text, 'discarded'::text])));
price_drafts price_drafts_tenant_id_ended_by_fkey FOREIGN KEY (tenant_id, ended_by) REFERENCES staff_members(tenant_id, person_id);
price_drafts price_drafts_tenant_id_started_by_fkey FOREIGN KEY (tenant_id, started_by) REFERENCES staff_members(tenant_id, person_id);
price_terms price_terms_after_hours_minimum_minor_check CHECK ((after_hours_minimum_minor >= 0));
price_terms price_terms_after_hours_percent_check CHECK ((after_hours_percent >= (0)::numeric));
price_terms price_terms_check CHECK ((valid_to >= valid_from));
price_terms price_terms_deposit_from_minor_check CHECK ((deposit_from_minor >= 0));
price_terms price_terms_deposit_percent_check CHECK (((deposit_percent >= (0)::numeric) AND (deposit_percent <= (100)::numeric)));
price_terms price_terms_deposit_step_minor_check CHECK ((deposit_step_minor > 0));
price_terms price_terms_floor_percent_check CHECK (((floor_percent > (0)::numeric) AND (floor_percent <= (100)::numeric)));
price_terms price_terms_further_repair_percents_check CHECK (((cardinality(further_repair_percents) >= 1) AND (cardinality(further_repair_percents) <= 10)));
price_terms price_terms_mile_minor_check CHECK ((mile_minor >= 0));
price_terms price_terms_miles_included_check CHECK ((miles_included >= (0)::numeric));
price_terms price_terms_no_overlap EXCLUDE USING gist (tenant_id WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
price_terms price_terms_pkey PRIMARY KEY (tenant_id, id);
price_terms price_terms_rush_minimum_minor_check CHECK ((rush_minimum_minor >= 0));
price_terms price_terms_rush_percent_check CHECK ((rush_percent >= (0)::numeric));
price_terms price_terms_trip_minor_check CHECK ((trip_minor >= 0));
price_terms price_terms_trip_zones_check CHECK (zones_rise(trip_zones));
purchase_orders purchase_orders_cap_minor_check CHECK ((cap_minor > 0));
purchase_orders purchase_orders_check CHECK ((valid_to >= valid_from));
purchase_orders purchase_orders_note_check CHECK ((length(note) <= 500));
purchase_orders purchase_orders_number_check CHECK (((length(number) >= 1) AND (length(number) <= 40)));
purchase_orders purchase_orders_pkey PRIMARY KEY (tenant_id, id);
purchase_orders purchase_orders_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
purchase_orders purchase_orders_tenant_id_account_id_number_key UNIQUE (tenant_id, account_id, number);
rates rates_check CHECK ((to_inches > over_inches));
rates rates_check1 CHECK ((valid_to >= valid_from));
rates rates_check2 CHECK (((over_inches IS NULL) = (to_inches IS NULL)));
rates rates_code_check CHECK ((code ~ '^[A-Z0-9-]{1,12}$'::text));
rates rates_family_check CHECK (((length(family) >= 1) AND (length(family) <= 60)));
rates rates_list_minor_check CHECK ((list_minor > 0));
rates rates_material_check CHECK (((length(material) >= 1) AND (length(material) <= 40)));
rates rates_materials_percent_check CHECK (((materials_percent >= (0)::numeric) AND (materials_percent <= (100)::numeric)));
rates rates_no_overlap EXCLUDE USING gist (tenant_id WITH =, code WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
rates rates_over_inches_check CHECK ((over_inches >= (0)::numeric));
rates rates_part_check CHECK (((length(part) >= 1) AND (length(part) <= 60)));
rates rates_pkey PRIMARY KEY (tenant_id, id);
receipt_assignments receipt_assignments_pkey PRIMARY KEY (tenant_id, receipt_id);
receipt_assignments receipt_assignments_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
receipt_assignments receipt_assignments_tenant_id_assigned_by_fkey FOREIGN KEY (tenant_id, assigned_by) REFERENCES people(tenant_id, id);
receipt_assignments receipt_assignments_tenant_id_payment_id_key UNIQUE (tenant_id, payment_id);
receipt_assignments receipt_assignments_tenant_id_receipt_id_fkey FOREIGN KEY (tenant_id, receipt_id) REFERENCES parked_receipts(tenant_id, id);
recording_files recording_files_bytes_check CHECK ((bytes > 0));
recording_files recording_files_part_check CHECK ((part = ANY (ARRAY['film'::text, 'poster'::text])));
recording_files recording_files_pkey PRIMARY KEY (tenant_id, recording_id, part);
recording_files recording_files_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
recording_files recording_files_tenant_id_recording_id_fkey FOREIGN KEY (tenant_id, recording_id) REFERENCES recordings(tenant_id, id);
recording_withholdings recording_withholdings_number_check CHECK ((number > 0));
recording_withholdings recording_withholdings_pkey PRIMARY KEY (tenant_id, id);
recording_withholdings recording_withholdings_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
recording_withholdings recording_withholdings_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES staff_members(tenant_id, person_id);
recording_withholdings recording_withholdings_tenant_id_recording_id_fkey FOREIGN KEY (tenant_id, recording_id) REFERENCES recordings(tenant_id, id);
recording_withholdings recording_withholdings_tenant_id_recording_id_number_key UNIQUE (tenant_id, recording_id, number);
recordings recordings_bytes_check CHECK ((bytes > 0));
recordings recordings_kind_check CHECK ((kind = 'walk_around'::text));
recordings recordings_media_type_check CHECK ((media_type = ANY (ARRAY['video/webm'::text, 'video/mp4'::text, 'video/quicktime'::text])));
recordings recordings_pkey PRIMARY KEY (tenant_id, id);
recordings recordings_seconds_check CHECK (((seconds >= 0) AND (seconds <= 36000)));
recordings recordings_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
recordings recordings_tenant_id_received_from_fkey FOREIGN KEY (tenant_id, received_from) REFERENCES staff_members(tenant_id, person_id);
recordings recordings_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
refunds refunds_amount_minor_check CHECK ((amount_minor > 0));
refunds refunds_check CHECK (((fee_kept_minor >= 0) AND (fee_kept_minor <= amount_minor)));
refunds refunds_check1 CHECK ((num_nonnulls(payment_id, credit_note_id) = 1));
refunds refunds_check2 CHECK (((fee_kept_minor = 0) OR (payment_id IS NOT NULL)));
refunds refunds_method_check CHECK ((method = ANY (ARRAY['check'::text, 'card'::text, 'ach'::text, 'cash'::text])));
refunds refunds_pkey PRIMARY KEY (tenant_id, id);
refunds refunds_reference_check CHECK ((length(reference) <= 80));
refunds refunds_tenant_id_account_id_credit_note_id_fkey FOREIGN KEY (tenant_id, account_id, credit_note_id) REFERENCES credit_notes(tenant_id, account_id, id);
refunds refunds_tenant_id_account_id_payment_id_fkey FOREIGN KEY (tenant_id, account_id, payment_id) REFERENCES payments(tenant_id, account_id, id);
refunds refunds_tenant_id_recorded_by_fkey FOREIGN KEY (tenant_id, recorded_by) REFERENCES people(tenant_id, id);
registry.memberships memberships_join_code_hash_check CHECK ((join_code_hash ~ '^[0-9a-f]{64}$'::text));
registry.memberships memberships_once UNIQUE NULLS NOT DISTINCT (user_id, tenant_id, account_id);
registry.memberships memberships_pkey PRIMARY KEY (id);
registry.memberships memberships_tenant_id_fkey FOREIGN KEY (tenant_id) REFERENCES registry.tenants(id);
registry.memberships memberships_user_id_fkey FOREIGN KEY (user_id) REFERENCES registry.users(id);
registry.sessions sessions_id_hash_check CHECK ((id_hash ~ '^[0-9a-f]{64}$'::text));
registry.sessions sessions_membership_id_fkey FOREIGN KEY (membership_id) REFERENCES registry.memberships(id);
registry.sessions sessions_pkey PRIMARY KEY (id_hash);
registry.sessions sessions_user_id_fkey FOREIGN KEY (user_id) REFERENCES registry.users(id);
registry.sign_in_failures sign_in_failures_pkey PRIMARY KEY (key_hash);
registry.tenants tenants_name_check CHECK (((length(name) >= 1) AND (length(name) <= 200)));
registry.tenants tenants_pkey PRIMARY KEY (id);
registry.users users_email_check CHECK (((email = lower(email)) AND ((length(email) >= 3) AND (length(email) <= 254))));
registry.users users_email_once UNIQUE (email);
registry.users users_pkey PRIMARY KEY (id);
replacement_quotes replacement_quotes_amount_minor_check CHECK ((amount_minor > 0));
replacement_quotes replacement_quotes_check CHECK ((superseded_at >= given_at));
replacement_quotes replacement_quotes_check1 CHECK (((part <> ''::text) OR (side = ''::text)));
replacement_quotes replacement_quotes_check2 CHECK (((origin = 'last_time'::text) = (taken_from_id IS NOT NULL)));
replacement_quotes replacement_quotes_check3 CHECK ((num_nulls(part_minor, fitting_hours, hourly_minor) = ANY (ARRAY[0, 3])));
replacement_quotes replacement_quotes_check4 CHECK (((part_minor IS NULL) OR ((amount_minor)::numeric = ((part_minor)::numeric + round(((hourly_minor)::numeric * fitting_hours))))));
replacement_quotes replacement_quotes_fitting_hours_check CHECK ((fitting_hours > (0)::numeric));
replacement_quotes replacement_quotes_hourly_minor_check CHECK ((hourly_minor > 0));
replacement_quotes replacement_quotes_note_check CHECK ((length(note) <= 500));
replacement_quotes replacement_quotes_origin_check CHECK ((origin = ANY (ARRAY['typed'::text, 'last_time'::text])));
replacement_quotes replacement_quotes_part_minor_check CHECK ((part_minor > 0));
replacement_quotes replacement_quotes_pkey PRIMARY KEY (tenant_id, id);
replacement_quotes replacement_quotes_tenant_id_given_by_fkey FOREIGN KEY (tenant_id, given_by) REFERENCES staff_members(tenant_id, person_id);
replacement_quotes replacement_quotes_tenant_id_taken_from_id_fkey FOREIGN KEY (tenant_id, taken_from_id) REFERENCES replacement_quotes(tenant_id, id);
replacement_quotes replacement_quotes_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
retention_rules retention_rules_check CHECK (((period IS NULL) = (unit IS NULL)));
retention_rules retention_rules_check1 CHECK ((effective_at >= set_at));
retention_rules retention_rules_check2 CHECK (((period IS NULL) OR ((kept_through('2001-01-01'::date, period, unit) >= kept_through('2001-01-01'::date,
CASE kind
    WHEN 'recordings'::text THEN 90
    WHEN 'documents'::text THEN 1095
    ELSE 365
END, 'days'::text)) AND (kept_through('2001-01-01'::date, period, unit) <= kept_through('2001-01-01'::date, 50, 'years'::text)))));
retention_rules retention_rules_kind_check CHECK ((kind = ANY (ARRAY['photos'::text, 'recordings'::text, 'documents'::text, 'mails'::text])));
retention_rules retention_rules_number_check CHECK ((number > 0));
retention_rules retention_rules_period_check CHECK ((period > 0));
retention_rules retention_rules_pkey PRIMARY KEY (tenant_id, id);
retention_rules retention_rules_reason_check CHECK ((length(reason) <= 500));
retention_rules retention_rules_tenant_id_kind_number_key UNIQUE (tenant_id, kind, number);
retention_rules retention_rules_tenant_id_set_by_fkey FOREIGN KEY (tenant_id, set_by) REFERENCES staff_members(tenant_id, person_id);
retention_rules retention_rules_unit_check CHECK ((unit = ANY (ARRAY['days'::text, 'years'::text])));
retention_switches retention_switches_number_check CHECK ((number > 0));
retention_switches retention_switches_pkey PRIMARY KEY (tenant_id, id);
retention_switches retention_switches_tenant_id_number_key UNIQUE (tenant_id, number);
retention_switches retention_switches_tenant_id_set_by_fkey FOREIGN KEY (tenant_id, set_by) REFERENCES staff_members(tenant_id, person_id);
seal_days seal_days_check CHECK ((cardinality(leaves) = size));
seal_days seal_days_check1 CHECK ((sha256 = encode(sha256(convert_to(text, 'UTF8'::name)), 'hex'::text)));
seal_days seal_days_check2 CHECK (((number = 1) = (previous IS NULL)));
seal_days seal_days_check3 CHECK ((num_nulls(audit_number, audit_sha256) = ANY (ARRAY[0, 2])));
seal_days seal_days_check4 CHECK (((((text)::jsonb ->> 'format'::text) = 'seal-day-1'::text) AND (((text)::jsonb ->> 'tenant'::text) = (tenant_id)::text) AND (((text)::jsonb ->> 'day'::text) = to_char((day)::timestamp with time zone, 'YYYY-MM-DD'::text)) AND (((text)::jsonb ->> 'firstNumber'::text) = (first_number)::text) AND (((text)::jsonb ->> 'size'::text) = (size)::text) AND (((text)::jsonb ->> 'root'::text) = root) AND (NOT (((text)::jsonb ->> 'previous'::text) IS DISTINCT FROM previous)) AND (NOT (((text)::jsonb #>> '{audit,number}'::text[]) IS DISTINCT FROM (audit_number)::text)) AND (NOT (((text)::jsonb #>> '{audit,sha256}'::text[]) IS DISTINCT FROM audit_sha256)) AND (((text)::jsonb ->> 'key'::text) = key_id)));
seal_days seal_days_first_number_check CHECK ((first_number > 0));
seal_days seal_days_number_check CHECK ((number > 0));
seal_days seal_days_pkey PRIMARY KEY (tenant_id, day);
seal_days seal_days_root_check CHECK ((root ~ '^[0-9a-f]{64}$'::text));
seal_days seal_days_signature_check CHECK ((signature ~ '^[0-9a-f]{128}$'::text));
seal_days seal_days_size_check CHECK ((size > 0));
seal_days seal_days_tenant_id_key_id_fkey FOREIGN KEY (tenant_id, key_id) REFERENCES signing_keys(tenant_id, key_id);
seal_days seal_days_tenant_id_number_key UNIQUE (tenant_id, number);
seal_requests seal_requests_kind_check CHECK ((kind = ANY (ARRAY['approval'::text, 'acceptance'::text, 'release'::text, 'credit'::text, 'rework'::text, 'key'::text])));
seal_requests seal_requests_pkey PRIMARY KEY (tenant_id, kind, subject_id);
seal_requests seal_requests_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
seal_requests seal_requests_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
seal_requests tells_sealer TRIGGER DEFERRABLE INITIALLY DEFERRED;
seals seals_check CHECK ((sha256 = encode(sha256(convert_to(text, 'UTF8'::name)), 'hex'::text)));
seals seals_check1 CHECK ((content_sha256 = encode(sha256(convert_to(content, 'UTF8'::name)), 'hex'::text)));
seals seals_check2 CHECK (((withheld IS NULL) OR (((content)::jsonb ->> 'withheldDigest'::text) = encode(sha256(convert_to(withheld, 'UTF8'::name)), 'hex'::text))));
seals seals_check3 CHECK (((number = 1) = (previous IS NULL)));
seals seals_check4 CHECK (((((text)::jsonb ->> 'format'::text) = 'seal-1'::text) AND (((text)::jsonb ->> 'tenant'::text) = (tenant_id)::text) AND (((text)::jsonb ->> 'number'::text) = (number)::text) AND (NOT (((text)::jsonb ->> 'previous'::text) IS DISTINCT FROM previous)) AND (((text)::jsonb ->> 'kind'::text) = kind) AND (((text)::jsonb ->> 'subject'::text) = (subject_id)::text) AND (NOT (((text)::jsonb ->> 'workOrder'::text) IS DISTINCT FROM (work_order_id)::text)) AND (((text)::jsonb ->> 'content'::text) = content_sha256) AND (((text)::jsonb ->> 'key'::text) = key_id)));
seals seals_number_check CHECK ((number > 0));
seals seals_pkey PRIMARY KEY (tenant_id, number);
seals seals_signature_check CHECK ((signature ~ '^[0-9a-f]{128}$'::text));
seals seals_tenant_id_account_id_work_order_id_fkey FOREIGN KEY (tenant_id, account_id, work_order_id) REFERENCES work_orders(tenant_id, account_id, id);
seals seals_tenant_id_key_id_fkey FOREIGN KEY (tenant_id, key_id) REFERENCES signing_keys(tenant_id, key_id);
seals seals_tenant_id_kind_subject_id_fkey FOREIGN KEY (tenant_id, kind, subject_id) REFERENCES seal_requests(tenant_id, kind, subject_id);
seals seals_tenant_id_kind_subject_id_key UNIQUE (tenant_id, kind, subject_id);
seam_releases seam_releases_pkey PRIMARY KEY (tenant_id, id);
seam_releases seam_releases_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
seam_releases seam_releases_tenant_id_released_by_fkey FOREIGN KEY (tenant_id, released_by) REFERENCES staff_members(tenant_id, person_id);
seam_releases seam_releases_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
seam_releases seam_releases_tenant_id_work_order_id_line_id_part_side_key UNIQUE (tenant_id, work_order_id, line_id, part, side);
signing_keys signing_keys_cause_check CHECK ((cause = ANY (ARRAY['first'::text, 'rotated'::text, 'secret_changed'::text])));
signing_keys signing_keys_check CHECK ((key_id = encode(sha256(decode(public_key, 'hex'::text)), 'hex'::text)));
signing_keys signing_keys_check1 CHECK (((cause = 'first'::text) = (number = 1)));
signing_keys signing_keys_check2 CHECK (((cause = 'rotated'::text) = (made_by IS NOT NULL)));
signing_keys signing_keys_number_check CHECK ((number > 0));
signing_keys signing_keys_pkey PRIMARY KEY (tenant_id, id);
signing_keys signing_keys_public_key_check CHECK ((public_key ~ '^[0-9a-f]{64}$'::text));
signing_keys signing_keys_salt_check CHECK ((salt ~ '^[0-9a-f]{64}$'::text));
signing_keys signing_keys_tenant_id_key_id_key UNIQUE (tenant_id, key_id);
signing_keys signing_keys_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES staff_members(tenant_id, person_id);
signing_keys signing_keys_tenant_id_number_key UNIQUE (tenant_id, number);
sites sites_miles_check CHECK ((miles >= (0)::numeric));
sites sites_name_check CHECK (((length(name) >= 1) AND (length(name) <= 200)));
sites sites_pkey PRIMARY KEY (tenant_id, id);
sites sites_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
sites sites_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
staff_members staff_members_pkey PRIMARY KEY (tenant_id, person_id);
staff_members staff_members_role_check CHECK ((role = ANY (ARRAY['owner'::text, 'office'::text, 'technician'::text, 'bookkeeper'::text])));
staff_members staff_members_short_name_check CHECK (((length(short_name) >= 1) AND (length(short_name) <= 12)));
staff_members staff_members_tenant_id_person_id_fkey FOREIGN KEY (tenant_id, person_id) REFERENCES people(tenant_id, id);
standing_approvals standing_approvals_check CHECK ((valid_to >= (valid_from - 1)));
standing_approvals standing_approvals_check1 CHECK ((num_nonnulls(per_vehicle_minor, per_visit_minor, per_month_minor) > 0));
standing_approvals standing_approvals_note_check CHECK (((length(note) >= 1) AND (length(note) <= 500)));
standing_approvals standing_approvals_per_month_minor_check CHECK ((per_month_minor > 0));
standing_approvals standing_approvals_per_vehicle_minor_check CHECK ((per_vehicle_minor > 0));
standing_approvals standing_approvals_per_visit_minor_check CHECK ((per_visit_minor > 0));
standing_approvals standing_approvals_pkey PRIMARY KEY (tenant_id, id);
standing_approvals standing_approvals_tenant_id_account_id_daterange_excl EXCLUDE USING gist (tenant_id WITH =, account_id WITH =, daterange(valid_from, (valid_to + 1), '[)'::text) WITH &&);
standing_approvals standing_approvals_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
standing_approvals standing_approvals_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
standing_approvals standing_approvals_tenant_id_set_by_fkey FOREIGN KEY (tenant_id, set_by) REFERENCES staff_members(tenant_id, person_id);
statement_files statement_files_bytes_check CHECK ((bytes > 0));
statement_files statement_files_kind_check CHECK ((kind = ANY (ARRAY['pdf'::text, 'csv'::text])));
statement_files statement_files_pkey PRIMARY KEY (tenant_id, statement_id, kind);
statement_files statement_files_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
statement_files statement_files_tenant_id_statement_id_fkey FOREIGN KEY (tenant_id, statement_id) REFERENCES statements(tenant_id, id);
statement_run_accounts statement_run_accounts_check CHECK (((statement_id IS NOT NULL) = (state = ANY (ARRAY['issued'::text, 'issued_before'::text]))));
statement_run_accounts statement_run_accounts_check1 CHECK (((problem <> ''::text) = (state = 'failed'::text)));
statement_run_accounts statement_run_accounts_pkey PRIMARY KEY (tenant_id, run_id, account_id);
statement_run_accounts statement_run_accounts_state_check CHECK ((state = ANY (ARRAY['waiting'::text, 'issued'::text, 'issued_before'::text, 'nothing_to_tell'::text, 'failed'::text])));
statement_run_accounts statement_run_accounts_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
statement_run_accounts statement_run_accounts_tenant_id_account_id_statement_id_fkey FOREIGN KEY (tenant_id, account_id, statement_id) REFERENCES statements(tenant_id, account_id, id);
statement_run_accounts statement_run_accounts_tenant_id_run_id_fkey FOREIGN KEY (tenant_id, run_id) REFERENCES statement_runs(tenant_id, id);
statement_runs statement_runs_month_check CHECK ((EXTRACT(day FROM month) = (1)::numeric));
statement_runs statement_runs_pkey PRIMARY KEY (tenant_id, id);
statement_runs statement_runs_tenant_id_asked_by_fkey FOREIGN KEY (tenant_id, asked_by) REFERENCES people(tenant_id, id);
statements statements_check CHECK ((sha256 = encode(sha256(convert_to(content, 'UTF8'::name)), 'hex'::text)));
statements statements_check1 CHECK (((((opening_minor + charges_minor) - credits_minor) - payments_minor) = closing_minor));
statements statements_kind_check CHECK ((kind = ANY (ARRAY['open_item'::text, 'balance_forward'::text])));
statements statements_month_check CHECK ((EXTRACT(day FROM month) = (1)::numeric));
statements statements_pkey PRIMARY KEY (tenant_id, id);
statements statements_posting_check CHECK ((posting >= 0));
statements statements_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
statements statements_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
statements statements_tenant_id_account_id_month_key UNIQUE (tenant_id, account_id, month);
statements statements_tenant_id_account_id_previous_id_fkey FOREIGN KEY (tenant_id, account_id, previous_id) REFERENCES statements(tenant_id, account_id, id);
statements statements_tenant_id_issued_by_fkey FOREIGN KEY (tenant_id, issued_by) REFERENCES people(tenant_id, id);
statements statements_tenant_id_previous_id_key UNIQUE (tenant_id, previous_id);
stop_points stop_points_note_check CHECK (((length(note) >= 1) AND (length(note) <= 500)));
stop_points stop_points_pkey PRIMARY KEY (tenant_id, id);
stop_points stop_points_tenant_id_made_by_fkey FOREIGN KEY (tenant_id, made_by) REFERENCES staff_members(tenant_id, person_id);
stop_points stop_points_tenant_id_work_order_id_line_id_fkey FOREIGN KEY (tenant_id, work_order_id, line_id) REFERENCES work_order_lines(tenant_id, work_order_id, id);
stop_points stop_points_tenant_id_work_order_id_photo_id_fkey FOREIGN KEY (tenant_id, work_order_id, photo_id) REFERENCES photos(tenant_id, work_order_id, id);
tax_areas tax_areas_code_check CHECK (((length(code) >= 1) AND (length(code) <= 20)));
tax_areas tax_areas_pkey PRIMARY KEY (tenant_id, id);
tax_areas tax_areas_tenant_id_code_key UNIQUE (tenant_id, code);
tax_classes tax_classes_check CHECK ((valid_to >= valid_from));
tax_classes tax_classes_no_overlap EXCLUDE USING gist (tenant_id WITH =, tax_area_id WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
tax_classes tax_classes_pkey PRIMARY KEY (tenant_id, id);
tax_classes tax_classes_taxable_check CHECK ((taxable <@ ARRAY['labor'::text, 'materials'::text, 'trip'::text, 'fee'::text]));
tax_classes tax_classes_tenant_id_tax_area_id_fkey FOREIGN KEY (tenant_id, tax_area_id) REFERENCES tax_areas(tenant_id, id);
tax_rates tax_rates_check CHECK ((valid_to >= valid_from));
tax_rates tax_rates_component_check CHECK (((length(component) >= 1) AND (length(component) <= 40)));
tax_rates tax_rates_no_overlap EXCLUDE USING gist (tenant_id WITH =, tax_area_id WITH =, component WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
tax_rates tax_rates_pkey PRIMARY KEY (tenant_id, id);
tax_rates tax_rates_rate_percent_check CHECK (((rate_percent >= (0)::numeric) AND (rate_percent < (100)::numeric)));
tax_rates tax_rates_tenant_id_tax_area_id_fkey FOREIGN KEY (tenant_id, tax_area_id) REFERENCES tax_areas(tenant_id, id);
tier_prices tier_prices_check CHECK ((valid_to >= valid_from));
tier_prices tier_prices_no_overlap EXCLUDE USING gist (tenant_id WITH =, tier_code WITH =, code WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
tier_prices tier_prices_pkey PRIMARY KEY (tenant_id, id);
tier_prices tier_prices_price_minor_check CHECK ((price_minor > 0));
tier_prices tier_prices_tenant_id_tier_code_fkey FOREIGN KEY (tenant_id, tier_code) REFERENCES tiers(tenant_id, code);
tier_terms tier_terms_check CHECK ((valid_to >= valid_from));
tier_terms tier_terms_check1 CHECK (((vehicle_cap_minor > 0) AND (vehicle_cap_minor >= vehicle_minimum_minor)));
tier_terms tier_terms_discount_percent_check CHECK (((discount_percent >= (0)::numeric) AND (discount_percent <= (100)::numeric)));
tier_terms tier_terms_no_overlap EXCLUDE USING gist (tenant_id WITH =, tier_code WITH =, daterange(valid_from, valid_to, '[]'::text) WITH &&);
tier_terms tier_terms_pkey PRIMARY KEY (tenant_id, id);
tier_terms tier_terms_tenant_id_tier_code_fkey FOREIGN KEY (tenant_id, tier_code) REFERENCES tiers(tenant_id, code);
tier_terms tier_terms_trip_waived_from_minor_check CHECK ((trip_waived_from_minor > 0));
tier_terms tier_terms_vehicle_minimum_minor_check CHECK ((vehicle_minimum_minor >= 0));
tier_terms tier_terms_visit_minimum_minor_check CHECK ((visit_minimum_minor >= 0));
tiers tiers_code_check CHECK ((code ~ '^[a-z_]{1,20}$'::text));
tiers tiers_pkey PRIMARY KEY (tenant_id, code);
upload_parts upload_parts_bytes_check CHECK ((bytes > 0));
upload_parts upload_parts_part_offset_check CHECK ((part_offset >= 0));
upload_parts upload_parts_pkey PRIMARY KEY (tenant_id, upload_id, part_offset);
upload_parts upload_parts_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
upload_parts upload_parts_tenant_id_upload_id_fkey FOREIGN KEY (tenant_id, upload_id) REFERENCES uploads(tenant_id, id) ON DELETE CASCADE;
uploads uploads_bytes_check CHECK ((bytes > 0));
uploads uploads_check CHECK (((used_for IS NULL) = (used_at IS NULL)));
uploads uploads_media_type_check CHECK (((length(media_type) >= 3) AND (length(media_type) <= 100)));
uploads uploads_pkey PRIMARY KEY (tenant_id, id);
uploads uploads_sha256_check CHECK ((sha256 ~ '^[0-9a-f]{64}$'::text));
uploads uploads_tenant_id_person_id_fkey FOREIGN KEY (tenant_id, person_id) REFERENCES staff_members(tenant_id, person_id);
vehicles vehicles_last_eight_check CHECK ((last_eight ~ '^[A-HJ-NPR-Z0-9]{8}$'::text));
vehicles vehicles_model_year_check CHECK (((model_year >= 1900) AND (model_year <= 2100)));
vehicles vehicles_pkey PRIMARY KEY (tenant_id, id);
vehicles vehicles_tenant_id_account_id_fkey FOREIGN KEY (tenant_id, account_id) REFERENCES accounts(tenant_id, id);
vehicles vehicles_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
vehicles vehicles_vin_check CHECK ((vin ~ '^[A-HJ-NPR-Z0-9]{17}$'::text));
visit_signatures visit_signatures_pkey PRIMARY KEY (tenant_id, id);
visit_signatures visit_signatures_shown_digest_check CHECK ((shown_digest ~ '^[0-9a-f]{64}$'::text));
visit_signatures visit_signatures_tenant_id_account_id_visit_id_fkey FOREIGN KEY (tenant_id, account_id, visit_id) REFERENCES visits(tenant_id, account_id, id);
visit_signatures visit_signatures_tenant_id_taken_by_fkey FOREIGN KEY (tenant_id, taken_by) REFERENCES staff_members(tenant_id, person_id);
visits visits_miles_check CHECK ((miles >= (0)::numeric));
visits visits_one_of_a_day UNIQUE (tenant_id, site_id, technician_id, day, after_hours, rush);
visits visits_pkey PRIMARY KEY (tenant_id, id);
visits visits_position_check CHECK (("position" > 0));
visits visits_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
visits visits_tenant_id_account_id_site_id_fkey FOREIGN KEY (tenant_id, account_id, site_id) REFERENCES sites(tenant_id, account_id, id);
visits visits_tenant_id_technician_id_fkey FOREIGN KEY (tenant_id, technician_id) REFERENCES staff_members(tenant_id, person_id);
work_order_lines work_order_lines_by_hand_materials_percent_check CHECK (((by_hand_materials_percent >= (0)::numeric) AND (by_hand_materials_percent <= (100)::numeric)));
work_order_lines work_order_lines_by_hand_minor_check CHECK ((by_hand_minor > 0));
work_order_lines work_order_lines_check CHECK (((by_hand_minor IS NULL) OR (by_hand_reason IS NOT NULL)));
work_order_lines work_order_lines_check1 CHECK (((by_hand_by IS NULL) OR (by_hand_minor IS NOT NULL)));
work_order_lines work_order_lines_layers_check CHECK (((layers >= 0) AND (layers <= 50)));
work_order_lines work_order_lines_measured_inches_check CHECK ((measured_inches > (0)::numeric));
work_order_lines work_order_lines_note_check CHECK ((length(note) <= 2000));
work_order_lines work_order_lines_pkey PRIMARY KEY (tenant_id, id);
work_order_lines work_order_lines_position_check CHECK (("position" > 0));
work_order_lines work_order_lines_tenant_id_by_hand_by_fkey FOREIGN KEY (tenant_id, by_hand_by) REFERENCES people(tenant_id, id);
work_order_lines work_order_lines_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
work_order_lines work_order_lines_tenant_id_work_order_id_id_key UNIQUE (tenant_id, work_order_id, id);
work_order_lines work_order_lines_tenant_id_work_order_id_position_key UNIQUE (tenant_id, work_order_id, "position");
work_order_lines work_order_lines_visible_when_check CHECK ((length(visible_when) <= 200));
work_order_steps work_order_steps_check CHECK (((person_id IS NOT NULL) OR (event = ANY (ARRAY['accepted'::text, 'reworked_done'::text, 'not_accepted'::text]))));
work_order_steps work_order_steps_pkey PRIMARY KEY (tenant_id, id);
work_order_steps work_order_steps_tenant_id_person_id_fkey FOREIGN KEY (tenant_id, person_id) REFERENCES people(tenant_id, id);
work_order_steps work_order_steps_tenant_id_work_order_id_fkey FOREIGN KEY (tenant_id, work_order_id) REFERENCES work_orders(tenant_id, id);
work_orders work_orders_airbag_lamp_after_check CHECK ((airbag_lamp_after = ANY (ARRAY['on'::text, 'off'::text])));
work_orders work_orders_airbag_lamp_before_check CHECK ((airbag_lamp_before = ANY (ARRAY['on'::text, 'off'::text])));
work_orders work_orders_check CHECK (((rework_of_id IS DISTINCT FROM id) AND (duplicate_of_id IS DISTINCT FROM id)));
work_orders work_orders_check1 CHECK (((rework_of_id IS NULL) = (rework_reason IS NULL)));
work_orders work_orders_check2 CHECK (((void_reason IS NULL) OR (state = 'void'::text)));
work_orders work_orders_check3 CHECK (((duplicate_of_id IS NULL) OR (void_reason = 'duplicate'::text)));
work_orders work_orders_check4 CHECK (((no_show_fee_minor IS NULL) OR (void_reason = 'vehicle_not_there'::text)));
work_orders work_orders_check5 CHECK ((made_at <= written_up_at));
work_orders work_orders_materials_cost_minor_check CHECK ((materials_cost_minor >= 0));
work_orders work_orders_no_show_fee_minor_check CHECK ((no_show_fee_minor > 0));
work_orders work_orders_odometer_miles_check CHECK ((odometer_miles >= 0));
work_orders work_orders_own_number_check CHECK ((length(own_number) <= 40));
work_orders work_orders_owner_name_check CHECK ((length(owner_name) <= 200));
work_orders work_orders_owner_phone_check CHECK ((length(owner_phone) <= 40));
work_orders work_orders_pkey PRIMARY KEY (tenant_id, id);
work_orders work_orders_po_number_check CHECK ((length(po_number) <= 40));
work_orders work_orders_rework_reason_check CHECK ((rework_reason = ANY (ARRAY['finish'::text, 'color'::text, 'texture'::text, 'came_loose'::text, 'other'::text])));
work_orders work_orders_ro_number_check CHECK ((length(ro_number) <= 40));
work_orders work_orders_state_check CHECK ((state = ANY (ARRAY['written_up'::text, 'awaiting_approval'::text, 'approved'::text, 'in_work'::text, 'done'::text, 'accepted'::text, 'invoiced'::text, 'paid'::text, 'declined'::text, 'void'::text, 'written_off'::text])));
work_orders work_orders_technician_minutes_check CHECK (((technician_minutes >= 1) AND (technician_minutes <= 10000)));
work_orders work_orders_tenant_id_account_id_id_key UNIQUE (tenant_id, account_id, id);
work_orders work_orders_tenant_id_account_id_rework_of_id_fkey FOREIGN KEY (tenant_id, account_id, rework_of_id) REFERENCES work_orders(tenant_id, account_id, id);
work_orders work_orders_tenant_id_account_id_vehicle_id_fkey FOREIGN KEY (tenant_id, account_id, vehicle_id) REFERENCES vehicles(tenant_id, account_id, id);
work_orders work_orders_tenant_id_account_id_visit_id_fkey FOREIGN KEY (tenant_id, account_id, visit_id) REFERENCES visits(tenant_id, account_id, id);
work_orders work_orders_tenant_id_duplicate_of_id_fkey FOREIGN KEY (tenant_id, duplicate_of_id) REFERENCES work_orders(tenant_id, id);
work_orders work_orders_tenant_id_id_current_version_id_fkey FOREIGN KEY (tenant_id, id, current_version_id) REFERENCES estimate_versions(tenant_id, work_order_id, id);
work_orders work_orders_tenant_id_id_decision_id_fkey FOREIGN KEY (tenant_id, id, decision_id) REFERENCES decisions(tenant_id, work_order_id, id);
work_orders work_orders_tenant_id_number_key UNIQUE (tenant_id, number);
work_orders work_orders_vehicle_as_written_check CHECK ((jsonb_typeof(vehicle_as_written) = 'object'::text));
work_orders work_orders_void_note_check CHECK ((length(void_note) <= 500));
work_orders work_orders_void_reason_check CHECK ((void_reason = ANY (ARRAY['duplicate'::text, 'vehicle_not_there'::text, 'written_in_error'::text, 'other'::text])));
write_off_recoveries write_off_recoveries_pkey PRIMARY KEY (tenant_id, write_off_id);
write_off_recoveries write_off_recoveries_reason_check CHECK (((length(reason) >= 1) AND (length(reason) <= 500)));
write_off_recoveries write_off_recoveries_tenant_id_recovered_by_fkey FOREIGN KEY (tenant_id, recovered_by) REFERENCES people(tenant_id, id);
write_off_recoveries write_off_recoveries_tenant_id_write_off_id_fkey FOREIGN KEY (tenant_id, write_off_id) REFERENCES write_offs(tenant_id, id);
write_off_taxes write_off_taxes_pkey PRIMARY KEY (tenant_id, write_off_id, "position");
write_off_taxes write_off_taxes_tax_minor_check CHECK ((tax_minor > 0));
write_off_taxes write_off_taxes_tenant_id_write_off_id_fkey FOREIGN KEY (tenant_id, write_off_id) REFERENCES write_offs(tenant_id, id);
write_offs write_offs_amount_minor_check CHECK ((amount_minor > 0));
write_offs write_offs_check CHECK (((kind = 'small_difference'::text) OR (reason <> ''::text)));
write_offs write_offs_kind_check CHECK ((kind = ANY (ARRAY['bad_debt'::text, 'small_difference'::text])));
write_offs write_offs_pkey PRIMARY KEY (tenant_id, id);
write_offs write_offs_reason_check CHECK ((length(reason) <= 500));
write_offs write_offs_tenant_id_account_id_invoice_id_fkey FOREIGN KEY (tenant_id, account_id, invoice_id) REFERENCES invoices(tenant_id, account_id, id);
write_offs write_offs_tenant_id_written_off_by_fkey FOREIGN KEY (tenant_id, written_off_by) REFERENCES people(tenant_id, id);

-- indexes
CREATE INDEX acceptance_copies_by_acceptance ON public.acceptance_copies USING btree (tenant_id, acceptance_id, given_at);
CREATE INDEX acceptance_copies_by_link ON public.acceptance_copies USING btree (tenant_id, link_id) WHERE (link_id IS NOT NULL);
CREATE INDEX acceptance_copies_by_work_order ON public.acceptance_copies USING btree (tenant_id, work_order_id);
CREATE INDEX acceptance_requests_by_work_order ON public.acceptance_requests USING btree (tenant_id, work_order_id);
CREATE INDEX acceptance_requests_open ON public.acceptance_requests USING btree (tenant_id) WHERE (unanswered_at IS NULL);
CREATE INDEX acceptances_by_signature_key ON public.acceptances USING btree (tenant_id, signature_key) WHERE (signature_key IS NOT NULL);
CREATE INDEX acceptances_by_work_order ON public.acceptances USING btree (tenant_id, work_order_id, accepted_at DESC, id);
CREATE INDEX access_links_by_work_order ON public.access_links USING btree (tenant_id, work_order_id);
CREATE INDEX access_links_of_person ON public.access_links USING btree (tenant_id, account_id, person_id) WHERE (revoked_at IS NULL);
CREATE INDEX account_prices_no_overlap ON public.account_prices USING gist (tenant_id, account_id, code, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX approval_asks_by_person ON public.approval_asks USING btree (tenant_id, account_id, person_id);
CREATE INDEX approval_asks_by_work_order ON public.approval_asks USING btree (tenant_id, work_order_id, asked_at);
CREATE INDEX approval_delegations_by_account ON public.approval_delegations USING btree (tenant_id, account_id, valid_to);
CREATE INDEX approval_delegations_by_delegate ON public.approval_delegations USING btree (tenant_id, account_id, to_person, valid_to);
CREATE INDEX audit_records_by_subject ON public.audit_records USING btree (tenant_id, subject_id, at);
CREATE INDEX audit_records_numbers_given ON public.audit_records USING btree (tenant_id, at) WHERE (action = 'numbers_given'::text);
CREATE INDEX billed_work_orders_by_invoice ON public.billed_work_orders USING btree (tenant_id, invoice_id);
CREATE INDEX care_percents_no_overlap ON public.care_percents USING gist (tenant_id, factor_code, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX certificates_by_account ON public.certificates USING btree (tenant_id, account_id);
CREATE INDEX clearing_movements_by_day ON public.clearing_movements USING btree (tenant_id, occurred_on, id);
CREATE INDEX commission_rates_tenant_id_person_id_daterange_excl ON public.commission_rates USING gist (tenant_id, person_id, daterange(valid_from, (valid_to + 1), '[)'::text));
CREATE INDEX contracts_no_overlap ON public.contracts USING gist (tenant_id, account_id, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX covered_copies_by_storage_key ON public.covered_copies USING btree (tenant_id, storage_key);
CREATE INDEX credit_moves_by_credit_note ON public.credit_moves USING btree (tenant_id, credit_note_id);
CREATE INDEX credit_moves_by_payment ON public.credit_moves USING btree (tenant_id, payment_id);
CREATE INDEX credit_moves_by_receiver ON public.credit_moves USING btree (tenant_id, to_payment_id);
CREATE INDEX credit_note_applications_by_invoice ON public.credit_note_applications USING btree (tenant_id, invoice_id);
CREATE INDEX credit_note_applications_by_note ON public.credit_note_applications USING btree (tenant_id, credit_note_id);
CREATE INDEX credit_note_lines_by_work_order ON public.credit_note_lines USING btree (tenant_id, work_order_id);
CREATE INDEX credit_notes_by_account ON public.credit_notes USING btree (tenant_id, account_id, sequence);
CREATE INDEX credit_notes_by_day ON public.credit_notes USING btree (tenant_id, issued_on);
CREATE INDEX credit_notes_by_invoice ON public.credit_notes USING btree (tenant_id, invoice_id, sequence);
CREATE INDEX decisions_by_moment ON public.decisions USING btree (tenant_id, decided_at);
CREATE INDEX decisions_by_rule ON public.decisions USING btree (tenant_id, account_id, rule_day) WHERE (given = 'by_rule'::text);
CREATE INDEX decisions_by_work_order ON public.decisions USING btree (tenant_id, work_order_id, decided_at);
CREATE INDEX deletions_latest ON public.deletions USING btree (tenant_id, deleted_at DESC, id DESC);
CREATE INDEX discounts_taken_by_invoice ON public.discounts_taken USING btree (tenant_id, invoice_id);
CREATE INDEX disputes_by_account ON public.disputes USING btree (tenant_id, account_id, opened_on);
CREATE INDEX disputes_by_invoice ON public.disputes USING btree (tenant_id, invoice_id);
CREATE INDEX handed_in_certificates_latest ON public.handed_in_certificates USING btree (tenant_id, account_id, handed_in_at DESC);
CREATE INDEX invoice_balances_open ON public.invoice_balances USING btree (tenant_id, invoice_id) WHERE (open_minor > 0);
CREATE INDEX invoice_lines_by_work_order ON public.invoice_lines USING btree (tenant_id, work_order_id);
CREATE INDEX invoice_lines_fees ON public.invoice_lines USING btree (tenant_id, work_order_id) WHERE (kind = 'fee'::text);
CREATE INDEX invoice_visits_by_area ON public.invoice_visits USING btree (tenant_id, area_code, worked_on);
CREATE INDEX invoice_visits_by_visit ON public.invoice_visits USING btree (tenant_id, visit_id);
CREATE INDEX invoice_voids_by_day ON public.invoice_voids USING btree (tenant_id, voided_on);
CREATE INDEX invoice_work_orders_by_work_order ON public.invoice_work_orders USING btree (tenant_id, work_order_id);
CREATE INDEX invoices_by_account ON public.invoices USING btree (tenant_id, account_id, sequence);
CREATE INDEX invoices_by_day ON public.invoices USING btree (tenant_id, issued_on);
CREATE INDEX invoices_by_visit ON public.invoices USING btree (tenant_id, visit_id);
CREATE INDEX journal_entries_by_day ON public.journal_entries USING btree (tenant_id, occurred_on);
CREATE INDEX journal_lines_by_account ON public.journal_lines USING btree (tenant_id, account_id, entry_id);
CREATE INDEX journal_lines_by_ledger_account ON public.journal_lines USING btree (tenant_id, ledger_account);
CREATE INDEX key_tests_by_work_order ON public.key_tests USING btree (tenant_id, work_order_id, tested_at);
CREATE INDEX legal_holds_by_account ON public.legal_holds USING btree (tenant_id, account_id) WHERE (account_id IS NOT NULL);
CREATE INDEX legal_holds_by_work_order ON public.legal_holds USING btree (tenant_id, work_order_id) WHERE (work_order_id IS NOT NULL);
CREATE INDEX messages_by_author ON public.messages USING btree (tenant_id, author_id, written_at);
CREATE INDEX messages_by_moment ON public.messages USING btree (tenant_id, written_at);
CREATE INDEX messages_by_work_order ON public.messages USING btree (tenant_id, work_order_id, written_at DESC, id DESC);
CREATE INDEX outgoing_mails_about ON public.outgoing_mails USING btree (tenant_id, about_id);
CREATE INDEX outgoing_mails_latest ON public.outgoing_mails USING btree (tenant_id, queued_at DESC, id DESC);
CREATE INDEX parked_receipts_by_day ON public.parked_receipts USING btree (tenant_id, received_on, id);
CREATE INDEX payment_applications_by_invoice ON public.payment_applications USING btree (tenant_id, invoice_id);
CREATE INDEX payment_applications_by_payment ON public.payment_applications USING btree (tenant_id, payment_id);
CREATE INDEX payments_by_account ON public.payments USING btree (tenant_id, account_id, received_on, id);
CREATE INDEX payments_by_day ON public.payments USING btree (tenant_id, received_on, id);
CREATE INDEX payments_deposits ON public.payments USING btree (tenant_id, account_id, received_on, id) WHERE (purpose = 'deposit'::text);
CREATE INDEX photo_checks_by_hash ON public.photo_checks USING btree (tenant_id, hash);
CREATE INDEX photo_derivatives_by_storage_key ON public.photo_derivatives USING btree (tenant_id, storage_key);
CREATE INDEX photo_overrides_by_photo ON public.photo_overrides USING btree (tenant_id, photo_id, made_at);
CREATE INDEX photos_by_digest ON public.photos USING btree (tenant_id, sha256);
CREATE INDEX photos_by_storage_key ON public.photos USING btree (tenant_id, storage_key);
CREATE INDEX photos_by_work_order ON public.photos USING btree (tenant_id, work_order_id, received_at);
CREATE INDEX price_terms_no_overlap ON public.price_terms USING gist (tenant_id, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX rates_no_overlap ON public.rates USING gist (tenant_id, code, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX recording_files_by_storage_key ON public.recording_files USING btree (tenant_id, storage_key);
CREATE INDEX recordings_by_work_order ON public.recordings USING btree (tenant_id, work_order_id, received_at);
CREATE INDEX refunds_by_credit_note ON public.refunds USING btree (tenant_id, credit_note_id);
CREATE INDEX refunds_by_payment ON public.refunds USING btree (tenant_id, payment_id);
CREATE INDEX replacement_quotes_by_part ON public.replacement_quotes USING btree (tenant_id, part, given_at DESC) WHERE (origin = 'typed'::text);
CREATE INDEX seal_requests_waiting ON public.seal_requests USING btree (tenant_id, happened_at, kind, subject_id) WHERE (seal_number IS NULL);
CREATE INDEX seals_by_day ON public.seals USING btree (tenant_id, sealed_on, number);
CREATE INDEX seals_by_work_order ON public.seals USING btree (tenant_id, work_order_id, number);
CREATE INDEX sessions_by_expiry ON registry.sessions USING btree (expires_at);
CREATE INDEX sessions_by_user ON registry.sessions USING btree (user_id);
CREATE INDEX sign_in_failures_by_end ON registry.sign_in_failures USING btree (window_ends_at);
CREATE INDEX standing_approvals_tenant_id_account_id_daterange_excl ON public.standing_approvals USING gist (tenant_id, account_id, daterange(valid_from, (valid_to + 1), '[)'::text));
CREATE INDEX statement_files_by_storage_key ON public.statement_files USING btree (tenant_id, storage_key);
CREATE INDEX statement_run_accounts_waiting ON public.statement_run_accounts USING btree (tenant_id, run_id) WHERE (state = 'waiting'::text);
CREATE INDEX statement_runs_latest ON public.statement_runs USING btree (tenant_id, asked_at DESC, id DESC);
CREATE INDEX stop_points_by_work_order ON public.stop_points USING btree (tenant_id, work_order_id, made_at);
CREATE INDEX tax_classes_no_overlap ON public.tax_classes USING gist (tenant_id, tax_area_id, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX tax_rates_no_overlap ON public.tax_rates USING gist (tenant_id, tax_area_id, component, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX tier_prices_no_overlap ON public.tier_prices USING gist (tenant_id, tier_code, code, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX tier_terms_no_overlap ON public.tier_terms USING gist (tenant_id, tier_code, daterange(valid_from, valid_to, '[]'::text));
CREATE INDEX uploads_unfinished ON public.uploads USING btree (tenant_id, person_id) WHERE (used_at IS NULL);
CREATE INDEX vehicles_by_last_eight ON public.vehicles USING btree (tenant_id, last_eight);
CREATE INDEX vehicles_by_vin ON public.vehicles USING btree (tenant_id, vin);
CREATE INDEX visits_by_day ON public.visits USING btree (tenant_id, day, technician_id);
CREATE INDEX work_order_steps_by_moment ON public.work_order_steps USING btree (tenant_id, happened_at);
CREATE INDEX work_order_steps_in_order ON public.work_order_steps USING btree (tenant_id, work_order_id, happened_at);
CREATE INDEX work_orders_by_account ON public.work_orders USING btree (tenant_id, account_id, number DESC);
CREATE INDEX work_orders_by_own_number ON public.work_orders USING btree (tenant_id, account_id, own_number) WHERE (own_number <> ''::text);
CREATE INDEX work_orders_by_po ON public.work_orders USING btree (tenant_id, account_id, po_number) WHERE (po_number <> ''::text);
CREATE INDEX work_orders_by_ro ON public.work_orders USING btree (tenant_id, account_id, ro_number) WHERE (ro_number <> ''::text);
CREATE INDEX work_orders_by_state ON public.work_orders USING btree (tenant_id, state, number DESC);
CREATE INDEX work_orders_by_vehicle ON public.work_orders USING btree (tenant_id, vehicle_id);
CREATE INDEX work_orders_by_visit ON public.work_orders USING btree (tenant_id, visit_id);
CREATE INDEX work_orders_reworked ON public.work_orders USING btree (tenant_id, rework_of_id) WHERE (rework_of_id IS NOT NULL);
CREATE INDEX write_offs_by_day ON public.write_offs USING btree (tenant_id, written_off_on);
CREATE INDEX write_offs_by_invoice ON public.write_offs USING btree (tenant_id, invoice_id);
CREATE UNIQUE INDEX acceptance_copies_pkey ON public.acceptance_copies USING btree (tenant_id, id, acceptance_id);
CREATE UNIQUE INDEX acceptance_releases_pkey ON public.acceptance_releases USING btree (tenant_id, work_order_id);
CREATE UNIQUE INDEX acceptance_requests_pkey ON public.acceptance_requests USING btree (tenant_id, link_id);
CREATE UNIQUE INDEX acceptances_once ON public.acceptances USING btree (tenant_id, work_order_id) WHERE (outcome <> 'not_accepted'::text);
CREATE UNIQUE INDEX acceptances_once_by_link ON public.acceptances USING btree (tenant_id, link_id) WHERE (link_id IS NOT NULL);
CREATE UNIQUE INDEX acceptances_pkey ON public.acceptances USING btree (tenant_id, id);
CREATE UNIQUE INDEX acceptances_tenant_id_work_order_id_id_key ON public.acceptances USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX access_links_pkey ON public.access_links USING btree (tenant_id, id);
CREATE UNIQUE INDEX access_links_tenant_id_account_id_id_key ON public.access_links USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX access_links_tenant_id_account_id_person_id_id_key ON public.access_links USING btree (tenant_id, account_id, person_id, id);
CREATE UNIQUE INDEX access_links_tenant_id_secret_hash_key ON public.access_links USING btree (tenant_id, secret_hash);
CREATE UNIQUE INDEX access_links_tenant_id_work_order_id_id_key ON public.access_links USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX account_groups_pkey ON public.account_groups USING btree (tenant_id, id);
CREATE UNIQUE INDEX account_groups_tenant_id_name_key ON public.account_groups USING btree (tenant_id, name);
CREATE UNIQUE INDEX account_prices_pkey ON public.account_prices USING btree (tenant_id, id);
CREATE UNIQUE INDEX accounts_pkey ON public.accounts USING btree (tenant_id, id);
CREATE UNIQUE INDEX accounts_tenant_id_short_name_key ON public.accounts USING btree (tenant_id, short_name);
CREATE UNIQUE INDEX approval_asks_once ON public.approval_asks USING btree (tenant_id, version_id, person_id) WHERE (why = ANY (ARRAY['first'::text, 'above_limit'::text, 'delegate'::text]));
CREATE UNIQUE INDEX approval_asks_passed_on_once ON public.approval_asks USING btree (tenant_id, passed_on_id) WHERE (passed_on_id IS NOT NULL);
CREATE UNIQUE INDEX approval_asks_pkey ON public.approval_asks USING btree (tenant_id, id);
CREATE UNIQUE INDEX approval_delegation_ends_pkey ON public.approval_delegation_ends USING btree (tenant_id, delegation_id);
CREATE UNIQUE INDEX approval_delegations_pkey ON public.approval_delegations USING btree (tenant_id, id);
CREATE UNIQUE INDEX approval_delegations_tenant_id_account_id_id_key ON public.approval_delegations USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX approval_delegations_tenant_id_account_id_to_person_id_key ON public.approval_delegations USING btree (tenant_id, account_id, to_person, id);
CREATE UNIQUE INDEX approval_reminders_pkey ON public.approval_reminders USING btree (tenant_id, id);
CREATE UNIQUE INDEX approval_reminders_tenant_id_version_id_person_id_number_key ON public.approval_reminders USING btree (tenant_id, version_id, person_id, number);
CREATE UNIQUE INDEX audit_links_pkey ON public.audit_links USING btree (tenant_id, number);
CREATE UNIQUE INDEX audit_links_tenant_id_audit_id_key ON public.audit_links USING btree (tenant_id, audit_id);
CREATE UNIQUE INDEX audit_records_pkey ON public.audit_records USING btree (tenant_id, id);
CREATE UNIQUE INDEX audit_waiting_pkey ON public.audit_waiting USING btree (tenant_id, audit_id);
CREATE UNIQUE INDEX billed_work_orders_pkey ON public.billed_work_orders USING btree (tenant_id, work_order_id);
CREATE UNIQUE INDEX businesses_pkey ON public.businesses USING btree (tenant_id);
CREATE UNIQUE INDEX care_factors_pkey ON public.care_factors USING btree (tenant_id, code);
CREATE UNIQUE INDEX care_percents_pkey ON public.care_percents USING btree (tenant_id, id);
CREATE UNIQUE INDEX caution_acknowledgments_pkey ON public.caution_acknowledgments USING btree (tenant_id, id);
CREATE UNIQUE INDEX certificate_checks_pkey ON public.certificate_checks USING btree (tenant_id, handed_in_id);
CREATE UNIQUE INDEX certificates_pkey ON public.certificates USING btree (tenant_id, id);
CREATE UNIQUE INDEX certificates_tenant_id_account_id_id_key ON public.certificates USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX chain_heads_pkey ON public.chain_heads USING btree (tenant_id, chain);
CREATE UNIQUE INDEX clearing_movements_pkey ON public.clearing_movements USING btree (tenant_id, id);
CREATE UNIQUE INDEX commission_rates_pkey ON public.commission_rates USING btree (tenant_id, id);
CREATE UNIQUE INDEX contacts_pkey ON public.contacts USING btree (tenant_id, account_id, person_id);
CREATE UNIQUE INDEX contracts_pkey ON public.contracts USING btree (tenant_id, id);
CREATE UNIQUE INDEX covered_copies_pkey ON public.covered_copies USING btree (tenant_id, covering_id, kind);
CREATE UNIQUE INDEX credit_moves_pkey ON public.credit_moves USING btree (tenant_id, id);
CREATE UNIQUE INDEX credit_moves_tenant_id_takes_back_key ON public.credit_moves USING btree (tenant_id, takes_back);
CREATE UNIQUE INDEX credit_note_applications_pkey ON public.credit_note_applications USING btree (tenant_id, id);
CREATE UNIQUE INDEX credit_note_balances_pkey ON public.credit_note_balances USING btree (tenant_id, credit_note_id);
CREATE UNIQUE INDEX credit_note_lines_pkey ON public.credit_note_lines USING btree (tenant_id, credit_note_id, "position");
CREATE UNIQUE INDEX credit_note_tax_bases_pkey ON public.credit_note_tax_bases USING btree (tenant_id, credit_note_id, area_code);
CREATE UNIQUE INDEX credit_note_taxes_pkey ON public.credit_note_taxes USING btree (tenant_id, credit_note_id, "position");
CREATE UNIQUE INDEX credit_notes_pkey ON public.credit_notes USING btree (tenant_id, id);
CREATE UNIQUE INDEX credit_notes_tenant_id_account_id_id_key ON public.credit_notes USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX credit_notes_tenant_id_number_key ON public.credit_notes USING btree (tenant_id, number);
CREATE UNIQUE INDEX credit_notes_tenant_id_sequence_key ON public.credit_notes USING btree (tenant_id, sequence);
CREATE UNIQUE INDEX decision_lines_pkey ON public.decision_lines USING btree (tenant_id, decision_id, line_id);
CREATE UNIQUE INDEX decision_signatures_pkey ON public.decision_signatures USING btree (tenant_id, decision_id);
CREATE UNIQUE INDEX decisions_pkey ON public.decisions USING btree (tenant_id, id);
CREATE UNIQUE INDEX decisions_tenant_id_version_id_key ON public.decisions USING btree (tenant_id, version_id);
CREATE UNIQUE INDEX decisions_tenant_id_work_order_id_id_key ON public.decisions USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX deletion_removals_pkey ON public.deletion_removals USING btree (tenant_id, deletion_id);
CREATE UNIQUE INDEX deletions_pkey ON public.deletions USING btree (tenant_id, id);
CREATE UNIQUE INDEX deletions_tenant_id_kind_subject_id_key ON public.deletions USING btree (tenant_id, kind, subject_id);
CREATE UNIQUE INDEX discounts_taken_pkey ON public.discounts_taken USING btree (tenant_id, id);
CREATE UNIQUE INDEX dispute_answers_pkey ON public.dispute_answers USING btree (tenant_id, dispute_id);
CREATE UNIQUE INDEX disputes_pkey ON public.disputes USING btree (tenant_id, id);
CREATE UNIQUE INDEX document_numbers_pkey ON public.document_numbers USING btree (tenant_id, kind);
CREATE UNIQUE INDEX estimate_lines_pkey ON public.estimate_lines USING btree (tenant_id, version_id, line_id);
CREATE UNIQUE INDEX estimate_versions_pkey ON public.estimate_versions USING btree (tenant_id, id);
CREATE UNIQUE INDEX estimate_versions_tenant_id_work_order_id_id_key ON public.estimate_versions USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX estimate_versions_tenant_id_work_order_id_version_key ON public.estimate_versions USING btree (tenant_id, work_order_id, version);
CREATE UNIQUE INDEX floor_consents_pkey ON public.floor_consents USING btree (tenant_id, id);
CREATE UNIQUE INDEX floor_consents_tenant_id_work_order_id_line_id_price_minor__key ON public.floor_consents USING btree (tenant_id, work_order_id, line_id, price_minor, floor_minor);
CREATE UNIQUE INDEX handed_in_certificates_pkey ON public.handed_in_certificates USING btree (tenant_id, id);
CREATE UNIQUE INDEX handed_in_certificates_tenant_id_account_id_id_key ON public.handed_in_certificates USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX invoice_balances_pkey ON public.invoice_balances USING btree (tenant_id, invoice_id);
CREATE UNIQUE INDEX invoice_lines_pkey ON public.invoice_lines USING btree (tenant_id, invoice_id, "position");
CREATE UNIQUE INDEX invoice_tax_bases_pkey ON public.invoice_tax_bases USING btree (tenant_id, invoice_id, area_code);
CREATE UNIQUE INDEX invoice_taxes_pkey ON public.invoice_taxes USING btree (tenant_id, invoice_id, "position");
CREATE UNIQUE INDEX invoice_visits_pkey ON public.invoice_visits USING btree (tenant_id, invoice_id, visit_id);
CREATE UNIQUE INDEX invoice_voids_pkey ON public.invoice_voids USING btree (tenant_id, invoice_id);
CREATE UNIQUE INDEX invoice_work_orders_pkey ON public.invoice_work_orders USING btree (tenant_id, invoice_id, work_order_id);
CREATE UNIQUE INDEX invoices_in_sequence ON public.invoices USING btree (tenant_id, (
CASE kind
    WHEN 'invoice'::text THEN 'invoice'::text
    WHEN 'opening_balance'::text THEN 'opening'::text
    ELSE 'fee'::text
END), sequence);
CREATE UNIQUE INDEX invoices_pkey ON public.invoices USING btree (tenant_id, id);
CREATE UNIQUE INDEX invoices_tenant_id_account_id_id_key ON public.invoices USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX invoices_tenant_id_number_key ON public.invoices USING btree (tenant_id, number);
CREATE UNIQUE INDEX journal_entries_pkey ON public.journal_entries USING btree (tenant_id, id);
CREATE UNIQUE INDEX journal_entries_tenant_id_posting_key ON public.journal_entries USING btree (tenant_id, posting);
CREATE UNIQUE INDEX journal_lines_pkey ON public.journal_lines USING btree (tenant_id, entry_id, "position");
CREATE UNIQUE INDEX key_tests_pkey ON public.key_tests USING btree (tenant_id, id);
CREATE UNIQUE INDEX late_charges_pkey ON public.late_charges USING btree (tenant_id, invoice_id, month);
CREATE UNIQUE INDEX late_charges_tenant_id_document_id_key ON public.late_charges USING btree (tenant_id, document_id);
CREATE UNIQUE INDEX legal_hold_ends_pkey ON public.legal_hold_ends USING btree (tenant_id, hold_id);
CREATE UNIQUE INDEX legal_holds_pkey ON public.legal_holds USING btree (tenant_id, id);
CREATE UNIQUE INDEX memberships_once ON registry.memberships USING btree (user_id, tenant_id, account_id) NULLS NOT DISTINCT;
CREATE UNIQUE INDEX memberships_pkey ON registry.memberships USING btree (id);
CREATE UNIQUE INDEX messages_pkey ON public.messages USING btree (tenant_id, id);
CREATE UNIQUE INDEX missing_signatures_pkey ON public.missing_signatures USING btree (tenant_id, id);
CREATE UNIQUE INDEX missing_signatures_tenant_id_work_order_id_id_key ON public.missing_signatures USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX month_closings_pkey ON public.month_closings USING btree (tenant_id, id);
CREATE UNIQUE INDEX month_closings_steps ON public.month_closings USING btree (tenant_id, month, step);
CREATE UNIQUE INDEX numbers_chased_pkey ON public.numbers_chased USING btree (tenant_id, id);
CREATE UNIQUE INDEX numbers_chased_tenant_id_work_order_id_person_id_chased_on_key ON public.numbers_chased USING btree (tenant_id, work_order_id, person_id, chased_on);
CREATE UNIQUE INDEX opening_items_pkey ON public.opening_items USING btree (tenant_id, invoice_id);
CREATE UNIQUE INDEX openings_pkey ON public.openings USING btree (tenant_id, id);
CREATE UNIQUE INDEX openings_tenant_id_account_id_id_key ON public.openings USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX outgoing_mail_attachments_pkey ON public.outgoing_mail_attachments USING btree (tenant_id, mail_id, "position");
CREATE UNIQUE INDEX outgoing_mails_pkey ON public.outgoing_mails USING btree (tenant_id, id);
CREATE UNIQUE INDEX parked_receipts_pkey ON public.parked_receipts USING btree (tenant_id, id);
CREATE UNIQUE INDEX passed_on_answers_pkey ON public.passed_on_answers USING btree (tenant_id, id);
CREATE UNIQUE INDEX passed_on_answers_tenant_id_version_id_passed_by_key ON public.passed_on_answers USING btree (tenant_id, version_id, passed_by);
CREATE UNIQUE INDEX passed_on_answers_tenant_id_work_order_id_version_id_id_key ON public.passed_on_answers USING btree (tenant_id, work_order_id, version_id, id);
CREATE UNIQUE INDEX payment_applications_pkey ON public.payment_applications USING btree (tenant_id, id);
CREATE UNIQUE INDEX payment_balances_pkey ON public.payment_balances USING btree (tenant_id, payment_id);
CREATE UNIQUE INDEX payment_returns_pkey ON public.payment_returns USING btree (tenant_id, id);
CREATE UNIQUE INDEX payment_returns_tenant_id_payment_id_key ON public.payment_returns USING btree (tenant_id, payment_id);
CREATE UNIQUE INDEX payment_unapplications_pkey ON public.payment_unapplications USING btree (tenant_id, id);
CREATE UNIQUE INDEX payment_unapplications_tenant_id_application_id_key ON public.payment_unapplications USING btree (tenant_id, application_id);
CREATE UNIQUE INDEX payments_pkey ON public.payments USING btree (tenant_id, id);
CREATE UNIQUE INDEX payments_tenant_id_account_id_id_key ON public.payments USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX people_pkey ON public.people USING btree (tenant_id, id);
CREATE UNIQUE INDEX photo_checks_pkey ON public.photo_checks USING btree (tenant_id, photo_id);
CREATE UNIQUE INDEX photo_coverings_pkey ON public.photo_coverings USING btree (tenant_id, id);
CREATE UNIQUE INDEX photo_coverings_tenant_id_photo_id_number_key ON public.photo_coverings USING btree (tenant_id, photo_id, number);
CREATE UNIQUE INDEX photo_derivatives_pkey ON public.photo_derivatives USING btree (tenant_id, photo_id, kind);
CREATE UNIQUE INDEX photo_overrides_pkey ON public.photo_overrides USING btree (tenant_id, id);
CREATE UNIQUE INDEX photos_pkey ON public.photos USING btree (tenant_id, id);
CREATE UNIQUE INDEX photos_tenant_id_work_order_id_id_key ON public.photos USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX price_draft_rates_pkey ON public.price_draft_rates USING btree (tenant_id, draft_id, code);
CREATE UNIQUE INDEX price_drafts_pkey ON public.price_drafts USING btree (tenant_id, id);
CREATE UNIQUE INDEX price_terms_pkey ON public.price_terms USING btree (tenant_id, id);
CREATE UNIQUE INDEX purchase_orders_pkey ON public.purchase_orders USING btree (tenant_id, id);
CREATE UNIQUE INDEX purchase_orders_tenant_id_account_id_number_key ON public.purchase_orders USING btree (tenant_id, account_id, number);
CREATE UNIQUE INDEX rates_pkey ON public.rates USING btree (tenant_id, id);
CREATE UNIQUE INDEX receipt_assignments_pkey ON public.receipt_assignments USING btree (tenant_id, receipt_id);
CREATE UNIQUE INDEX receipt_assignments_tenant_id_payment_id_key ON public.receipt_assignments USING btree (tenant_id, payment_id);
CREATE UNIQUE INDEX recording_files_pkey ON public.recording_files USING btree (tenant_id, recording_id, part);
CREATE UNIQUE INDEX recording_withholdings_pkey ON public.recording_withholdings USING btree (tenant_id, id);
CREATE UNIQUE INDEX recording_withholdings_tenant_id_recording_id_number_key ON public.recording_withholdings USING btree (tenant_id, recording_id, number);
CREATE UNIQUE INDEX recordings_pkey ON public.recordings USING btree (tenant_id, id);
CREATE UNIQUE INDEX refunds_pkey ON public.refunds USING btree (tenant_id, id);
CREATE UNIQUE INDEX replacement_quotes_pkey ON public.replacement_quotes USING btree (tenant_id, id);
CREATE UNIQUE INDEX replacement_quotes_standing ON public.replacement_quotes USING btree (tenant_id, work_order_id, part, side) WHERE (superseded_at IS NULL);
CREATE UNIQUE INDEX retention_rules_pkey ON public.retention_rules USING btree (tenant_id, id);
CREATE UNIQUE INDEX retention_rules_tenant_id_kind_number_key ON public.retention_rules USING btree (tenant_id, kind, number);
CREATE UNIQUE INDEX retention_switches_pkey ON public.retention_switches USING btree (tenant_id, id);
CREATE UNIQUE INDEX retention_switches_tenant_id_number_key ON public.retention_switches USING btree (tenant_id, number);
CREATE UNIQUE INDEX seal_days_pkey ON public.seal_days USING btree (tenant_id, day);
CREATE UNIQUE INDEX seal_days_tenant_id_number_key ON public.seal_days USING btree (tenant_id, number);
CREATE UNIQUE INDEX seal_requests_pkey ON public.seal_requests USING btree (tenant_id, kind, subject_id);
CREATE UNIQUE INDEX seals_pkey ON public.seals USING btree (tenant_id, number);
CREATE UNIQUE INDEX seals_tenant_id_kind_subject_id_key ON public.seals USING btree (tenant_id, kind, subject_id);
CREATE UNIQUE INDEX seam_releases_pkey ON public.seam_releases USING btree (tenant_id, id);
CREATE UNIQUE INDEX seam_releases_tenant_id_work_order_id_line_id_part_side_key ON public.seam_releases USING btree (tenant_id, work_order_id, line_id, part, side);
CREATE UNIQUE INDEX sessions_pkey ON registry.sessions USING btree (id_hash);
CREATE UNIQUE INDEX sign_in_failures_pkey ON registry.sign_in_failures USING btree (key_hash);
CREATE UNIQUE INDEX signing_keys_pkey ON public.signing_keys USING btree (tenant_id, id);
CREATE UNIQUE INDEX signing_keys_tenant_id_key_id_key ON public.signing_keys USING btree (tenant_id, key_id);
CREATE UNIQUE INDEX signing_keys_tenant_id_number_key ON public.signing_keys USING btree (tenant_id, number);
CREATE UNIQUE INDEX sites_pkey ON public.sites USING btree (tenant_id, id);
CREATE UNIQUE INDEX sites_tenant_id_account_id_id_key ON public.sites USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX staff_members_pkey ON public.staff_members USING btree (tenant_id, person_id);
CREATE UNIQUE INDEX standing_approvals_pkey ON public.standing_approvals USING btree (tenant_id, id);
CREATE UNIQUE INDEX standing_approvals_tenant_id_account_id_id_key ON public.standing_approvals USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX statement_files_pkey ON public.statement_files USING btree (tenant_id, statement_id, kind);
CREATE UNIQUE INDEX statement_run_accounts_pkey ON public.statement_run_accounts USING btree (tenant_id, run_id, account_id);
CREATE UNIQUE INDEX statement_runs_pkey ON public.statement_runs USING btree (tenant_id, id);
CREATE UNIQUE INDEX statements_first_once ON public.statements USING btree (tenant_id, account_id) WHERE (previous_id IS NULL);
CREATE UNIQUE INDEX statements_pkey ON public.statements USING btree (tenant_id, id);
CREATE UNIQUE INDEX statements_tenant_id_account_id_id_key ON public.statements USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX statements_tenant_id_account_id_month_key ON public.statements USING btree (tenant_id, account_id, month);
CREATE UNIQUE INDEX statements_tenant_id_previous_id_key ON public.statements USING btree (tenant_id, previous_id);
CREATE UNIQUE INDEX stop_points_pkey ON public.stop_points USING btree (tenant_id, id);
CREATE UNIQUE INDEX tax_areas_pkey ON public.tax_areas USING btree (tenant_id, id);
CREATE UNIQUE INDEX tax_areas_tenant_id_code_key ON public.tax_areas USING btree (tenant_id, code);
CREATE UNIQUE INDEX tax_classes_pkey ON public.tax_classes USING btree (tenant_id, id);
CREATE UNIQUE INDEX tax_rates_pkey ON public.tax_rates USING btree (tenant_id, id);
CREATE UNIQUE INDEX tenants_pkey ON registry.tenants USING btree (id);
CREATE UNIQUE INDEX tier_prices_pkey ON public.tier_prices USING btree (tenant_id, id);
CREATE UNIQUE INDEX tier_terms_pkey ON public.tier_terms USING btree (tenant_id, id);
CREATE UNIQUE INDEX tiers_pkey ON public.tiers USING btree (tenant_id, code);
CREATE UNIQUE INDEX upload_parts_pkey ON public.upload_parts USING btree (tenant_id, upload_id, part_offset);
CREATE UNIQUE INDEX uploads_pkey ON public.uploads USING btree (tenant_id, id);
CREATE UNIQUE INDEX users_email_once ON registry.users USING btree (email);
CREATE UNIQUE INDEX users_pkey ON registry.users USING btree (id);
CREATE UNIQUE INDEX vehicles_pkey ON public.vehicles USING btree (tenant_id, id);
CREATE UNIQUE INDEX vehicles_tenant_id_account_id_id_key ON public.vehicles USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX visit_signatures_pkey ON public.visit_signatures USING btree (tenant_id, id);
CREATE UNIQUE INDEX visits_one_of_a_day ON public.visits USING btree (tenant_id, site_id, technician_id, day, after_hours, rush);
CREATE UNIQUE INDEX visits_pkey ON public.visits USING btree (tenant_id, id);
CREATE UNIQUE INDEX visits_tenant_id_account_id_id_key ON public.visits USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX work_order_lines_pkey ON public.work_order_lines USING btree (tenant_id, id);
CREATE UNIQUE INDEX work_order_lines_tenant_id_work_order_id_id_key ON public.work_order_lines USING btree (tenant_id, work_order_id, id);
CREATE UNIQUE INDEX work_order_lines_tenant_id_work_order_id_position_key ON public.work_order_lines USING btree (tenant_id, work_order_id, "position");
CREATE UNIQUE INDEX work_order_steps_pkey ON public.work_order_steps USING btree (tenant_id, id);
CREATE UNIQUE INDEX work_orders_pkey ON public.work_orders USING btree (tenant_id, id);
CREATE UNIQUE INDEX work_orders_tenant_id_account_id_id_key ON public.work_orders USING btree (tenant_id, account_id, id);
CREATE UNIQUE INDEX work_orders_tenant_id_number_key ON public.work_orders USING btree (tenant_id, number);
CREATE UNIQUE INDEX write_off_recoveries_pkey ON public.write_off_recoveries USING btree (tenant_id, write_off_id);
CREATE UNIQUE INDEX write_off_taxes_pkey ON public.write_off_taxes USING btree (tenant_id, write_off_id, "position");
CREATE UNIQUE INDEX write_offs_pkey ON public.write_offs USING btree (tenant_id, id);

-- policies
public.acceptance_copies tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.acceptance_copies vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)) AND (link_id = ( SELECT own_link() AS own_link))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND false);
public.acceptance_releases account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = acceptance_releases.tenant_id) AND (w.id = acceptance_releases.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = acceptance_releases.tenant_id) AND (w.id = acceptance_releases.work_order_id)))));
public.acceptance_releases tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.acceptance_requests tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.acceptances account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = acceptances.tenant_id) AND (w.id = acceptances.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = acceptances.tenant_id) AND (w.id = acceptances.work_order_id)))));
public.acceptances tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (link_id IS NULL));
public.acceptances vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)) AND ((link_id = ( SELECT own_link() AS own_link)) OR (EXISTS ( SELECT
   FROM acceptance_copies c
  WHERE ((c.tenant_id = acceptances.tenant_id) AND (c.acceptance_id = acceptances.id) AND (c.link_id = ( SELECT own_link() AS own_link))))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)) AND (link_id = ( SELECT own_link() AS own_link)) AND (EXISTS ( SELECT
   FROM work_orders w
  WHERE ((w.tenant_id = acceptances.tenant_id) AND (w.id = acceptances.work_order_id) AND (w.state = 'done'::text)))) AND (EXISTS ( SELECT
   FROM access_links l
  WHERE ((l.tenant_id = acceptances.tenant_id) AND (l.id = acceptances.link_id) AND (l.purpose = 'acceptance'::text) AND (l.revoked_at IS NULL) AND (l.expires_at > acceptances.accepted_at)))));
public.access_links account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (purpose = 'approval'::text))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (purpose = 'approval'::text)));
public.access_links link to grainwright_link using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (secret_hash = ( SELECT NULLIF(current_setting('app.link_hash'::text, true), ''::text) AS "nullif"))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND false);
public.access_links tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.access_links vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((purpose = 'acceptance_copy'::text) OR ((purpose = 'acceptance'::text) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)))) AND (secret_hash = ( SELECT NULLIF(current_setting('app.link_hash'::text, true), ''::text) AS "nullif"))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND false);
public.account_groups tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.account_prices tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.accounts account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (id = ( SELECT own_account() AS own_account)));
public.accounts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.approval_asks account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.approval_asks tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.approval_delegation_ends account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (EXISTS ( SELECT
   FROM approval_delegations g
  WHERE ((g.tenant_id = approval_delegation_ends.tenant_id) AND (g.account_id = ( SELECT own_account() AS own_account)) AND (g.id = approval_delegation_ends.delegation_id) AND ((approval_delegation_ends.ended_by = g.from_person) OR (approval_delegation_ends.ended_by = g.to_person)))))));
public.approval_delegation_ends tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.approval_delegations account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (recorded_by IS NULL) AND (EXISTS ( SELECT
   FROM (contacts c
     JOIN businesses b ON ((b.tenant_id = c.tenant_id)))
  WHERE ((c.tenant_id = approval_delegations.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = approval_delegations.from_person) AND (c.role = 'approver'::text) AND ((c.ended_on IS NULL) OR (c.ended_on > ((approval_delegations.made_at AT TIME ZONE b.time_zone))::date)) AND ((approval_delegations.limit_minor IS NULL) OR (c.limit_minor IS NULL) OR (approval_delegations.limit_minor <= c.limit_minor))))) AND (EXISTS ( SELECT
   FROM (contacts c
     JOIN businesses b ON ((b.tenant_id = c.tenant_id)))
  WHERE ((c.tenant_id = approval_delegations.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = approval_delegations.to_person) AND ((c.ended_on IS NULL) OR (c.ended_on > ((approval_delegations.made_at AT TIME ZONE b.time_zone))::date)))))));
public.approval_delegations tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.approval_reminders tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.audit_links tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.audit_records account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND shown_to_accounts(action) AND
CASE subject_kind
    WHEN 'work_order'::text THEN (EXISTS ( SELECT
       FROM work_orders s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'estimate_version'::text THEN (EXISTS ( SELECT
       FROM estimate_versions s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'decision'::text THEN (EXISTS ( SELECT
       FROM decisions s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'photo'::text THEN (EXISTS ( SELECT
       FROM photos s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'acceptance'::text THEN (EXISTS ( SELECT
       FROM acceptances s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'missing_signature'::text THEN (EXISTS ( SELECT
       FROM missing_signatures s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'visit_signature'::text THEN (EXISTS ( SELECT
       FROM visit_signatures s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'message'::text THEN (EXISTS ( SELECT
       FROM messages s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'invoice'::text THEN (EXISTS ( SELECT
       FROM invoices s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'credit_note'::text THEN (EXISTS ( SELECT
       FROM credit_notes s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    WHEN 'statement'::text THEN (EXISTS ( SELECT
       FROM statements s
      WHERE ((s.tenant_id = audit_records.tenant_id) AND (s.id = audit_records.subject_id))))
    ELSE false
END) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (EXISTS ( SELECT
   FROM contacts c
  WHERE ((c.tenant_id = audit_records.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = audit_records.person_id))))));
public.audit_records tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.audit_records vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND false) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (person_id IS NULL) AND ((detail ->> 'by_link'::text) = (( SELECT own_link() AS own_link))::text) AND (action = ANY (ARRAY['acceptance_taken'::text, 'work_order_accepted'::text, 'work_order_reworked_done'::text])) AND ((subject_id = ( SELECT own_work_order() AS own_work_order)) OR (EXISTS ( SELECT
   FROM acceptances a
  WHERE ((a.tenant_id = audit_records.tenant_id) AND (a.id = audit_records.subject_id))))));
public.audit_waiting tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.billed_work_orders tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.businesses account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.businesses tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.businesses vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.care_factors tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.care_percents tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.caution_acknowledgments tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.certificate_checks account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.certificate_checks tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.certificates account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.certificates tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.chain_heads tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.clearing_movements tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.commission_rates tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.contacts account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.contacts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.contracts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.covered_copies account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM standing_coverings s
  WHERE ((s.tenant_id = covered_copies.tenant_id) AND (s.id = covered_copies.covering_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM standing_coverings s
  WHERE ((s.tenant_id = covered_copies.tenant_id) AND (s.id = covered_copies.covering_id)))));
public.covered_copies tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.covered_copies vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM standing_coverings s
  WHERE ((s.tenant_id = covered_copies.tenant_id) AND (s.id = covered_copies.covering_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM standing_coverings s
  WHERE ((s.tenant_id = covered_copies.tenant_id) AND (s.id = covered_copies.covering_id)))));
public.credit_moves account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.credit_moves tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.credit_note_applications account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.credit_note_applications tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.credit_note_balances account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM credit_notes n
  WHERE ((n.tenant_id = credit_note_balances.tenant_id) AND (n.id = credit_note_balances.credit_note_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM credit_notes n
  WHERE ((n.tenant_id = credit_note_balances.tenant_id) AND (n.id = credit_note_balances.credit_note_id)))));
public.credit_note_balances tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.credit_note_lines account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM credit_notes n
  WHERE ((n.tenant_id = credit_note_lines.tenant_id) AND (n.id = credit_note_lines.credit_note_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM credit_notes n
  WHERE ((n.tenant_id = credit_note_lines.tenant_id) AND (n.id = credit_note_lines.credit_note_id)))));
public.credit_note_lines tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.credit_note_tax_bases tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.credit_note_taxes account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM credit_notes n
  WHERE ((n.tenant_id = credit_note_taxes.tenant_id) AND (n.id = credit_note_taxes.credit_note_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM credit_notes n
  WHERE ((n.tenant_id = credit_note_taxes.tenant_id) AND (n.id = credit_note_taxes.credit_note_id)))));
public.credit_note_taxes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.credit_notes account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.credit_notes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.decision_lines account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM decisions d
  WHERE ((d.tenant_id = decision_lines.tenant_id) AND (d.id = decision_lines.decision_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT
   FROM (decisions d
     JOIN estimate_lines e ON (((e.tenant_id = d.tenant_id) AND (e.version_id = d.version_id) AND (e.line_id = decision_lines.line_id))))
  WHERE ((d.tenant_id = decision_lines.tenant_id) AND (d.id = decision_lines.decision_id) AND (d.recorded_by IS NULL) AND (NOT (EXISTS ( SELECT
           FROM work_orders w
          WHERE ((w.tenant_id = d.tenant_id) AND (w.decision_id = d.id)))))))));
public.decision_lines tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.decision_lines vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM decisions d
  WHERE ((d.tenant_id = decision_lines.tenant_id) AND (d.id = decision_lines.decision_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM decisions d
  WHERE ((d.tenant_id = decision_lines.tenant_id) AND (d.id = decision_lines.decision_id)))));
public.decision_signatures account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM decisions d
  WHERE ((d.tenant_id = decision_signatures.tenant_id) AND (d.id = decision_signatures.decision_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM decisions d
  WHERE ((d.tenant_id = decision_signatures.tenant_id) AND (d.id = decision_signatures.decision_id)))));
public.decision_signatures tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.decisions account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (recorded_by IS NULL) AND link_opens(link_id, decided_at) AND ((limit_minor IS NULL) OR (compared_minor <= limit_minor)) AND (EXISTS ( SELECT
   FROM (((contacts c
     JOIN businesses b ON ((b.tenant_id = c.tenant_id)))
     LEFT JOIN approval_delegations g ON (((g.tenant_id = c.tenant_id) AND (g.account_id = c.account_id) AND (g.to_person = c.person_id) AND (g.id = decisions.delegation_id))))
     LEFT JOIN contacts f ON (((f.tenant_id = g.tenant_id) AND (f.account_id = g.account_id) AND (f.person_id = g.from_person))))
  WHERE ((c.tenant_id = decisions.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = decisions.decided_by) AND ((c.ended_on IS NULL) OR (c.ended_on > ((decisions.decided_at AT TIME ZONE b.time_zone))::date)) AND
        CASE
            WHEN (decisions.delegation_id IS NULL) THEN ((c.role = 'approver'::text) AND (NOT (decisions.limit_minor IS DISTINCT FROM c.limit_minor)))
            ELSE ((f.role = 'approver'::text) AND (NOT (decisions.limit_minor IS DISTINCT FROM LEAST(f.limit_minor, g.limit_minor))) AND ((f.ended_on IS NULL) OR (f.ended_on > ((decisions.decided_at AT TIME ZONE b.time_zone))::date)) AND ((((decisions.decided_at AT TIME ZONE b.time_zone))::date >= g.valid_from) AND (((decisions.decided_at AT TIME ZONE b.time_zone))::date <= g.valid_to)) AND (NOT (EXISTS ( SELECT
               FROM approval_delegation_ends e
              WHERE ((e.tenant_id = g.tenant_id) AND (e.delegation_id = g.id) AND (e.ended_at <= decisions.decided_at))))))
        END)))));
public.decisions tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (given <> ALL (ARRAY['here'::text, 'by_link'::text])));
public.decisions vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)));
public.deletion_removals tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.deletions account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (((kind = 'photos'::text) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = deletions.tenant_id) AND (p.id = deletions.subject_id))))) OR ((kind = 'recordings'::text) AND (EXISTS ( SELECT 1
   FROM recordings r
  WHERE ((r.tenant_id = deletions.tenant_id) AND (r.id = deletions.subject_id))))) OR ((kind = 'documents'::text) AND (EXISTS ( SELECT 1
   FROM statements s
  WHERE ((s.tenant_id = deletions.tenant_id) AND (s.id = deletions.subject_id))))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (((kind = 'photos'::text) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = deletions.tenant_id) AND (p.id = deletions.subject_id))))) OR ((kind = 'recordings'::text) AND (EXISTS ( SELECT 1
   FROM recordings r
  WHERE ((r.tenant_id = deletions.tenant_id) AND (r.id = deletions.subject_id))))) OR ((kind = 'documents'::text) AND (EXISTS ( SELECT 1
   FROM statements s
  WHERE ((s.tenant_id = deletions.tenant_id) AND (s.id = deletions.subject_id)))))));
public.deletions tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.deletions vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((kind = 'photos'::text) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = deletions.tenant_id) AND (p.id = deletions.subject_id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((kind = 'photos'::text) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = deletions.tenant_id) AND (p.id = deletions.subject_id))))));
public.discounts_taken account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.discounts_taken tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.dispute_answers account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM disputes d
  WHERE ((d.tenant_id = dispute_answers.tenant_id) AND (d.id = dispute_answers.dispute_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM disputes d
  WHERE ((d.tenant_id = dispute_answers.tenant_id) AND (d.id = dispute_answers.dispute_id)))));
public.dispute_answers tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.disputes account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND by_contact AND (EXISTS ( SELECT
   FROM contacts c
  WHERE ((c.tenant_id = disputes.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = disputes.opened_by) AND (c.role = ANY (ARRAY['approver'::text, 'payer'::text])))))));
public.disputes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.document_numbers tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.estimate_lines account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM estimate_versions v
  WHERE ((v.tenant_id = estimate_lines.tenant_id) AND (v.id = estimate_lines.version_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM estimate_versions v
  WHERE ((v.tenant_id = estimate_lines.tenant_id) AND (v.id = estimate_lines.version_id)))));
public.estimate_lines tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.estimate_versions account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = estimate_versions.tenant_id) AND (w.id = estimate_versions.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = estimate_versions.tenant_id) AND (w.id = estimate_versions.work_order_id)))));
public.estimate_versions tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.floor_consents tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.handed_in_certificates account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (EXISTS ( SELECT
   FROM contacts c
  WHERE ((c.tenant_id = handed_in_certificates.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = handed_in_certificates.handed_in_by) AND (c.role = ANY (ARRAY['approver'::text, 'payer'::text])))))));
public.handed_in_certificates tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_balances account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_balances.tenant_id) AND (i.id = invoice_balances.invoice_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_balances.tenant_id) AND (i.id = invoice_balances.invoice_id)))));
public.invoice_balances tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_lines account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_lines.tenant_id) AND (i.id = invoice_lines.invoice_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_lines.tenant_id) AND (i.id = invoice_lines.invoice_id)))));
public.invoice_lines tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_tax_bases tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_taxes account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_taxes.tenant_id) AND (i.id = invoice_taxes.invoice_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_taxes.tenant_id) AND (i.id = invoice_taxes.invoice_id)))));
public.invoice_taxes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_visits account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.invoice_visits tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_voids account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_voids.tenant_id) AND (i.id = invoice_voids.invoice_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_voids.tenant_id) AND (i.id = invoice_voids.invoice_id)))));
public.invoice_voids tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoice_work_orders account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_work_orders.tenant_id) AND (i.id = invoice_work_orders.invoice_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM invoices i
  WHERE ((i.tenant_id = invoice_work_orders.tenant_id) AND (i.id = invoice_work_orders.invoice_id)))));
public.invoice_work_orders tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.invoices account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.invoices tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.journal_entries account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM journal_lines l
  WHERE ((l.tenant_id = journal_entries.tenant_id) AND (l.entry_id = journal_entries.id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM journal_lines l
  WHERE ((l.tenant_id = journal_entries.tenant_id) AND (l.entry_id = journal_entries.id)))));
public.journal_entries tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.journal_lines account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.journal_lines tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.key_tests account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = key_tests.tenant_id) AND (w.id = key_tests.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = key_tests.tenant_id) AND (w.id = key_tests.work_order_id)))));
public.key_tests tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.late_charges account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.late_charges tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.legal_hold_ends tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT
   FROM staff_members s
  WHERE ((s.tenant_id = legal_hold_ends.tenant_id) AND (s.person_id = legal_hold_ends.ended_by) AND (s.role = 'owner'::text)))));
public.legal_holds tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.messages account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND (side = 'account'::text) AND link_opens(link_id, written_at) AND (EXISTS ( SELECT
   FROM (contacts c
     JOIN businesses b ON ((b.tenant_id = c.tenant_id)))
  WHERE ((c.tenant_id = messages.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = messages.author_id) AND ((c.ended_on IS NULL) OR (c.ended_on > ((messages.written_at AT TIME ZONE b.time_zone))::date)))))));
public.messages tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (side = 'business'::text));
public.missing_signatures account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = missing_signatures.tenant_id) AND (w.id = missing_signatures.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = missing_signatures.tenant_id) AND (w.id = missing_signatures.work_order_id)))));
public.missing_signatures tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.month_closings tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.numbers_chased account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.numbers_chased tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.opening_items tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.openings tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.outgoing_mail_attachments tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.outgoing_mails tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.parked_receipts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.passed_on_answers account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) AND link_opens(link_id, passed_at) AND (EXISTS ( SELECT
   FROM (contacts c
     JOIN businesses b ON ((b.tenant_id = c.tenant_id)))
  WHERE ((c.tenant_id = passed_on_answers.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = passed_on_answers.passed_by) AND ((c.ended_on IS NULL) OR (c.ended_on > ((passed_on_answers.passed_at AT TIME ZONE b.time_zone))::date))))) AND (EXISTS ( SELECT
   FROM (work_orders w
     JOIN estimate_versions v ON (((v.tenant_id = w.tenant_id) AND (v.id = w.current_version_id))))
  WHERE ((w.tenant_id = passed_on_answers.tenant_id) AND (w.id = passed_on_answers.work_order_id) AND (w.state = 'awaiting_approval'::text) AND (v.id = passed_on_answers.version_id) AND (v.digest = passed_on_answers.digest)))) AND ((passed_to IS NULL) OR (EXISTS ( SELECT
   FROM contacts c
  WHERE ((c.tenant_id = passed_on_answers.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = passed_on_answers.passed_to) AND (c.role = 'approver'::text) AND ((c.limit_minor IS NULL) OR (c.limit_minor >= passed_on_answers.compared_minor))))))));
public.passed_on_answers tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.payment_applications account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.payment_applications tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.payment_balances account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM payments p
  WHERE ((p.tenant_id = payment_balances.tenant_id) AND (p.id = payment_balances.payment_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM payments p
  WHERE ((p.tenant_id = payment_balances.tenant_id) AND (p.id = payment_balances.payment_id)))));
public.payment_balances tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.payment_returns account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.payment_returns tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.payment_unapplications account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM payment_applications a
  WHERE ((a.tenant_id = payment_unapplications.tenant_id) AND (a.id = payment_unapplications.application_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM payment_applications a
  WHERE ((a.tenant_id = payment_unapplications.tenant_id) AND (a.id = payment_unapplications.application_id)))));
public.payment_unapplications tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.payments account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.payments tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.people account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((EXISTS ( SELECT 1
   FROM contacts c
  WHERE ((c.tenant_id = people.tenant_id) AND (c.person_id = people.id)))) OR (EXISTS ( SELECT 1
   FROM staff_members s
  WHERE ((s.tenant_id = people.tenant_id) AND (s.person_id = people.id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((EXISTS ( SELECT 1
   FROM contacts c
  WHERE ((c.tenant_id = people.tenant_id) AND (c.person_id = people.id)))) OR (EXISTS ( SELECT 1
   FROM staff_members s
  WHERE ((s.tenant_id = people.tenant_id) AND (s.person_id = people.id))))));
public.people tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.people vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM staff_members s
  WHERE ((s.tenant_id = people.tenant_id) AND (s.person_id = people.id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM staff_members s
  WHERE ((s.tenant_id = people.tenant_id) AND (s.person_id = people.id)))));
public.photo_checks tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.photo_coverings account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_coverings.tenant_id) AND (p.id = photo_coverings.photo_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_coverings.tenant_id) AND (p.id = photo_coverings.photo_id)))));
public.photo_coverings tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((jsonb_array_length(regions) > 0) OR (EXISTS ( SELECT
   FROM staff_members s
  WHERE ((s.tenant_id = photo_coverings.tenant_id) AND (s.person_id = photo_coverings.made_by) AND (s.role = 'owner'::text))))));
public.photo_coverings vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_coverings.tenant_id) AND (p.id = photo_coverings.photo_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_coverings.tenant_id) AND (p.id = photo_coverings.photo_id)))));
public.photo_derivatives account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_derivatives.tenant_id) AND (p.id = photo_derivatives.photo_id)))) AND (NOT (EXISTS ( SELECT
   FROM standing_coverings s
  WHERE ((s.tenant_id = photo_derivatives.tenant_id) AND (s.photo_id = photo_derivatives.photo_id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_derivatives.tenant_id) AND (p.id = photo_derivatives.photo_id)))));
public.photo_derivatives tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.photo_derivatives vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_derivatives.tenant_id) AND (p.id = photo_derivatives.photo_id)))) AND (NOT (EXISTS ( SELECT
   FROM standing_coverings s
  WHERE ((s.tenant_id = photo_derivatives.tenant_id) AND (s.photo_id = photo_derivatives.photo_id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM photos p
  WHERE ((p.tenant_id = photo_derivatives.tenant_id) AND (p.id = photo_derivatives.photo_id)))));
public.photo_overrides tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.photos account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = photos.tenant_id) AND (w.id = photos.work_order_id)))) AND ((purpose <> 'stop_point'::text) OR (EXISTS ( SELECT 1
   FROM stop_points s
  WHERE ((s.tenant_id = photos.tenant_id) AND (s.photo_id = photos.id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = photos.tenant_id) AND (w.id = photos.work_order_id)))));
public.photos tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.photos vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)) AND ((purpose <> 'stop_point'::text) OR (EXISTS ( SELECT 1
   FROM stop_points s
  WHERE ((s.tenant_id = photos.tenant_id) AND (s.photo_id = photos.id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)));
public.price_draft_rates tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.price_drafts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.price_terms tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.purchase_orders account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.purchase_orders tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.rates tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.receipt_assignments tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.recording_files account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM recordings r
  WHERE ((r.tenant_id = recording_files.tenant_id) AND (r.id = recording_files.recording_id) AND ((recording_files.part = 'poster'::text) OR (NOT r.names_place)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM recordings r
  WHERE ((r.tenant_id = recording_files.tenant_id) AND (r.id = recording_files.recording_id) AND ((recording_files.part = 'poster'::text) OR (NOT r.names_place))))));
public.recording_files tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.recording_withholdings account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.recording_withholdings tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (withheld OR (EXISTS ( SELECT
   FROM staff_members s
  WHERE ((s.tenant_id = recording_withholdings.tenant_id) AND (s.person_id = recording_withholdings.made_by) AND (s.role = 'owner'::text))))));
public.recordings account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = recordings.tenant_id) AND (w.id = recordings.work_order_id)))) AND (NOT (EXISTS ( SELECT
   FROM withheld_recordings h
  WHERE ((h.tenant_id = recordings.tenant_id) AND (h.recording_id = recordings.id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = recordings.tenant_id) AND (w.id = recordings.work_order_id)))));
public.recordings tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.refunds account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.refunds tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.replacement_quotes account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = replacement_quotes.tenant_id) AND (w.id = replacement_quotes.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = replacement_quotes.tenant_id) AND (w.id = replacement_quotes.work_order_id)))));
public.replacement_quotes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.retention_rules tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT
   FROM staff_members s
  WHERE ((s.tenant_id = retention_rules.tenant_id) AND (s.person_id = retention_rules.set_by) AND (s.role = 'owner'::text)))));
public.retention_switches tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT
   FROM staff_members s
  WHERE ((s.tenant_id = retention_switches.tenant_id) AND (s.person_id = retention_switches.set_by) AND (s.role = 'owner'::text)))));
public.seal_days account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.seal_days tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.seal_requests tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.seals account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) OR (kind = 'key'::text))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((account_id = ( SELECT own_account() AS own_account)) OR (kind = 'key'::text)));
public.seals tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.seals vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((kind = 'acceptance'::text) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((kind = 'acceptance'::text) AND (work_order_id = ( SELECT own_work_order() AS own_work_order))));
public.seam_releases tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.signing_keys account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.signing_keys tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.sites account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.sites tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.staff_members account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.staff_members tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.staff_members vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.standing_approvals account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.standing_approvals tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.statement_files account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM statements s
  WHERE ((s.tenant_id = statement_files.tenant_id) AND (s.id = statement_files.statement_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM statements s
  WHERE ((s.tenant_id = statement_files.tenant_id) AND (s.id = statement_files.statement_id)))));
public.statement_files tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.statement_run_accounts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.statement_runs tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.statements account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.statements tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.stop_points account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (shown AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = stop_points.tenant_id) AND (w.id = stop_points.work_order_id)))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (shown AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = stop_points.tenant_id) AND (w.id = stop_points.work_order_id))))));
public.stop_points tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.stop_points vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (shown AND (work_order_id = ( SELECT own_work_order() AS own_work_order)))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (shown AND (work_order_id = ( SELECT own_work_order() AS own_work_order))));
public.tax_areas account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND true);
public.tax_areas tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.tax_classes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.tax_rates tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.tier_prices tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.tier_terms tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.tiers tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.upload_parts tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.uploads tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.vehicles account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.vehicles tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.vehicles vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = vehicles.tenant_id) AND (w.vehicle_id = vehicles.id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = vehicles.tenant_id) AND (w.vehicle_id = vehicles.id)))));
public.visit_signatures account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.visit_signatures tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.visits account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.visits tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.visits vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = visits.tenant_id) AND (w.visit_id = visits.id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = visits.tenant_id) AND (w.visit_id = visits.id)))));
public.work_order_lines account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = work_order_lines.tenant_id) AND (w.id = work_order_lines.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = work_order_lines.tenant_id) AND (w.id = work_order_lines.work_order_id)))));
public.work_order_lines tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.work_order_lines vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)));
public.work_order_steps account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM work_orders w
  WHERE ((w.tenant_id = work_order_steps.tenant_id) AND (w.id = work_order_steps.work_order_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND ((event = ANY (ARRAY['approved'::text, 'declined'::text])) AND (to_state = event) AND (EXISTS ( SELECT
   FROM work_orders w
  WHERE ((w.tenant_id = work_order_steps.tenant_id) AND (w.id = work_order_steps.work_order_id) AND (w.state = work_order_steps.to_state)))) AND (EXISTS ( SELECT
   FROM contacts c
  WHERE ((c.tenant_id = work_order_steps.tenant_id) AND (c.account_id = ( SELECT own_account() AS own_account)) AND (c.person_id = work_order_steps.person_id))))));
public.work_order_steps tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.work_order_steps vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND false) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (work_order_id = ( SELECT own_work_order() AS own_work_order)) AND (person_id IS NULL) AND (EXISTS ( SELECT
   FROM acceptances a
  WHERE ((a.tenant_id = work_order_steps.tenant_id) AND (a.work_order_id = work_order_steps.work_order_id) AND (a.link_id = ( SELECT own_link() AS own_link)) AND (a.accepted_at = work_order_steps.happened_at) AND
        CASE a.outcome
            WHEN 'not_accepted'::text THEN ((work_order_steps.event = 'not_accepted'::text) AND (work_order_steps.to_state = 'done'::text))
            ELSE ((work_order_steps.event = ANY (ARRAY['accepted'::text, 'reworked_done'::text])) AND (work_order_steps.to_state = 'accepted'::text))
        END))));
public.work_orders account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.work_orders tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.work_orders vehicle_owner to grainwright_vehicle_owner using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (id = ( SELECT own_work_order() AS own_work_order))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (id = ( SELECT own_work_order() AS own_work_order)));
public.write_off_recoveries account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM write_offs w
  WHERE ((w.tenant_id = write_off_recoveries.tenant_id) AND (w.id = write_off_recoveries.write_off_id))))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (EXISTS ( SELECT 1
   FROM write_offs w
  WHERE ((w.tenant_id = write_off_recoveries.tenant_id) AND (w.id = write_off_recoveries.write_off_id)))));
public.write_off_recoveries tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.write_off_taxes tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));
public.write_offs account to grainwright_account using ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account))) with check ((tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) AND (account_id = ( SELECT own_account() AS own_account)));
public.write_offs tenant to grainwright_staff, grainwright_worker using (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif")) with check (tenant_id = ( SELECT (NULLIF(current_setting('app.tenant_id'::text, true), ''::text))::uuid AS "nullif"));

-- triggers
CREATE CONSTRAINT TRIGGER balanced AFTER INSERT ON public.journal_entries DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_entry_balance();
CREATE CONSTRAINT TRIGGER balanced AFTER INSERT ON public.journal_lines DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION check_entry_balance();
CREATE CONSTRAINT TRIGGER tells_sealer AFTER INSERT ON public.seal_requests DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION tell_sealer();
CREATE TRIGGER account_answer BEFORE UPDATE ON public.work_orders FOR EACH ROW WHEN (((CURRENT_USER = 'grainwright_account'::name) AND (new.decision_id IS DISTINCT FROM old.decision_id))) EXECUTE FUNCTION check_account_answer();
CREATE TRIGGER account_change BEFORE UPDATE ON public.work_orders FOR EACH ROW WHEN ((CURRENT_USER = 'grainwright_account'::name)) EXECUTE FUNCTION check_account_change();
CREATE TRIGGER append_only BEFORE DELETE ON public.seal_requests FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.acceptance_copies FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.acceptance_releases FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.acceptances FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.approval_asks FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.approval_delegation_ends FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.approval_delegations FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.approval_reminders FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.audit_links FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.audit_records FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.caution_acknowledgments FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.certificate_checks FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.clearing_movements FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.covered_copies FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.credit_moves FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.credit_note_applications FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.credit_note_lines FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.credit_note_tax_bases FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.credit_note_taxes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.credit_notes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.decision_lines FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.decision_signatures FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.decisions FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.deletion_removals FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.deletions FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.discounts_taken FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.dispute_answers FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.disputes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.estimate_lines FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.estimate_versions FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.floor_consents FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.handed_in_certificates FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoice_lines FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoice_tax_bases FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoice_taxes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoice_visits FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoice_voids FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoice_work_orders FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.invoices FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.journal_entries FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.journal_lines FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.key_tests FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.late_charges FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.legal_hold_ends FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.legal_holds FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.messages FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.missing_signatures FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.month_closings FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.numbers_chased FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.opening_items FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.openings FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.outgoing_mail_attachments FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.parked_receipts FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.passed_on_answers FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.payment_applications FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.payment_returns FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.payment_unapplications FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.payments FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.photo_checks FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.photo_coverings FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.photo_derivatives FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.photo_overrides FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.photos FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.receipt_assignments FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.recording_files FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.recording_withholdings FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.recordings FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.refunds FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.retention_rules FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.retention_switches FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.seal_days FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.seals FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.seam_releases FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.signing_keys FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.statement_files FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.statement_runs FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.statements FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.stop_points FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.visit_signatures FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.work_order_steps FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.write_off_recoveries FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.write_off_taxes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only BEFORE DELETE OR UPDATE ON public.write_offs FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.acceptance_copies FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.acceptance_releases FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.acceptances FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.approval_asks FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.approval_delegation_ends FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.approval_delegations FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.approval_reminders FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.audit_links FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.audit_records FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.caution_acknowledgments FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.certificate_checks FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.chain_heads FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.clearing_movements FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.covered_copies FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.credit_moves FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.credit_note_applications FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.credit_note_lines FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.credit_note_tax_bases FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.credit_note_taxes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.credit_notes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.decision_lines FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.decision_signatures FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.decisions FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.deletion_removals FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.deletions FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.discounts_taken FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.dispute_answers FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.disputes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.estimate_lines FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.estimate_versions FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.floor_consents FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.handed_in_certificates FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoice_lines FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoice_tax_bases FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoice_taxes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoice_visits FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoice_voids FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoice_work_orders FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.invoices FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.journal_entries FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.journal_lines FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.key_tests FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.late_charges FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.legal_hold_ends FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.legal_holds FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.messages FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.missing_signatures FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.month_closings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.numbers_chased FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.opening_items FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.openings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.outgoing_mail_attachments FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.parked_receipts FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.passed_on_answers FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.payment_applications FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.payment_returns FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.payment_unapplications FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.payments FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.photo_checks FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.photo_coverings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.photo_derivatives FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.photo_overrides FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.photos FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.receipt_assignments FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.recording_files FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.recording_withholdings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.recordings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.refunds FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.retention_rules FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.retention_switches FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.seal_days FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.seal_requests FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.seals FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.seam_releases FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.signing_keys FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.statement_files FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.statement_runs FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.statements FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.stop_points FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.visit_signatures FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.work_order_steps FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.write_off_recoveries FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.write_off_taxes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON public.write_offs FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER as_written BEFORE UPDATE ON public.work_orders FOR EACH ROW WHEN ((((old.made_at IS DISTINCT FROM new.made_at) OR (old.written_up_at IS DISTINCT FROM new.written_up_at)) OR (old.vehicle_as_written IS DISTINCT FROM new.vehicle_as_written))) EXECUTE FUNCTION keep_as_written();
CREATE TRIGGER asks_for_seal AFTER INSERT ON public.acceptance_releases FOR EACH ROW EXECUTE FUNCTION request_seal();
CREATE TRIGGER asks_for_seal AFTER INSERT ON public.acceptances FOR EACH ROW EXECUTE FUNCTION request_seal();
CREATE TRIGGER asks_for_seal AFTER INSERT ON public.credit_notes FOR EACH ROW EXECUTE FUNCTION request_seal();
CREATE TRIGGER asks_for_seal AFTER INSERT ON public.decision_lines REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION request_seal();
CREATE TRIGGER asks_for_seal AFTER INSERT ON public.signing_keys FOR EACH ROW WHEN ((new.cause <> 'first'::text)) EXECUTE FUNCTION request_seal();
CREATE TRIGGER asks_for_seal AFTER INSERT OR UPDATE OF rework_of_id ON public.work_orders FOR EACH ROW WHEN ((new.rework_of_id IS NOT NULL)) EXECUTE FUNCTION request_seal();
CREATE TRIGGER await_retention BEFORE INSERT ON public.legal_holds FOR EACH ROW EXECUTE FUNCTION await_retention();
CREATE TRIGGER chained AFTER INSERT ON public.seal_days FOR EACH ROW EXECUTE FUNCTION chain_seal_day();
CREATE TRIGGER chained AFTER INSERT ON public.seals FOR EACH ROW EXECUTE FUNCTION chain_seal();
CREATE TRIGGER check_deletion BEFORE INSERT ON public.deletions FOR EACH ROW EXECUTE FUNCTION check_deletion();
CREATE TRIGGER check_mail_words BEFORE UPDATE OF body ON public.outgoing_mails FOR EACH ROW WHEN ((new.body IS DISTINCT FROM old.body)) EXECUTE FUNCTION check_mail_words();
CREATE TRIGGER check_retention_rule BEFORE INSERT ON public.retention_rules FOR EACH ROW EXECUTE FUNCTION check_retention_rule();
CREATE TRIGGER keep_ended BEFORE INSERT OR DELETE OR UPDATE ON public.price_draft_rates FOR EACH ROW EXECUTE FUNCTION keep_ended_draft();
CREATE TRIGGER keep_ended BEFORE UPDATE ON public.price_drafts FOR EACH ROW EXECUTE FUNCTION keep_ended_draft();
CREATE TRIGGER news AFTER INSERT ON public.audit_records FOR EACH ROW WHEN ((new.action = 'numbers_given'::text)) EXECUTE FUNCTION tell_news('subject_id');
CREATE TRIGGER news AFTER INSERT ON public.messages FOR EACH ROW EXECUTE FUNCTION tell_news('work_order_id');
CREATE TRIGGER news AFTER INSERT ON public.work_order_steps FOR EACH ROW EXECUTE FUNCTION tell_news('work_order_id');
CREATE TRIGGER only_grows BEFORE DELETE OR UPDATE ON public.chain_heads FOR EACH ROW EXECUTE FUNCTION check_chain_head();
CREATE TRIGGER open_month BEFORE INSERT ON public.journal_entries FOR EACH ROW EXECUTE FUNCTION refuse_closed_month();
CREATE TRIGGER owner_change BEFORE UPDATE ON public.work_orders FOR EACH ROW WHEN ((CURRENT_USER = 'grainwright_vehicle_owner'::name)) EXECUTE FUNCTION check_owner_change();
CREATE TRIGGER put_once BEFORE UPDATE ON public.seal_requests FOR EACH ROW EXECUTE FUNCTION check_seal_request();
CREATE TRIGGER revoked_for_good BEFORE UPDATE ON public.access_links FOR EACH ROW WHEN (((old.revoked_at IS NOT NULL) AND (new.revoked_at IS DISTINCT FROM old.revoked_at))) EXECUTE FUNCTION refuse_change();
CREATE TRIGGER rule_answer BEFORE INSERT ON public.decisions FOR EACH ROW WHEN ((new.given = 'by_rule'::text)) EXECUTE FUNCTION check_rule_answer();
CREATE TRIGGER waits_for_link AFTER INSERT ON public.audit_records FOR EACH ROW EXECUTE FUNCTION wait_for_link();

-- functions
CREATE OR REPLACE FUNCTION public.advance_chain(of_chain text, link_number bigint, link_previous text, link_sha256 text)
 RETURNS void
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
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
end $function$
;
CREATE OR REPLACE FUNCTION public.ask_for_seal(tenant uuid, of_kind text, subject uuid, work_order uuid, account uuid, at timestamp with time zone)
 RETURNS void
 LANGUAGE sql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
  insert into seal_requests (tenant_id, kind, subject_id, work_order_id, account_id, happened_at)
  values (tenant, of_kind, subject, work_order, account, at) on conflict do nothing
$function$
;
CREATE OR REPLACE FUNCTION public.await_retention()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  perform pg_advisory_xact_lock(hashtextextended('retention ' || new.tenant_id::text, 0));
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.chain_audit_records(ids uuid[], records text[], at timestamp with time zone)
 RETURNS void
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
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
end $function$
;
CREATE OR REPLACE FUNCTION public.chain_seal()
 RETURNS trigger
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
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
end $function$
;
CREATE OR REPLACE FUNCTION public.chain_seal_day()
 RETURNS trigger
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
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
end $function$
;
CREATE OR REPLACE FUNCTION public.check_account_answer()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if exists (
    select from decisions d
    join estimate_versions v on v.tenant_id = d.tenant_id and v.id = d.version_id
    where d.tenant_id = new.tenant_id and d.id = new.decision_id and (
      d.digest <> v.digest
      or exists (select from decision_lines l
        join estimate_lines e on e.tenant_id = l.tenant_id and e.version_id = d.version_id and e.line_id = l.line_id
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and case l.answer
          when 'approved' then l.net_minor not between
              e.net_minor - case when v.rules #>> '{vehicle,vehicleCapMinor,bigint}' is null then 0 else 1 end
              and greatest(e.net_minor, e.before_further_minor)
          else l.net_minor <> e.net_minor end)
      or d.repairs_minor - d.minimum_minor is distinct from coalesce((select sum(l.net_minor) from decision_lines l
        where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved'), 0)
      or (d.repairs_minor, d.minimum_minor, d.after_hours_minor, d.rush_minor, d.visit_minimum_minor, d.trip_minor, d.tax_minor)
          is distinct from (v.repairs_minor, v.minimum_minor, v.after_hours_minor, v.rush_minor, v.visit_minimum_minor,
            v.trip_minor, v.tax_minor)
        and not exists (select from decision_lines l
          where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'declined'))) then
    raise exception 'the answer does not come to what the estimate says' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_account_change()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if (new.state, new.decision_id) is distinct from (old.state, old.decision_id) and not (
    old.state = 'awaiting_approval' and new.state in ('approved', 'declined') and exists (
      select from decisions d where d.tenant_id = new.tenant_id and d.id = new.decision_id
        and d.work_order_id = new.id and d.version_id = new.current_version_id and d.recorded_by is null
        and (new.state = 'approved') = exists (select from decision_lines l
          where l.tenant_id = d.tenant_id and l.decision_id = d.id and l.answer = 'approved')
        and not exists (select from estimate_lines e where e.tenant_id = d.tenant_id and e.version_id = d.version_id
          and not exists (select from decision_lines l where l.tenant_id = d.tenant_id and l.decision_id = d.id
            and l.line_id = e.line_id)))) then
    raise exception 'an account only answers the estimate that waits for it' using errcode = 'insufficient_privilege';
  end if;
  if (new.own_number, new.ro_number, new.po_number) is distinct from (old.own_number, old.ro_number, old.po_number) and (
    old.state in ('invoiced', 'paid', 'declined', 'void', 'written_off')
    or old.own_number not in ('', new.own_number) or old.ro_number not in ('', new.ro_number)
    or old.po_number not in ('', new.po_number)) then
    raise exception 'an account only gives numbers that are missing' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_chain_head()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if tg_op = 'DELETE' or (new.tenant_id, new.chain) is distinct from (old.tenant_id, old.chain)
    or new.number <= old.number then
    raise exception 'a chain only grows' using errcode = 'restrict_violation';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_deletion()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  perform pg_advisory_xact_lock(hashtextextended('retention ' || new.tenant_id::text, 0));
  if not coalesce((select s.is_on from retention_switches s where s.tenant_id = new.tenant_id
    order by s.number desc limit 1), false) then
    raise exception 'nothing is deleted before it is switched on' using errcode = 'restrict_violation';
  end if;
  if not exists (select from retention_due(new.deleted_at) d
    where d.tenant_id = new.tenant_id and d.kind = new.kind and d.subject_id = new.subject_id and d.rule_id = new.rule_id
      and d.ended_on = new.ended_on and d.period = new.period and d.unit = new.unit and not d.held) then
    raise exception '% % is to be kept', new.kind, new.subject_id using errcode = 'restrict_violation';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_entry_balance()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
declare
  entry uuid;
  total numeric;
  lines integer;
begin
  if tg_table_name = 'journal_entries' then entry := new.id; else entry := new.entry_id; end if;
  select coalesce(sum(amount_minor), 0), count(*) into total, lines
    from journal_lines where tenant_id = new.tenant_id and entry_id = entry;
  if lines < 2 or total <> 0 then
    raise exception 'journal entry % does not balance: % over % lines', entry, total, lines using errcode = 'check_violation';
  end if;
  return null;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_mail_words()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if new.body <> '' or not exists (select from deletions d
    where d.tenant_id = new.tenant_id and d.kind = 'mails' and d.subject_id = new.id) then
    raise exception 'the words of a mail stay' using errcode = 'restrict_violation';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_owner_change()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if old.state <> 'done' or new.state <> 'accepted' or not exists (select from acceptances a
      where a.tenant_id = new.tenant_id and a.work_order_id = new.id and a.link_id = own_link()
        and a.outcome <> 'not_accepted') then
    raise exception 'a vehicle''s owner only accepts finished work' using errcode = 'insufficient_privilege';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_retention_rule()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
declare
  now_kept constant date := (select kept_through('2001-01-01', r.period, r.unit) from retention_rules_at(new.set_at) r
    where r.tenant_id = new.tenant_id and r.kind = new.kind);
  then_kept constant date := kept_through('2001-01-01', new.period, new.unit);
begin
  if then_kept is not null and (now_kept is null or then_kept < now_kept)
    and new.effective_at < new.set_at + interval '30 days' then
    raise exception 'a shorter period waits 30 days' using errcode = 'restrict_violation';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.check_rule_answer()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
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
end $function$
;
CREATE OR REPLACE FUNCTION public.check_seal_request()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if old.seal_number is not null or (to_jsonb(new) - 'seal_number') is distinct from (to_jsonb(old) - 'seal_number') then
    raise exception 'a seal is put once' using errcode = 'restrict_violation';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.enqueue_job(task text, subject_id uuid)
 RETURNS void
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'pg_temp'
AS $function$
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'enqueue_job needs a tenant'; end if;
  if task not in ('make_photo_derivatives', 'run_statements', 'send_mail', 'ask_for_approval', 'pass_on_answer',
    'tell_answer', 'sweep_waiting', 'mail_message', 'mail_acceptance', 'seal_records', 'make_covered_copies',
    'remove_deleted') then
    raise exception 'no task named %', task;
  end if;
  -- The role of whoever calls; inside, the function has its owner's.
  if current_setting('role') = 'grainwright_vehicle_owner' and task not in ('mail_acceptance', 'seal_records') then
    raise exception 'a vehicle''s owner asks for no %', task using errcode = 'insufficient_privilege';
  end if;
  perform graphile_worker.add_job(task, json_build_object('tenant_id', tenant, 'subject_id', subject_id),
    job_key => format('%s:%s:%s', task, tenant, subject_id), max_attempts => 12);
end $function$
;
CREATE OR REPLACE FUNCTION public.is_month_closed(tenant uuid, of_day date)
 RETURNS boolean
 LANGUAGE sql
 STABLE
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
  select coalesce((select c.action = 'closed' from month_closings c
    where c.tenant_id = tenant and c.month = date_trunc('month', of_day)::date
    order by c.step desc limit 1), false)
$function$
;
CREATE OR REPLACE FUNCTION public.keep_as_written()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  raise exception 'what a work order was written up as does not change' using errcode = 'insufficient_privilege';
end $function$
;
CREATE OR REPLACE FUNCTION public.keep_ended_draft()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if tg_table_name = 'price_drafts' then
    if old.state <> 'open' then
      raise exception 'a price list that was put into force or discarded stays as it was' using errcode = 'restrict_violation';
    end if;
    return new;
  end if;
  if exists (select from price_drafts d where d.tenant_id = coalesce(new.tenant_id, old.tenant_id)
      and d.id = coalesce(new.draft_id, old.draft_id) and d.state <> 'open') then
    raise exception 'a price list that was put into force or discarded stays as it was' using errcode = 'restrict_violation';
  end if;
  return coalesce(new, old);
end $function$
;
CREATE OR REPLACE FUNCTION public.kept_through(ended_on date, period integer, unit text)
 RETURNS date
 LANGUAGE sql
 IMMUTABLE
RETURN ((ended_on + CASE unit WHEN 'years'::text THEN make_interval(years => period) ELSE make_interval(days => period) END))::date
;
CREATE OR REPLACE FUNCTION public.link_opens(link uuid, at timestamp with time zone)
 RETURNS boolean
 LANGUAGE sql
 STABLE
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
  select link is null or exists (select from access_links l
    where l.tenant_id = nullif(current_setting('app.tenant_id', true), '')::uuid and l.account_id = own_account()
      and l.id = link and l.revoked_at is null and l.expires_at > at)
$function$
;
CREATE OR REPLACE FUNCTION public.lock_chain(of_chain text)
 RETURNS TABLE(number bigint, sha256 text)
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
#variable_conflict use_column
declare
  tenant constant uuid := nullif(current_setting('app.tenant_id', true), '')::uuid;
begin
  if tenant is null then raise exception 'a chain belongs to a tenant'; end if;
  insert into chain_heads as h (tenant_id, chain, number) values (tenant, of_chain, 0) on conflict do nothing;
  return query select h.number, h.sha256 from chain_heads h
    where h.tenant_id = tenant and h.chain = of_chain for update;
end $function$
;
CREATE OR REPLACE FUNCTION public.own_account()
 RETURNS uuid
 LANGUAGE sql
 STABLE
AS $function$ select nullif(current_setting('app.account_id', true), '')::uuid $function$
;
CREATE OR REPLACE FUNCTION public.own_link()
 RETURNS uuid
 LANGUAGE sql
 STABLE
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
  select l.id from access_links l
  where l.tenant_id = nullif(current_setting('app.tenant_id', true), '')::uuid
    and l.secret_hash = nullif(current_setting('app.link_hash', true), '')
$function$
;
CREATE OR REPLACE FUNCTION public.own_work_order()
 RETURNS uuid
 LANGUAGE sql
 STABLE
AS $function$ select nullif(current_setting('app.work_order_id', true), '')::uuid $function$
;
CREATE OR REPLACE FUNCTION public.refuse_change()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
begin
  raise exception '% is append-only: % refused', tg_table_name, tg_op using errcode = 'restrict_violation';
end $function$
;
CREATE OR REPLACE FUNCTION public.refuse_closed_month()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if is_month_closed(new.tenant_id, new.occurred_on) then
    raise exception 'the month of % is closed', new.occurred_on using errcode = 'check_violation';
  end if;
  return new;
end $function$
;
CREATE OR REPLACE FUNCTION public.request_seal()
 RETURNS trigger
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
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
end $function$
;
CREATE OR REPLACE FUNCTION public.retention_due(at timestamp with time zone)
 RETURNS TABLE(tenant_id uuid, kind text, subject_id uuid, work_order_id uuid, account_id uuid, ended_on date, kept_through date, bytes bigint, held boolean, rule_id uuid, period integer, unit text)
 LANGUAGE sql
 STABLE
BEGIN ATOMIC
 SELECT c.tenant_id,
     c.kind,
     c.subject_id,
     c.work_order_id,
     c.account_id,
     ((c.ended_at AT TIME ZONE b.time_zone))::date AS timezone,
     kept_through(((c.ended_at AT TIME ZONE b.time_zone))::date, r.period, r.unit) AS kept_through,
     c.bytes,
     c.held,
     r.id,
     r.period,
     r.unit
    FROM ((retention_rules_at(retention_due.at) r(tenant_id, id, kind, number, period, unit, reason, set_by, set_at, effective_at)
      JOIN businesses b ON ((b.tenant_id = r.tenant_id)))
      JOIN retention_candidates c ON (((c.tenant_id = r.tenant_id) AND (c.kind = r.kind))))
   WHERE ((r.period IS NOT NULL) AND (kept_through(((c.ended_at AT TIME ZONE b.time_zone))::date, r.period, r.unit) < ((retention_due.at AT TIME ZONE b.time_zone))::date));
END
;
CREATE OR REPLACE FUNCTION public.retention_rules_at(at timestamp with time zone)
 RETURNS SETOF retention_rules
 LANGUAGE sql
 STABLE
BEGIN ATOMIC
 SELECT DISTINCT ON (r.tenant_id, r.kind) r.tenant_id,
     r.id,
     r.kind,
     r.number,
     r.period,
     r.unit,
     r.reason,
     r.set_by,
     r.set_at,
     r.effective_at
    FROM retention_rules r
   WHERE ((r.effective_at <= retention_rules_at.at) AND (NOT (EXISTS ( SELECT
            FROM retention_rules newer
           WHERE ((newer.tenant_id = r.tenant_id) AND (newer.kind = r.kind) AND (newer.number > r.number) AND (newer.set_at < r.effective_at))))))
   ORDER BY r.tenant_id, r.kind, r.number DESC;
END
;
CREATE OR REPLACE FUNCTION public.shown_to_accounts(action text)
 RETURNS boolean
 LANGUAGE sql
 IMMUTABLE
 SET search_path TO 'pg_catalog', 'pg_temp'
AS $function$
  select action in ('work_order_written_up', 'work_order_submitted', 'approval_asked', 'answer_passed_on',
    'estimate_revised', 'work_order_price_changed', 'work_order_approved', 'work_order_approved_by_rule',
    'work_order_declined', 'work_order_lapsed', 'photo_added', 'photo_covered', 'work_order_started',
    'work_order_finished', 'acceptance_taken', 'visit_accepted', 'work_order_accepted', 'signature_missing',
    'work_order_released', 'work_order_reworked_done', 'work_order_voided', 'numbers_given', 'message_written',
    'work_order_invoiced', 'work_order_settled', 'work_order_payment_came_back', 'work_order_invoice_voided',
    'invoice_issued', 'invoice_voided', 'credit_note_issued', 'credit_note_applied', 'dispute_opened',
    'dispute_answered', 'late_charge_charged', 'discount_taken', 'statement_issued')
$function$
;
CREATE OR REPLACE FUNCTION public.tell_news()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  perform pg_notify('grainwright_news', (to_jsonb(new) ->> 'tenant_id') || ' ' || (to_jsonb(new) ->> tg_argv[0]));
  return null;
end $function$
;
CREATE OR REPLACE FUNCTION public.tell_sealer()
 RETURNS trigger
 LANGUAGE plpgsql
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  if nullif(current_setting('app.tenant_id', true), '') is not null then
    perform enqueue_job('seal_records', new.tenant_id);
  end if;
  return null;
end $function$
;
CREATE OR REPLACE FUNCTION public.wait_for_link()
 RETURNS trigger
 LANGUAGE plpgsql
 SECURITY DEFINER
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
begin
  insert into audit_waiting (tenant_id, audit_id) values (new.tenant_id, new.id);
  return null;
end $function$
;
CREATE OR REPLACE FUNCTION public.zones_rise(zones jsonb)
 RETURNS boolean
 LANGUAGE sql
 IMMUTABLE
 SET search_path TO 'pg_catalog', 'public', 'pg_temp'
AS $function$
  select jsonb_typeof(zones) = 'array' and not exists (
    select from (
      select zone ->> 'name' as name, (zone ->> 'up_to_miles')::numeric as miles,
        (zone ->> 'amount_minor')::bigint as amount,
        lag((zone ->> 'up_to_miles')::numeric, 1, 0) over (order by place) as nearer
      from jsonb_array_elements(zones) with ordinality as listed (zone, place)) each
    where (length(name) between 1 and 40 and miles > nearer and amount >= 0) is not true)
$function$
;
CREATE OR REPLACE PROCEDURE public.account_adds(IN tenant_table regclass, IN rule text)
 LANGUAGE plpgsql
AS $procedure$
declare
  own constant text := 'tenant_id = (select nullif(current_setting(''app.tenant_id'', true), '''')::uuid)';
begin
  execute format('alter policy account on %s with check (%s and (%s))', tenant_table, own, rule);
end $procedure$
;
CREATE OR REPLACE PROCEDURE public.append_only(IN tenant_table regclass)
 LANGUAGE plpgsql
AS $procedure$
begin
  execute format('create trigger append_only before update or delete on %s for each row execute function public.refuse_change()', tenant_table);
  execute format('create trigger append_only_truncate before truncate on %s for each statement execute function public.refuse_change()', tenant_table);
end $procedure$
;
CREATE OR REPLACE PROCEDURE public.staff_adds(IN tenant_table regclass, IN rule text)
 LANGUAGE plpgsql
AS $procedure$
declare
  own constant text := 'tenant_id = (select nullif(current_setting(''app.tenant_id'', true), '''')::uuid)';
begin
  execute format('alter policy tenant on %s with check (%s and (%s))', tenant_table, own, rule);
end $procedure$
;
CREATE OR REPLACE PROCEDURE public.wall(IN tenant_table regclass, IN account_rule text DEFAULT NULL::text, IN vehicle_owner_rule text DEFAULT NULL::text)
 LANGUAGE plpgsql
AS $procedure$
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
end $procedure$
;

-- rights
grainwright_account: INSERT on public.audit_records;
grainwright_account: INSERT on public.messages;
grainwright_account: INSERT, SELECT on public.approval_delegation_ends;
grainwright_account: INSERT, SELECT on public.approval_delegations;
grainwright_account: INSERT, SELECT on public.decision_lines;
grainwright_account: INSERT, SELECT on public.decisions;
grainwright_account: INSERT, SELECT on public.disputes;
grainwright_account: INSERT, SELECT on public.handed_in_certificates;
grainwright_account: INSERT, SELECT on public.passed_on_answers;
grainwright_account: INSERT, SELECT on public.work_order_steps;
grainwright_account: SELECT (acceptance_rule, billing_address, ended_on, id, invoice_rule, kind, name, no_show_fee_minor, opened_on, own_number_kind, own_number_required, remind_after_hours, requires_po, requires_ro, short_name, statement_email, statement_kind, tenant_id, terms_days) on public.accounts;
grainwright_account: SELECT (accepted_at, answered_at, id, identified_by, link_id, method, outcome, remark, shown, shown_digest, signature_key, signature_sha256, signer_name, signer_role, strokes, taken_by, tenant_id, typed_name, visit_signature_id, work_order_id) on public.acceptances;
grainwright_account: SELECT (account_id, action, at, id, made_on_phone_at, person_id, subject_id, subject_kind, tenant_id) on public.audit_records;
grainwright_account: SELECT (account_id, airbag_lamp_after, airbag_lamp_before, current_version_id, decision_id, duplicate_of_id, hold_reason, id, made_at, no_show_fee_minor, number, odometer_miles, own_number, owner_name, owner_phone, po_number, rework_of_id, rework_reason, ro_number, state, tenant_id, vehicle_as_written, vehicle_id, visit_id, void_note, void_reason, written_up_at) on public.work_orders;
grainwright_account: SELECT (account_id, amount_minor, credit_note_id, id, moved_on, payment_id, takes_back, tenant_id) on public.credit_moves;
grainwright_account: SELECT (account_id, amount_minor, id, invoice_id, kind, tenant_id, written_off_on) on public.write_offs;
grainwright_account: SELECT (account_id, asked, buyer, currency, id, invoice_id, issued_at, issued_by, issued_on, net_minor, number, reason, seller, sequence, tax_minor, tenant_id, total_minor) on public.credit_notes;
grainwright_account: SELECT (account_id, asked_at, asked_by, id, passed_on_id, person_id, tenant_id, version_id, why, work_order_id) on public.approval_asks;
grainwright_account: SELECT (account_id, author_id, id, side, tenant_id, text, work_order_id, written_at) on public.messages;
grainwright_account: SELECT (account_id, buyer, certificate_number, certificates, currency, due_on, id, issued_at, issued_by, issued_on, kind, net_minor, number, seller, sequence, subject, tax_minor, tenant_id, total_minor, visit_id, worked_on) on public.invoices;
grainwright_account: SELECT (account_id, content, content_sha256, happened_at, key_id, kind, number, previous, sealed_at, sealed_on, sha256, signature, subject_id, tenant_id, text, work_order_id) on public.seals;
grainwright_account: SELECT (account_id, expires_at, id, person_id, purpose, revoked_at, tenant_id, work_order_id) on public.access_links;
grainwright_account: SELECT (account_id, person_id, tenant_id, work_order_id) on public.numbers_chased;
grainwright_account: SELECT (after_factor_minor, before_further_minor, before_further_trail, code, description, further_percent, labor_minor, line_id, list_minor, materials_minor, materials_percent, net_minor, position, repair, takes_further_repair, tenant_id, trail, version_id) on public.estimate_lines;
grainwright_account: SELECT (amount_minor, fitting_hours, given_at, hourly_minor, id, note, origin, part, part_minor, side, superseded_at, tenant_id, work_order_id) on public.replacement_quotes;
grainwright_account: SELECT (bare_sha256, captured_at, height, id, line_id, media_type, purpose, received_at, retake_of, sha256, taken_at_local, tenant_id, width, work_order_id) on public.photos;
grainwright_account: SELECT (bytes, captured_at, id, kind, media_type, names_place, received_at, seconds, sha256, tenant_id, work_order_id) on public.recordings;
grainwright_account: SELECT (cause, id, key_id, made_at, number, public_key, tenant_id) on public.signing_keys;
grainwright_account: SELECT (covers, id, made_at, number, photo_id, tenant_id) on public.photo_coverings;
grainwright_account: SELECT (damage, factor_code, family, id, inference, layers, material, measured_inches, methods, note, observation, overrule_reason, part, position, rate_code, repairs_damage, side, tenant_id, visible_when, withdrawn_at, work_order_id) on public.work_order_lines;
grainwright_account: SELECT (deleted_at, id, kind, period, subject_id, tenant_id, unit) on public.deletions;
grainwright_account: SELECT (has_email, id, name, tenant_id) on public.people;
grainwright_account: SELECT (id, made_at, number, recording_id, tenant_id, withheld) on public.recording_withholdings;
grainwright_account: SELECT (person_id, tenant_id) on public.staff_members;
grainwright_account: SELECT (recovered_on, tenant_id, write_off_id) on public.write_off_recoveries;
grainwright_account: SELECT on public.acceptance_releases;
grainwright_account: SELECT on public.businesses;
grainwright_account: SELECT on public.certificate_checks;
grainwright_account: SELECT on public.certificates;
grainwright_account: SELECT on public.contacts;
grainwright_account: SELECT on public.covered_copies;
grainwright_account: SELECT on public.credit_note_applications;
grainwright_account: SELECT on public.credit_note_balances;
grainwright_account: SELECT on public.credit_note_lines;
grainwright_account: SELECT on public.credit_note_taxes;
grainwright_account: SELECT on public.decision_signatures;
grainwright_account: SELECT on public.discounts_taken;
grainwright_account: SELECT on public.dispute_answers;
grainwright_account: SELECT on public.estimate_versions;
grainwright_account: SELECT on public.invoice_balances;
grainwright_account: SELECT on public.invoice_lines;
grainwright_account: SELECT on public.invoice_taxes;
grainwright_account: SELECT on public.invoice_visits;
grainwright_account: SELECT on public.invoice_voids;
grainwright_account: SELECT on public.invoice_work_orders;
grainwright_account: SELECT on public.journal_entries;
grainwright_account: SELECT on public.journal_lines;
grainwright_account: SELECT on public.key_tests;
grainwright_account: SELECT on public.late_charges;
grainwright_account: SELECT on public.missing_signatures;
grainwright_account: SELECT on public.payment_applications;
grainwright_account: SELECT on public.payment_balances;
grainwright_account: SELECT on public.payment_returns;
grainwright_account: SELECT on public.payment_unapplications;
grainwright_account: SELECT on public.payments;
grainwright_account: SELECT on public.photo_derivatives;
grainwright_account: SELECT on public.purchase_orders;
grainwright_account: SELECT on public.recording_files;
grainwright_account: SELECT on public.refunds;
grainwright_account: SELECT on public.seal_days;
grainwright_account: SELECT on public.shown_copies;
grainwright_account: SELECT on public.sites;
grainwright_account: SELECT on public.standing_approvals;
grainwright_account: SELECT on public.standing_coverings;
grainwright_account: SELECT on public.statement_files;
grainwright_account: SELECT on public.statements;
grainwright_account: SELECT on public.stop_points;
grainwright_account: SELECT on public.tax_areas;
grainwright_account: SELECT on public.vehicles;
grainwright_account: SELECT on public.visit_signatures;
grainwright_account: SELECT on public.visits;
grainwright_account: SELECT on public.withheld_recordings;
grainwright_account: UPDATE (decision_id, own_number, po_number, ro_number, state) on public.work_orders;
grainwright_account: UPDATE (remind_after_hours) on public.accounts;
grainwright_link: SELECT (account_id, expires_at, id, person_id, purpose, revoked_at, secret_hash, tenant_id, work_order_id) on public.access_links;
grainwright_registry: DELETE, INSERT, SELECT, UPDATE on registry.sessions;
grainwright_registry: DELETE, INSERT, SELECT, UPDATE on registry.sign_in_failures;
grainwright_registry: INSERT, SELECT on registry.tenants;
grainwright_registry: INSERT, SELECT, UPDATE on registry.memberships;
grainwright_registry: INSERT, SELECT, UPDATE on registry.users;
grainwright_registry: UPDATE (name) on registry.tenants;
grainwright_staff: DELETE, INSERT, SELECT on public.billed_work_orders;
grainwright_staff: DELETE, INSERT, SELECT on public.price_draft_rates;
grainwright_staff: DELETE, INSERT, SELECT on public.upload_parts;
grainwright_staff: DELETE, INSERT, SELECT on public.uploads;
grainwright_staff: DELETE, INSERT, SELECT on public.visits;
grainwright_staff: DELETE, INSERT, SELECT, UPDATE on public.work_order_lines;
grainwright_staff: INSERT, SELECT on public.acceptance_copies;
grainwright_staff: INSERT, SELECT on public.acceptance_releases;
grainwright_staff: INSERT, SELECT on public.acceptance_requests;
grainwright_staff: INSERT, SELECT on public.acceptances;
grainwright_staff: INSERT, SELECT on public.access_links;
grainwright_staff: INSERT, SELECT on public.account_groups;
grainwright_staff: INSERT, SELECT on public.account_prices;
grainwright_staff: INSERT, SELECT on public.approval_asks;
grainwright_staff: INSERT, SELECT on public.approval_delegation_ends;
grainwright_staff: INSERT, SELECT on public.approval_delegations;
grainwright_staff: INSERT, SELECT on public.approval_reminders;
grainwright_staff: INSERT, SELECT on public.audit_records;
grainwright_staff: INSERT, SELECT on public.businesses;
grainwright_staff: INSERT, SELECT on public.care_factors;
grainwright_staff: INSERT, SELECT on public.care_percents;
grainwright_staff: INSERT, SELECT on public.caution_acknowledgments;
grainwright_staff: INSERT, SELECT on public.certificate_checks;
grainwright_staff: INSERT, SELECT on public.clearing_movements;
grainwright_staff: INSERT, SELECT on public.commission_rates;
grainwright_staff: INSERT, SELECT on public.contracts;
grainwright_staff: INSERT, SELECT on public.credit_moves;
grainwright_staff: INSERT, SELECT on public.credit_note_applications;
grainwright_staff: INSERT, SELECT on public.credit_note_balances;
grainwright_staff: INSERT, SELECT on public.credit_note_lines;
grainwright_staff: INSERT, SELECT on public.credit_note_tax_bases;
grainwright_staff: INSERT, SELECT on public.credit_note_taxes;
grainwright_staff: INSERT, SELECT on public.credit_notes;
grainwright_staff: INSERT, SELECT on public.decision_lines;
grainwright_staff: INSERT, SELECT on public.decision_signatures;
grainwright_staff: INSERT, SELECT on public.decisions;
grainwright_staff: INSERT, SELECT on public.deletion_removals;
grainwright_staff: INSERT, SELECT on public.deletions;
grainwright_staff: INSERT, SELECT on public.discounts_taken;
grainwright_staff: INSERT, SELECT on public.dispute_answers;
grainwright_staff: INSERT, SELECT on public.disputes;
grainwright_staff: INSERT, SELECT on public.estimate_lines;
grainwright_staff: INSERT, SELECT on public.estimate_versions;
grainwright_staff: INSERT, SELECT on public.floor_consents;
grainwright_staff: INSERT, SELECT on public.invoice_balances;
grainwright_staff: INSERT, SELECT on public.invoice_lines;
grainwright_staff: INSERT, SELECT on public.invoice_tax_bases;
grainwright_staff: INSERT, SELECT on public.invoice_taxes;
grainwright_staff: INSERT, SELECT on public.invoice_visits;
grainwright_staff: INSERT, SELECT on public.invoice_voids;
grainwright_staff: INSERT, SELECT on public.invoice_work_orders;
grainwright_staff: INSERT, SELECT on public.invoices;
grainwright_staff: INSERT, SELECT on public.journal_entries;
grainwright_staff: INSERT, SELECT on public.journal_lines;
grainwright_staff: INSERT, SELECT on public.key_tests;
grainwright_staff: INSERT, SELECT on public.late_charges;
grainwright_staff: INSERT, SELECT on public.legal_hold_ends;
grainwright_staff: INSERT, SELECT on public.legal_holds;
grainwright_staff: INSERT, SELECT on public.messages;
grainwright_staff: INSERT, SELECT on public.missing_signatures;
grainwright_staff: INSERT, SELECT on public.month_closings;
grainwright_staff: INSERT, SELECT on public.numbers_chased;
grainwright_staff: INSERT, SELECT on public.opening_items;
grainwright_staff: INSERT, SELECT on public.openings;
grainwright_staff: INSERT, SELECT on public.outgoing_mail_attachments;
grainwright_staff: INSERT, SELECT on public.outgoing_mails;
grainwright_staff: INSERT, SELECT on public.parked_receipts;
grainwright_staff: INSERT, SELECT on public.payment_applications;
grainwright_staff: INSERT, SELECT on public.payment_balances;
grainwright_staff: INSERT, SELECT on public.payment_returns;
grainwright_staff: INSERT, SELECT on public.payment_unapplications;
grainwright_staff: INSERT, SELECT on public.payments;
grainwright_staff: INSERT, SELECT on public.photo_checks;
grainwright_staff: INSERT, SELECT on public.photo_coverings;
grainwright_staff: INSERT, SELECT on public.photo_overrides;
grainwright_staff: INSERT, SELECT on public.photos;
grainwright_staff: INSERT, SELECT on public.price_drafts;
grainwright_staff: INSERT, SELECT on public.price_terms;
grainwright_staff: INSERT, SELECT on public.purchase_orders;
grainwright_staff: INSERT, SELECT on public.rates;
grainwright_staff: INSERT, SELECT on public.receipt_assignments;
grainwright_staff: INSERT, SELECT on public.recording_files;
grainwright_staff: INSERT, SELECT on public.recording_withholdings;
grainwright_staff: INSERT, SELECT on public.recordings;
grainwright_staff: INSERT, SELECT on public.refunds;
grainwright_staff: INSERT, SELECT on public.replacement_quotes;
grainwright_staff: INSERT, SELECT on public.retention_rules;
grainwright_staff: INSERT, SELECT on public.retention_switches;
grainwright_staff: INSERT, SELECT on public.seam_releases;
grainwright_staff: INSERT, SELECT on public.signing_keys;
grainwright_staff: INSERT, SELECT on public.standing_approvals;
grainwright_staff: INSERT, SELECT on public.statement_run_accounts;
grainwright_staff: INSERT, SELECT on public.statement_runs;
grainwright_staff: INSERT, SELECT on public.statements;
grainwright_staff: INSERT, SELECT on public.stop_points;
grainwright_staff: INSERT, SELECT on public.tax_areas;
grainwright_staff: INSERT, SELECT on public.tax_classes;
grainwright_staff: INSERT, SELECT on public.tax_rates;
grainwright_staff: INSERT, SELECT on public.tier_prices;
grainwright_staff: INSERT, SELECT on public.tier_terms;
grainwright_staff: INSERT, SELECT on public.tiers;
grainwright_staff: INSERT, SELECT on public.vehicles;
grainwright_staff: INSERT, SELECT on public.visit_signatures;
grainwright_staff: INSERT, SELECT on public.work_order_steps;
grainwright_staff: INSERT, SELECT on public.write_off_recoveries;
grainwright_staff: INSERT, SELECT on public.write_off_taxes;
grainwright_staff: INSERT, SELECT on public.write_offs;
grainwright_staff: INSERT, SELECT, UPDATE on public.accounts;
grainwright_staff: INSERT, SELECT, UPDATE on public.certificates;
grainwright_staff: INSERT, SELECT, UPDATE on public.contacts;
grainwright_staff: INSERT, SELECT, UPDATE on public.document_numbers;
grainwright_staff: INSERT, SELECT, UPDATE on public.people;
grainwright_staff: INSERT, SELECT, UPDATE on public.sites;
grainwright_staff: INSERT, SELECT, UPDATE on public.staff_members;
grainwright_staff: INSERT, SELECT, UPDATE on public.work_orders;
grainwright_staff: SELECT on public.audit_links;
grainwright_staff: SELECT on public.chain_heads;
grainwright_staff: SELECT on public.covered_copies;
grainwright_staff: SELECT on public.handed_in_certificates;
grainwright_staff: SELECT on public.held_work_orders;
grainwright_staff: SELECT on public.passed_on_answers;
grainwright_staff: SELECT on public.photo_derivatives;
grainwright_staff: SELECT on public.retention_candidates;
grainwright_staff: SELECT on public.seal_days;
grainwright_staff: SELECT on public.seal_requests;
grainwright_staff: SELECT on public.seals;
grainwright_staff: SELECT on public.shown_copies;
grainwright_staff: SELECT on public.standing_coverings;
grainwright_staff: SELECT on public.statement_files;
grainwright_staff: SELECT on public.vehicle_owner_lines;
grainwright_staff: SELECT on public.withheld_recordings;
grainwright_staff: SELECT on public.work_order_ends;
grainwright_staff: UPDATE (acceptance_copy_days, acceptance_link_days, address, certificate_warning_days, comeback_days, document_note, duplicate_days, email, estimate_valid_days, late_charge_grace_days, late_charge_percent, logo_key, logo_media_type, name, page_size, phone, return_fee_minor, settings_revision, small_difference_minor, warranty_days, write_off_reclaims_tax) on public.businesses;
grainwright_staff: UPDATE (base, counts_from, ended_at, ended_by, name, revision, state) on public.price_drafts;
grainwright_staff: UPDATE (body, settled_at, state, tries) on public.outgoing_mails;
grainwright_staff: UPDATE (cap_minor, note, valid_to) on public.purchase_orders;
grainwright_staff: UPDATE (last_part_at, used_at, used_for) on public.uploads;
grainwright_staff: UPDATE (open_minor) on public.invoice_balances;
grainwright_staff: UPDATE (position) on public.visits;
grainwright_staff: UPDATE (problem, state, statement_id) on public.statement_run_accounts;
grainwright_staff: UPDATE (revoked_at) on public.access_links;
grainwright_staff: UPDATE (superseded_at) on public.replacement_quotes;
grainwright_staff: UPDATE (unanswered_at) on public.acceptance_requests;
grainwright_staff: UPDATE (unapplied_minor) on public.credit_note_balances;
grainwright_staff: UPDATE (unapplied_minor) on public.payment_balances;
grainwright_staff: UPDATE (valid_to) on public.account_prices;
grainwright_staff: UPDATE (valid_to) on public.care_percents;
grainwright_staff: UPDATE (valid_to) on public.commission_rates;
grainwright_staff: UPDATE (valid_to) on public.contracts;
grainwright_staff: UPDATE (valid_to) on public.price_terms;
grainwright_staff: UPDATE (valid_to) on public.rates;
grainwright_staff: UPDATE (valid_to) on public.standing_approvals;
grainwright_staff: UPDATE (valid_to) on public.tax_classes;
grainwright_staff: UPDATE (valid_to) on public.tax_rates;
grainwright_staff: UPDATE (valid_to) on public.tier_prices;
grainwright_staff: UPDATE (valid_to) on public.tier_terms;
grainwright_vehicle_owner: INSERT on public.audit_records;
grainwright_vehicle_owner: INSERT on public.work_order_steps;
grainwright_vehicle_owner: INSERT, SELECT on public.acceptances;
grainwright_vehicle_owner: SELECT (acceptance_id, id, link_id, tenant_id, work_order_id) on public.acceptance_copies;
grainwright_vehicle_owner: SELECT (account_id, decision_id, id, number, owner_name, state, tenant_id, vehicle_as_written, vehicle_id, visit_id) on public.work_orders;
grainwright_vehicle_owner: SELECT (address, aging_basis, currency, document_note, email, estimate_valid_days, invoice_prefix, logo_key, logo_media_type, name, phone, tax_basis, tax_components, tenant_id, time_zone) on public.businesses;
grainwright_vehicle_owner: SELECT (answer, decision_id, line_id, tenant_id) on public.decision_lines;
grainwright_vehicle_owner: SELECT (bare_sha256, captured_at, height, id, line_id, media_type, purpose, received_at, retake_of, sha256, taken_at_local, tenant_id, width, work_order_id) on public.photos;
grainwright_vehicle_owner: SELECT (covers, id, made_at, number, photo_id, tenant_id) on public.photo_coverings;
grainwright_vehicle_owner: SELECT (damage, family, id, methods, part, position, repairs_damage, side, tenant_id, work_order_id) on public.work_order_lines;
grainwright_vehicle_owner: SELECT (day, id, technician_id, tenant_id) on public.visits;
grainwright_vehicle_owner: SELECT (deleted_at, id, kind, period, subject_id, tenant_id, unit) on public.deletions;
grainwright_vehicle_owner: SELECT (expires_at, id, purpose, revoked_at, secret_hash, tenant_id, work_order_id) on public.access_links;
grainwright_vehicle_owner: SELECT (id, line_id, made_at, note, photo_id, shown, tenant_id, work_order_id) on public.stop_points;
grainwright_vehicle_owner: SELECT (id, name, tenant_id) on public.people;
grainwright_vehicle_owner: SELECT (id, tenant_id, work_order_id) on public.decisions;
grainwright_vehicle_owner: SELECT (key_id, kind, number, sealed_at, sha256, subject_id, tenant_id, work_order_id) on public.seals;
grainwright_vehicle_owner: SELECT (person_id, tenant_id) on public.staff_members;
grainwright_vehicle_owner: SELECT on public.covered_copies;
grainwright_vehicle_owner: SELECT on public.photo_derivatives;
grainwright_vehicle_owner: SELECT on public.shown_copies;
grainwright_vehicle_owner: SELECT on public.standing_coverings;
grainwright_vehicle_owner: SELECT on public.vehicle_owner_lines;
grainwright_vehicle_owner: SELECT on public.vehicles;
grainwright_vehicle_owner: UPDATE (state) on public.work_orders;
grainwright_worker: DELETE, SELECT on public.upload_parts;
grainwright_worker: DELETE, SELECT on public.uploads;
grainwright_worker: INSERT, SELECT on public.covered_copies;
grainwright_worker: INSERT, SELECT on public.photo_derivatives;
grainwright_worker: INSERT, SELECT on public.seal_days;
grainwright_worker: INSERT, SELECT on public.seals;
grainwright_worker: INSERT, SELECT on public.signing_keys;
grainwright_worker: INSERT, SELECT on public.statement_files;
grainwright_worker: SELECT on public.acceptance_releases;
grainwright_worker: SELECT on public.acceptance_requests;
grainwright_worker: SELECT on public.acceptances;
grainwright_worker: SELECT on public.access_links;
grainwright_worker: SELECT on public.accounts;
grainwright_worker: SELECT on public.approval_delegations;
grainwright_worker: SELECT on public.audit_links;
grainwright_worker: SELECT on public.audit_records;
grainwright_worker: SELECT on public.audit_waiting;
grainwright_worker: SELECT on public.businesses;
grainwright_worker: SELECT on public.chain_heads;
grainwright_worker: SELECT on public.credit_note_lines;
grainwright_worker: SELECT on public.credit_notes;
grainwright_worker: SELECT on public.decision_lines;
grainwright_worker: SELECT on public.decision_signatures;
grainwright_worker: SELECT on public.decisions;
grainwright_worker: SELECT on public.deletions;
grainwright_worker: SELECT on public.estimate_versions;
grainwright_worker: SELECT on public.invoices;
grainwright_worker: SELECT on public.missing_signatures;
grainwright_worker: SELECT on public.outgoing_mail_attachments;
grainwright_worker: SELECT on public.outgoing_mails;
grainwright_worker: SELECT on public.people;
grainwright_worker: SELECT on public.photo_checks;
grainwright_worker: SELECT on public.photo_coverings;
grainwright_worker: SELECT on public.photo_overrides;
grainwright_worker: SELECT on public.photos;
grainwright_worker: SELECT on public.recording_files;
grainwright_worker: SELECT on public.recordings;
grainwright_worker: SELECT on public.seal_requests;
grainwright_worker: SELECT on public.shown_copies;
grainwright_worker: SELECT on public.standing_coverings;
grainwright_worker: SELECT on public.statements;
grainwright_worker: SELECT on public.tax_areas;
grainwright_worker: SELECT on public.vehicles;
grainwright_worker: SELECT on public.visit_signatures;
grainwright_worker: SELECT on public.work_orders;
grainwright_worker: UPDATE (problem, settled_at, state, tries) on public.outgoing_mails;
