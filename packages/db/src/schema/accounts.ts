import {
  type AccountGroupId,
  type AccountId,
  type CertificateId,
  type CommissionRateId,
  decimal,
  type PersonId,
  type PurchaseOrderId,
  type SiteId,
  type StandingApprovalId,
  type TenantId,
} from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import { boolean, integer, pgTable, text } from 'drizzle-orm/pg-core';
import { day, exact, id, minor, moment } from './columns.ts';

export const businesses = pgTable('businesses', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  name: text('name').notNull(),
  address: text('address').notNull(),
  phone: text('phone').notNull(),
  email: text('email').notNull(),
  timeZone: text('time_zone').notNull(),
  currency: text('currency').notNull(),
  taxComponents: text('tax_components').$type<'each' | 'together'>().notNull(),
  taxBasis: text('tax_basis').$type<'invoice' | 'item'>().notNull(),
  agingBasis: text('aging_basis').$type<'due_date' | 'document_date'>().notNull(),
  invoicePrefix: text('invoice_prefix').notNull(),
  estimateValidDays: integer('estimate_valid_days').notNull(),
  documentNote: text('document_note').notNull().default(''),
  creditNotePrefix: text('credit_note_prefix').notNull().default('CN-'),
  feePrefix: text('fee_prefix').notNull().default('FEE-'),
  smallDifferenceMinor: minor('small_difference_minor').notNull().default(200n),
  returnFeeMinor: minor('return_fee_minor').notNull().default(0n),
  lateChargePercent: exact('late_charge_percent').notNull().default(decimal('0')),
  lateChargeGraceDays: integer('late_charge_grace_days').notNull().default(0),
  writeOffReclaimsTax: boolean('write_off_reclaims_tax').notNull().default(false),
  duplicateDays: integer('duplicate_days').notNull().default(30),
  comebackDays: integer('comeback_days').notNull().default(90),
  warrantyDays: integer('warranty_days').notNull().default(90),
  acceptanceLinkDays: integer('acceptance_link_days').notNull().default(14),
  acceptanceCopyDays: integer('acceptance_copy_days').notNull().default(365),
  certificateWarningDays: integer('certificate_warning_days').notNull().default(30),
  pageSize: text('page_size').$type<'letter' | 'a4'>().notNull().default('letter'),
  logoKey: text('logo_key'),
  logoMediaType: text('logo_media_type').$type<'image/png' | 'image/jpeg'>(),
  /** Counted up with every change of these settings. */
  settingsRevision: integer('settings_revision').notNull().default(1),
});

export const people = pgTable('people', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PersonId>('id').notNull(),
  name: text('name').notNull(),
  email: text('email').notNull().default(''),
  phone: text('phone').notNull().default(''),
  /** Whether mail can go there: all that the account’s own people learn of it. The database writes it. */
  hasEmail: boolean('has_email').notNull().generatedAlwaysAs(sql`email <> ''`),
});

export const staffMembers = pgTable('staff_members', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  role: text('role').$type<'owner' | 'office' | 'technician' | 'bookkeeper'>().notNull(),
  shortName: text('short_name').notNull(),
  endedOn: day('ended_on'),
  pricesByHand: boolean('prices_by_hand').notNull().default(false),
});

export const commissionRates = pgTable('commission_rates', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<CommissionRateId>('id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  percent: exact('percent').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
  setBy: id<PersonId>('set_by').notNull(),
  setAt: moment('set_at').notNull(),
});

export const taxAreas = pgTable('tax_areas', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  code: text('code').notNull(),
  name: text('name').notNull(),
});

export const tiers = pgTable('tiers', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  code: text('code').notNull(),
  name: text('name').notNull(),
});

