import type {
  AccessLinkId,
  AccountId,
  DecisionId,
  DelegationId,
  JsonValue,
  LampState,
  LineId,
  PersonId,
  QuoteId,
  ReworkReason,
  SiteId,
  StandingApprovalId,
  TenantId,
  VehicleId,
  VersionId,
  VisitId,
  VoidReason,
  WorkOrderId,
  WorkOrderState,
} from '@grainwright/domain';
import { boolean, integer, jsonb, pgTable, text } from 'drizzle-orm/pg-core';
import { day, exact, id, lineCode, minor, moment, trail, whole } from './columns.ts';

export const documentNumbers = pgTable('document_numbers', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  kind: text('kind')
    .$type<'work_order' | 'invoice' | 'posting' | 'credit_note' | 'fee' | 'opening'>()
    .notNull(),
  next: whole('next').notNull(),
});

/** A vehicle as somebody wrote it down beside it. */
export type VehicleAsWritten = {
  readonly vin: string | null;
  readonly lastEight: string | null;
  readonly modelYear: number | null;
  readonly make: string;
  readonly model: string;
  readonly color: string;
};

export const vehicles = pgTable('vehicles', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<VehicleId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  vin: text('vin'),
  lastEight: text('last_eight'),
  modelYear: integer('model_year'),
  make: text('make').notNull().default(''),
  model: text('model').notNull().default(''),
  color: text('color').notNull().default(''),
});

export const visits = pgTable('visits', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<VisitId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  siteId: id<SiteId>('site_id').notNull(),
  technicianId: id<PersonId>('technician_id').notNull(),
  day: day('day').notNull(),
  miles: exact('miles').notNull(),
  afterHours: boolean('after_hours').notNull(),
  rush: boolean('rush').notNull(),
  walkIn: boolean('walk_in').notNull(),
  /** Its place in the technician’s day. */
  position: integer('position').notNull(),
});

export const workOrders = pgTable('work_orders', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<WorkOrderId>('id').notNull(),
  number: whole('number').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  visitId: id<VisitId>('visit_id').notNull(),
  vehicleId: id<VehicleId>('vehicle_id').notNull(),
  state: text('state')
    .$type<
      | 'written_up'
      | 'awaiting_approval'
      | 'approved'
      | 'in_work'
      | 'done'
      | 'accepted'
      | 'invoiced'
      | 'paid'
      | 'declined'
      | 'void'
      | 'written_off'
    >()
    .notNull(),
  holdReason: text('hold_reason'),
  ownNumber: text('own_number').notNull().default(''),
  roNumber: text('ro_number').notNull().default(''),
  poNumber: text('po_number').notNull().default(''),
  ownerName: text('owner_name').notNull().default(''),
  ownerPhone: text('owner_phone').notNull().default(''),
  odometerMiles: integer('odometer_miles'),
  voidReason: text('void_reason').$type<VoidReason>(),
  voidNote: text('void_note').notNull().default(''),
  duplicateOfId: id<WorkOrderId>('duplicate_of_id'),
  noShowFeeMinor: minor('no_show_fee_minor'),
  reworkOfId: id<WorkOrderId>('rework_of_id'),
  reworkReason: text('rework_reason').$type<ReworkReason>(),
  technicianMinutes: integer('technician_minutes'),
  materialsCostMinor: minor('materials_cost_minor'),
  airbagLampBefore: text('airbag_lamp_before').$type<LampState>(),
  airbagLampAfter: text('airbag_lamp_after').$type<LampState>(),
  currentVersionId: id<VersionId>('current_version_id'),
  decisionId: id<DecisionId>('decision_id'),
  writtenUpAt: moment('written_up_at').notNull(),
  /** By the phone’s clock, where it was written up on one and sent later. */
  madeAt: moment('made_at'),
  /** Null where its owner signs for the vehicle as it is on record. */
  vehicleAsWritten: jsonb('vehicle_as_written').$type<VehicleAsWritten>(),
});

