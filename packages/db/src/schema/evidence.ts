import type {
  AcceptanceCopyId,
  AcceptanceId,
  AccessLinkId,
  AccountId,
  CopyChannel,
  DamageKind,
  JsonValue,
  KeyResult,
  KeyTestId,
  LineId,
  MailId,
  Method,
  MissingSignatureId,
  MissingSignatureReason,
  PartPosition,
  PersonId,
  PhotoId,
  StopPointId,
  TenantId,
  VehiclePart,
  VisitId,
  VisitSignatureId,
  WorkOrderId,
} from '@grainwright/domain';
import { boolean, doublePrecision, integer, jsonb, pgTable, pgView, text } from 'drizzle-orm/pg-core';
import { id, moment, whole } from './columns.ts';

export const photos = pgTable('photos', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<PhotoId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  lineId: id<LineId>('line_id'),
  purpose: text('purpose')
    .$type<
      'walk_around' | 'before' | 'after_heat' | 'cut_out' | 'progress' | 'ruler' | 'after' | 'stop_point'
    >()
    .notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  mediaType: text('media_type').$type<'image/jpeg' | 'image/png' | 'image/webp'>().notNull(),
  width: integer('width').notNull(),
  height: integer('height').notNull(),
  storageKey: text('storage_key').notNull(),
  takenAtLocal: text('taken_at_local'),
  latitude: doublePrecision('latitude'),
  longitude: doublePrecision('longitude'),
  receivedAt: moment('received_at').notNull(),
  receivedFrom: id<PersonId>('received_from').notNull(),
  /** Of the file without what the camera wrote into it; null for photos from before it was taken. */
  bareSha256: text('bare_sha256'),
  /** What the camera wrote, as words, the position included: for the staff alone. */
  exif: jsonb('exif').$type<Readonly<Record<string, string>>>(),
  /** When the device says that it was taken. */
  capturedAt: moment('captured_at'),
  retakeOf: id<PhotoId>('retake_of'),
});

export const photoDerivatives = pgTable('photo_derivatives', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  kind: text('kind').$type<'view' | 'thumb'>().notNull(),
  sha256: text('sha256').notNull(),
  bytes: whole('bytes').notNull(),
  width: integer('width').notNull(),
  height: integer('height').notNull(),
  storageKey: text('storage_key').notNull(),
  madeAt: moment('made_at').notNull(),
});

export const acceptances = pgTable('acceptances', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<AcceptanceId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  outcome: text('outcome').$type<'accepted' | 'accepted_with_remark' | 'not_accepted'>().notNull(),
  remark: text('remark').notNull().default(''),
  signerName: text('signer_name').notNull(),
  signerRole: text('signer_role').$type<'vehicle_owner' | 'account_representative'>().notNull(),
  identifiedBy: text('identified_by').notNull(),
  method: text('method').$type<'drawn' | 'typed'>().notNull(),
  strokes: jsonb('strokes').$type<JsonValue>(),
  shown: text('shown').notNull(),
  shownDigest: text('shown_digest').notNull(),
  device: text('device').notNull().default(''),
  /** Null where the signer gave it alone, by a link. */
  takenBy: id<PersonId>('taken_by'),
  acceptedAt: moment('accepted_at').notNull(),
  visitSignatureId: id<VisitSignatureId>('visit_signature_id'),
  linkId: id<AccessLinkId>('link_id'),
  /** Of the device that it was answered on. */
  fromAddress: text('from_address').notNull().default(''),
  /** Exactly as it was typed. */
  typedName: text('typed_name'),
  /** Of the drawn signature as a picture. */
  signatureSha256: text('signature_sha256'),
  signatureKey: text('signature_key'),
  signerEmail: text('signer_email').notNull().default(''),
  signerPhone: text('signer_phone').notNull().default(''),
  /** By the device's own clock, where it was sent later. */
  answeredAt: moment('answered_at'),
});

/** Where a copy of a signed answer went; one id for all vehicles of one signature. */
export const acceptanceCopies = pgTable('acceptance_copies', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<AcceptanceCopyId>('id').notNull(),
  acceptanceId: id<AcceptanceId>('acceptance_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  channel: text('channel').$type<CopyChannel>().notNull(),
  address: text('address').notNull().default(''),
  linkId: id<AccessLinkId>('link_id'),
  mailId: id<MailId>('mail_id'),
  givenBy: id<PersonId>('given_by'),
  givenAt: moment('given_at').notNull(),
});

export const visitSignatures = pgTable('visit_signatures', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<VisitSignatureId>('id').notNull(),
  accountId: id<AccountId>('account_id').notNull(),
  visitId: id<VisitId>('visit_id').notNull(),
  shown: text('shown').notNull(),
  shownDigest: text('shown_digest').notNull(),
  takenBy: id<PersonId>('taken_by').notNull(),
  signedAt: moment('signed_at').notNull(),
});

export const missingSignatures = pgTable('missing_signatures', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<MissingSignatureId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  why: text('why').$type<MissingSignatureReason>().notNull(),
  reason: text('reason').notNull(),
  witness: text('witness').notNull(),
  recordedBy: id<PersonId>('recorded_by').notNull(),
  recordedAt: moment('recorded_at').notNull(),
});

export const acceptanceReleases = pgTable('acceptance_releases', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  missingSignatureId: id<MissingSignatureId>('missing_signature_id').notNull(),
  reason: text('reason').notNull(),
  releasedBy: id<PersonId>('released_by').notNull(),
  releasedAt: moment('released_at').notNull(),
});

export const keyTests = pgTable('key_tests', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<KeyTestId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  lineId: id<LineId>('line_id').notNull(),
  battery: text('battery').$type<KeyResult>(),
  coating: text('coating').$type<KeyResult>(),
  lock: text('lock_contact').$type<KeyResult>(),
  unlock: text('unlock_contact').$type<KeyResult>(),
  trunk: text('trunk_contact').$type<KeyResult>(),
  horn: text('horn_contact').$type<KeyResult>(),
  testedBy: id<PersonId>('tested_by').notNull(),
  testedAt: moment('tested_at').notNull(),
});

export const stopPoints = pgTable('stop_points', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<StopPointId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  lineId: id<LineId>('line_id').notNull(),
  photoId: id<PhotoId>('photo_id').notNull(),
  note: text('note').notNull(),
  shown: boolean('shown').notNull(),
  madeBy: id<PersonId>('made_by').notNull(),
  madeAt: moment('made_at').notNull(),
});

/** What a vehicle's owner sees of the work: approved lines, without a price. */
export const vehicleOwnerLines = pgView('vehicle_owner_lines', {
  tenantId: id<TenantId>('tenant_id').notNull(),
  id: id<LineId>('id').notNull(),
  workOrderId: id<WorkOrderId>('work_order_id').notNull(),
  position: integer('position').notNull(),
  part: text('part').$type<VehiclePart>().notNull(),
  side: text('side').$type<PartPosition | ''>().notNull(),
  damage: text('damage').$type<DamageKind>().notNull(),
  methods: text('methods').array().$type<Method[]>().notNull(),
  family: text('family').notNull(),
  repairsDamage: boolean('repairs_damage').notNull(),
}).existing();