export const tierTerms = pgTable('tier_terms', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  tierCode: text('tier_code').notNull(),
  discountPercent: exact('discount_percent').notNull(),
  vehicleMinimumMinor: minor('vehicle_minimum_minor').notNull(),
  vehicleCapMinor: minor('vehicle_cap_minor'),
  visitMinimumMinor: minor('visit_minimum_minor').notNull(),
  tripWaivedFromMinor: minor('trip_waived_from_minor'),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const accounts = pgTable('accounts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<AccountId>('id').notNull(),
  shortName: text('short_name').notNull(),
  name: text('name').notNull(),
  kind: text('kind')
    .$type<
      | 'used_car_lot'
      | 'new_car_dealer'
      | 'glass_installer'
      | 'tint_shop'
      | 'body_shop'
      | 'fleet'
      | 'rental'
      | 'wholesaler'
      | 'insurer'
      | 'retail'
    >()
    .notNull(),
  billingAddress: text('billing_address').notNull().default(''),
  tierCode: text('tier_code').notNull(),
  taxAreaId: id('tax_area_id').notNull(),
  termsDays: integer('terms_days').notNull(),
  statementKind: text('statement_kind').$type<'open_item' | 'balance_forward' | 'none'>().notNull(),
  invoiceRule: text('invoice_rule').$type<'at_once' | 'per_visit' | 'monthly'>().notNull(),
  requiresRo: boolean('requires_ro').notNull().default(false),
  requiresPo: boolean('requires_po').notNull().default(false),
  ownNumberKind: text('own_number_kind').$type<'stock' | 'unit' | 'lot' | 'job' | 'claim'>(),
  ownNumberRequired: boolean('own_number_required').notNull().default(false),
  acceptanceRule: text('acceptance_rule')
    .$type<'none' | 'vehicle_owner' | 'account_representative'>()
    .notNull(),
  photoRule: text('photo_rule').$type<'retail' | 'trade' | 'lot'>().notNull(),
  showsPricesAtAcceptance: boolean('shows_prices_at_acceptance').notNull().default(false),
  walkIn: boolean('walk_in').notNull().default(false),
  openedOn: day('opened_on').notNull(),
  endedOn: day('ended_on'),
  groupId: id<AccountGroupId>('group_id'),
  noShowFeeMinor: minor('no_show_fee_minor'),
  appliesMoneyItself: boolean('applies_money_itself').notNull().default(false),
  statementEmail: text('statement_email').notNull().default(''),
  successorId: id<AccountId>('successor_id'),
  remindAfterHours: integer('remind_after_hours'),
});

export const accountGroups = pgTable('account_groups', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<AccountGroupId>('id').notNull(),
  name: text('name').notNull(),
});

export const sites = pgTable('sites', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<SiteId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  name: text('name').notNull(),
  address: text('address').notNull().default(''),
  miles: exact('miles').notNull(),
});

export const contacts = pgTable('contacts', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  personId: id<PersonId>('person_id').notNull(),
  role: text('role').$type<'approver' | 'payer' | 'viewer'>().notNull(),
  limitMinor: minor('limit_minor'),
  endedOn: day('ended_on'),
  /** From 1: in which order approvers are asked. */
  askPosition: integer('ask_position').notNull().default(1),
});

export const certificates = pgTable('certificates', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<CertificateId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  kind: text('kind').$type<'resale' | 'exempt_use'>().notNull(),
  number: text('number').notNull(),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
});

export const standingApprovals = pgTable('standing_approvals', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<StandingApprovalId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  perVehicleMinor: minor('per_vehicle_minor'),
  perVisitMinor: minor('per_visit_minor'),
  perMonthMinor: minor('per_month_minor'),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
  note: text('note').notNull(),
  setBy: id<PersonId>('set_by').notNull(),
  setAt: moment('set_at').notNull(),
});

export const purchaseOrders = pgTable('purchase_orders', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PurchaseOrderId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  number: text('number').notNull(),
  capMinor: minor('cap_minor'),
  validFrom: day('valid_from').notNull(),
  validTo: day('valid_to'),
  note: text('note').notNull().default(''),
});