export const workOrderLines = pgTable('work_order_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<LineId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  position: integer('position').notNull(),
  part: text('part').notNull(),
  side: text('side').notNull().default(''),
  damage: text('damage').notNull(),
  visibleWhen: text('visible_when').notNull().default(''),
  observation: text('observation').notNull(),
  inference: text('inference').notNull(),
  material: text('material').notNull(),
  overruleReason: text('overrule_reason'),
  methods: text('methods').array().notNull().default([]),
  layers: integer('layers'),
  measuredInches: exact('measured_inches'),
  family: text('family').notNull().default(''),
  rateCode: text('rate_code'),
  factorCode: text('factor_code'),
  byHandMinor: minor('by_hand_minor'),
  byHandMaterialsPercent: exact('by_hand_materials_percent'),
  byHandReason: text('by_hand_reason'),
  byHandBy: id<PersonId>('by_hand_by'),
  repairsDamage: boolean('repairs_damage').notNull(),
  note: text('note').notNull().default(''),
  withdrawnAt: moment('withdrawn_at'),
});

export const replacementQuotes = pgTable('replacement_quotes', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<QuoteId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  part: text('part').notNull().default(''),
  side: text('side').notNull().default(''),
  amountMinor: minor('amount_minor').notNull(),
  partMinor: minor('part_minor'),
  fittingHours: exact('fitting_hours'),
  hourlyMinor: minor('hourly_minor'),
  note: text('note').notNull().default(''),
  origin: text('origin').$type<'typed' | 'last_time'>().notNull(),
  takenFromId: id<QuoteId>('taken_from_id'),
  givenBy: id<PersonId>('given_by').notNull(),
  givenAt: moment('given_at').notNull(),
  supersededAt: moment('superseded_at'),
});

export const estimateVersions = pgTable('estimate_versions', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<VersionId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  version: integer('version').notNull(),
  content: text('content').notNull(),
  digest: text('digest').notNull(),
  rateDay: day('rate_day').notNull(),
  expiresOn: day('expires_on').notNull(),
  currency: text('currency').notNull(),
  rules: jsonb('rules').$type<JsonValue>().notNull(),
  repairsMinor: minor('repairs_minor').notNull(),
  minimumMinor: minor('minimum_minor').notNull(),
  afterHoursMinor: minor('after_hours_minor').notNull(),
  rushMinor: minor('rush_minor').notNull(),
  visitMinimumMinor: minor('visit_minimum_minor').notNull(),
  tripMinor: minor('trip_minor').notNull(),
  taxMinor: minor('tax_minor').notNull(),
  totalMinor: minor('total_minor').notNull(),
  madeBy: id<PersonId>('made_by').notNull(),
  madeAt: moment('made_at').notNull(),
});

export const estimateLines = pgTable('estimate_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  versionId: id<VersionId>('version_id').notNull(),
  lineId: id<LineId>('line_id').notNull(),
  position: integer('position').notNull(),
  code: lineCode('code').notNull(),
  repair: text('repair').notNull(),
  description: text('description').notNull(),
  listMinor: minor('list_minor').notNull(),
  afterFactorMinor: minor('after_factor_minor').notNull(),
  beforeFurtherMinor: minor('before_further_minor').notNull(),
  beforeFurtherTrail: trail('before_further_trail').notNull(),
  takesFurtherRepair: boolean('takes_further_repair').notNull(),
  materialsPercent: exact('materials_percent').notNull(),
  furtherPercent: exact('further_percent').notNull(),
  netMinor: minor('net_minor').notNull(),
  laborMinor: minor('labor_minor').notNull(),
  materialsMinor: minor('materials_minor').notNull(),
  trail: trail('trail').notNull(),
  byHand: text('by_hand'),
});

