/**
 * Identifiers are random UUIDs (version 7 where we make them), branded by what they name, so that an
 * account's id can't be passed where a work order's is meant. They are made by the client and are unique
 * within a tenant.
 */
declare const brand: unique symbol;
export type Id<Name extends string> = string & { readonly [brand]: Name };

export type TenantId = Id<'tenant'>;
export type UserId = Id<'user'>;
export type MembershipId = Id<'membership'>;
export type PersonId = Id<'person'>;
export type AccountId = Id<'account'>;
export type AccountGroupId = Id<'account group'>;
export type SiteId = Id<'site'>;
export type CertificateId = Id<'certificate'>;
export type HandedInId = Id<'handed-in certificate'>;
export type PurchaseOrderId = Id<'purchase order'>;
export type StandingApprovalId = Id<'standing approval'>;
export type VehicleId = Id<'vehicle'>;
export type VisitId = Id<'visit'>;
export type WorkOrderId = Id<'work order'>;
export type LineId = Id<'line'>;
export type VersionId = Id<'estimate version'>;
export type DecisionId = Id<'decision'>;
export type PhotoId = Id<'photo'>;
export type PhotoOverrideId = Id<'photo override'>;
export type RecordingId = Id<'recording'>;
export type CoveringId = Id<'covering'>;
export type LegalHoldId = Id<'legal hold'>;
export type RetentionRuleId = Id<'retention rule'>;
export type DeletionId = Id<'deletion'>;
export type UploadId = Id<'upload'>;
export type AcceptanceId = Id<'acceptance'>;
export type AcceptanceCopyId = Id<'copy of a signed answer'>;
export type MissingSignatureId = Id<'missing signature'>;
export type VisitSignatureId = Id<'visit signature'>;
export type KeyTestId = Id<'key test'>;
export type StopPointId = Id<'stop point'>;
export type QuoteId = Id<'quote for a new part'>;
export type InvoiceId = Id<'invoice'>;
export type CreditNoteId = Id<'credit note'>;
export type DisputeId = Id<'dispute'>;
export type WriteOffId = Id<'write-off'>;
export type DiscountId = Id<'discount'>;
export type PaymentId = Id<'payment'>;
export type ApplicationId = Id<'payment application'>;
export type UnapplicationId = Id<'payment unapplication'>;
export type ReturnId = Id<'payment return'>;
export type RefundId = Id<'refund'>;
export type CreditMoveId = Id<'credit move'>;
export type ReceiptId = Id<'parked receipt'>;
export type OpeningId = Id<'opening balance'>;
export type ClearingMovementId = Id<'clearing movement'>;
export type CommissionRateId = Id<'commission rate'>;
export type PriceDraftId = Id<'price draft'>;
export type MonthClosingId = Id<'month closing'>;
export type JournalEntryId = Id<'journal entry'>;
export type StatementId = Id<'statement'>;
export type StatementRunId = Id<'statement run'>;
export type MailId = Id<'mail'>;
export type AccessLinkId = Id<'access link'>;
export type MessageId = Id<'message'>;
export type ApprovalAskId = Id<'question for an answer'>;
export type PassedOnId = Id<'answer passed on'>;
export type DelegationId = Id<'delegation'>;
export type SigningKeyId = Id<'signing key'>;

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

/** True for a UUID of RFC 9562 in its lower-case text form. */
export function isUuid(text: string): boolean {
  return uuid.test(text);
}

/** Reads an id from text that was already checked at the door; throws on anything else. */
export function toId<T extends Id<string>>(text: string): T {
  if (!isUuid(text)) throw new Error(`not a UUID: ${text.slice(0, 40)}`);
  return text as T;
}