export const decisions = pgTable('decisions', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<DecisionId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  versionId: id<VersionId>('version_id').notNull(),
  digest: text('digest').notNull(),
  decidedBy: id<PersonId>('decided_by'),
  recordedBy: id<PersonId>('recorded_by'),
  given: text('given')
    .$type<'here' | 'by_link' | 'in_person' | 'by_phone' | 'in_writing' | 'by_rule' | 'without_charge'>()
    .notNull()
    .default('here'),
  decidedAt: moment('decided_at').notNull(),
  limitMinor: minor('limit_minor'),
  delegationId: id<DelegationId>('delegation_id'),
  standingApprovalId: id<StandingApprovalId>('standing_approval_id'),
  ruleText: text('rule_text'),
  ruleDay: day('rule_day'),
  ruleVisitMinor: minor('rule_visit_minor'),
  ruleMonthMinor: minor('rule_month_minor'),
  comparedMinor: minor('compared_minor').notNull(),
  repairsMinor: minor('repairs_minor').notNull(),
  minimumMinor: minor('minimum_minor').notNull(),
  afterHoursMinor: minor('after_hours_minor').notNull(),
  rushMinor: minor('rush_minor').notNull(),
  visitMinimumMinor: minor('visit_minimum_minor').notNull(),
  tripMinor: minor('trip_minor').notNull(),
  taxMinor: minor('tax_minor').notNull(),
  totalMinor: minor('total_minor').notNull(),
  linkId: id<AccessLinkId>('link_id'),
  /** What stood on the page when it was given, as canonical JSON; null for older answers and for those nobody gave. */
  seen: text('seen'),
  seenDigest: text('seen_digest'),
});

export const decisionLines = pgTable('decision_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  decisionId: id<DecisionId>('decision_id').notNull(),
  lineId: id<LineId>('line_id').notNull(),
  answer: text('answer').$type<'approved' | 'declined'>().notNull(),
  reason: text('reason').notNull().default(''),
  furtherPercent: exact('further_percent').notNull(),
  netMinor: minor('net_minor').notNull(),
  laborMinor: minor('labor_minor').notNull(),
  materialsMinor: minor('materials_minor').notNull(),
  trail: trail('trail').notNull(),
});

export const decisionSignatures = pgTable('decision_signatures', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  decisionId: id<DecisionId>('decision_id').notNull(),
  signerName: text('signer_name').notNull(),
  method: text('method').$type<'drawn' | 'typed'>().notNull(),
  strokes: jsonb('strokes').$type<JsonValue>(),
  device: text('device').notNull().default(''),
  takenBy: id<PersonId>('taken_by').notNull(),
  signedAt: moment('signed_at').notNull(),
});

export const cautionAcknowledgments = pgTable('caution_acknowledgments', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  codes: text('codes').array().notNull(),
  acknowledgedBy: id<PersonId>('acknowledged_by').notNull(),
  acknowledgedAt: moment('acknowledged_at').notNull(),
});

export const floorConsents = pgTable('floor_consents', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  lineId: id<LineId>('line_id').notNull(),
  priceMinor: minor('price_minor').notNull(),
  floorMinor: minor('floor_minor').notNull(),
  reason: text('reason').notNull(),
  consentedBy: id<PersonId>('consented_by').notNull(),
  consentedAt: moment('consented_at').notNull(),
});

export const seamReleases = pgTable('seam_releases', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  lineId: id<LineId>('line_id').notNull(),
  part: text('part').notNull(),
  side: text('side').notNull().default(''),
  reason: text('reason').notNull(),
  releasedBy: id<PersonId>('released_by').notNull(),
  releasedAt: moment('released_at').notNull(),
});

export const workOrderSteps = pgTable('work_order_steps', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  event: text('event').notNull(),
  toState: text('to_state').$type<WorkOrderState>().notNull(),
  /** Null where the vehicle’s owner took it, by a link. */
  personId: id<PersonId>('person_id'),
  happenedAt: moment('happened_at').notNull(),
  note: text('note').notNull().default(''),
});
