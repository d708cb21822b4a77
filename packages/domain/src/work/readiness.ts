import type { Day } from '../dates.ts';
import { dayWords } from '../day-words.ts';
import {
  type AcceptanceOutcome,
  type AcceptanceRule,
  type SignerRole,
  signerFits,
  signerRoles,
} from '../evidence/acceptance.ts';
import { formatMinor } from '../money/money.ts';
import { ok, type Result, refuse } from '../result.ts';
import { type OwnNumberKind, ownNumberKinds } from '../vehicle/identification.ts';
import type { CautionCode } from './cautions.ts';
import {
  missingBeforePhotos,
  missingBeforeStart,
  missingPhotos,
  type PhotographedLine,
  type PhotoPurpose,
  type PhotoRule,
} from './photos.ts';

export interface SubmitFacts {
  readonly hasAccount: boolean;
  readonly hasVehicle: boolean;
  /** An estimate made at booking, before anybody saw the vehicle, has no photos yet. */
  readonly madeAtBooking: boolean;
  /** `priced` is false while a line is to be priced by hand. */
  readonly lines: readonly (PhotographedLine & { readonly priced: boolean })[];
}

/**
 * What must be true before a work order waits for approval. Refuses with `invalid_input`, `line_missing`,
 * `price_by_hand` or `photo_missing`, the first that applies.
 */
export function readyToSubmit(facts: SubmitFacts): Result<true> {
  if (!facts.hasAccount) return refuse('invalid_input', 'Choose the account that pays.', 'account');
  if (!facts.hasVehicle) return refuse('invalid_input', 'Say which vehicle it is.', 'vehicle');
  if (facts.lines.length === 0)
    return refuse('line_missing', 'Add at least one line: the part and what is wrong with it.', 'lines');
  const unpriced = facts.lines.filter((line) => !line.priced).map((line) => line.label);
  if (unpriced.length > 0)
    return refuse(
      'price_by_hand',
      `The price book has no rate here. Price by hand: ${listed(unpriced)}.`,
      'lines',
    );
  const photos = facts.madeAtBooking ? [] : missingBeforePhotos(facts.lines);
  if (photos.length > 0)
    return refuse('photo_missing', `Photos still to take: ${photos.join('; ')}.`, 'photos');
  return ok(true);
}

export interface StartFacts {
  readonly photoRule: PhotoRule;
  readonly workOrderPhotos: readonly PhotoPurpose[];
  readonly approvedLineCount: number;
  /** A hold is a flag with a reason; it stops a start, never finishing. */
  readonly holdReason: string | null;
  readonly cautionsToShow: readonly CautionCode[];
  readonly cautionsAcknowledged: readonly CautionCode[];
}

/**
 * What must be true before work starts: `nothing_approved`, `wrong_state` (on hold), `photo_missing` (a walk-around
 * taken after the work shows nothing of what was there before), `cautions_open`.
 */
export function readyToStart(facts: StartFacts): Result<true> {
  if (facts.approvedLineCount === 0)
    return refuse('nothing_approved', 'No line is approved, so there is nothing to start.');
  if (facts.holdReason !== null)
    return refuse('wrong_state', `It is on hold: ${facts.holdReason}. Lift the hold before starting.`);
  const missing = missingBeforeStart(facts.photoRule, facts.workOrderPhotos);
  if (missing.length > 0)
    return refuse('photo_missing', `Photos to take before you start: ${missing.join('; ')}.`, 'photos');
  const open = facts.cautionsToShow.filter((code) => !facts.cautionsAcknowledged.includes(code));
  if (open.length > 0)
    return refuse(
      'cautions_open',
      `Read and acknowledge ${open.length === 1 ? 'the open caution' : `the ${open.length} open cautions`} first.`,
      'cautions',
    );
  return ok(true);
}

export interface FinishFacts {
  readonly photoRule: PhotoRule;
  readonly workOrderPhotos: readonly PhotoPurpose[];
  /** Approved lines only: a declined one needs no further photo. */
  readonly approvedLines: readonly PhotographedLine[];
  /** Sentences of contradictions neither mended nor overridden with a reason. */
  readonly openContradictions: readonly string[];
  /** Sentences of photo warnings (blurred, too dark …) neither retaken nor overridden with a reason. */
  readonly openPhotoWarnings: readonly string[];
}

/** What must be true before work is done: `photo_missing`, `contradiction`. */
export function readyToFinish(facts: FinishFacts): Result<true> {
  const missing = missingPhotos(facts.photoRule, facts.workOrderPhotos, facts.approvedLines);
  if (missing.length > 0)
    return refuse('photo_missing', `Photos still to take: ${missing.join('; ')}.`, 'photos');
  const open = [...facts.openContradictions, ...facts.openPhotoWarnings];
  if (open.length > 0) return refuse('contradiction', mendOrOverride(open));
  return ok(true);
}

export interface AcceptanceFacts {
  readonly rule: AcceptanceRule;
  /** The newest answer, if there is one. */
  readonly answer: {
    readonly outcome: AcceptanceOutcome;
    readonly signerRole: SignerRole;
  } | null;
  /** Sentences of signatureContradictions not overridden with a reason. */
  readonly openContradictions: readonly string[];
  /** A refusal or an absence, put on record, and who let the work go without a signature. */
  readonly unsigned: {
    readonly why: 'refused' | 'absent';
    readonly reason: string;
    readonly witness: string;
    readonly releasedBy: string | null;
  } | null;
}

/**
 * What must be true before done work counts as accepted. No answer is never acceptance. Refuses with
 * `signature_missing`, `signer_not_fitting` or `contradiction`.
 */
export function readyForAcceptance(facts: AcceptanceFacts): Result<true> {
  const { answer, unsigned } = facts;
  if (unsigned !== null && unsigned.releasedBy !== null) return released(unsigned.reason, unsigned.witness);
  if (answer?.outcome === 'not_accepted')
    return refuse(
      'signature_missing',
      'The work was not accepted. Agree on a touch-up and ask again, or have it released.',
    );
  if (facts.rule === 'none') return ok(true);
  if (answer === null)
    return refuse(
      'signature_missing',
      `The ${signerRoles[facts.rule]} has not answered. Ask for the signature, or record a refusal or absence with reason and witness and have it released.`,
    );
  const fits = signerFits(facts.rule, answer.signerRole);
  if (!fits.ok) return fits;
  if (facts.openContradictions.length > 0)
    return refuse('contradiction', mendOrOverride(facts.openContradictions));
  return ok(true);
}

function released(reason: string, witness: string): Result<true> {
  if (reason.trim() === '') return refuse('invalid_input', 'Say why there is no signature.', 'reason');
  if (witness.trim() === '') return refuse('invalid_input', 'Name the person who saw it.', 'witness');
  return ok(true);
}

/** A number that an account may demand on the invoice. */
export type DemandedNumber = OwnNumberKind | 'purchase_order';

export interface InvoiceFacts {
  /** A rework without charge ends when it is accepted. */
  readonly reworkWithoutCharge: boolean;
  readonly demandedNumbers: readonly DemandedNumber[];
  readonly givenNumbers: readonly DemandedNumber[];
}

/** What must be true of a work order before an invoice may hold it: `wrong_state`, `number_missing`. */
export function readyToInvoice(facts: InvoiceFacts): Result<true> {
  if (facts.reworkWithoutCharge)
    return refuse('wrong_state', 'A rework without charge ends when it is accepted; it is not invoiced.');
  const missing = missingNumbers(facts);
  if (missing.length > 0)
    return refuse(
      'number_missing',
      `The account needs its ${listed(missing.map((kind) => numberNames[kind]))} on the invoice. Ask for ${missing.length === 1 ? 'it' : 'them'}.`,
      missing[0],
    );
  return ok(true);
}

/** A purchase order with a cap; amounts are minor units of `currency`. */
export interface CappedOrder {
  readonly number: string;
  readonly capMinor: bigint;
  /** With tax, less credits, on all invoices that carry its number. */
  readonly invoicedMinor: bigint;
  readonly currency: string;
}

/**
 * Whether what an invoice comes to with tax, before deposits, is within a purchase order's cap over all its
 * invoices. Refuses with `over_purchase_order`, naming the cap, what was invoiced on it and what is missing.
 */
export function withinPurchaseOrder(order: CappedOrder, totalMinor: bigint): Result<true> {
  const overMinor = order.invoicedMinor + totalMinor - order.capMinor;
  if (overMinor <= 0n) return ok(true);
  const words = (minor: bigint) => `${formatMinor(minor, order.currency)} ${order.currency}`;
  return refuse(
    'over_purchase_order',
    `PO ${order.number} allows ${words(order.capMinor)}. ${words(order.invoicedMinor)} of it is invoiced and this comes to ${words(totalMinor)}, ${words(overMinor)} too much. Ask the account to raise it.`,
    'purchase_order',
  );
}

/**
 * Whether a purchase order counts on every date of work that an invoice bills on it. Refuses with `dates_out_of_order`,
 * naming its days and the first date that is outside of them.
 */
export function purchaseOrderCounts(
  order: { readonly number: string; readonly validFrom: Day; readonly validTo: Day | null },
  datesOfWork: readonly Day[],
): Result<true> {
  const { number, validFrom, validTo } = order;
  const outside = datesOfWork.find((day) => day < validFrom || (validTo !== null && day > validTo));
  if (outside === undefined) return ok(true);
  const until = validTo === null ? '' : ` to ${dayWords(validTo)}`;
  return refuse(
    'dates_out_of_order',
    `PO ${number} counts from ${dayWords(validFrom)}${until}, and the work is of ${dayWords(outside)}. Ask the account for another PO.`,
    'purchase_order',
  );
}

export function missingNumbers(
  facts: Pick<InvoiceFacts, 'demandedNumbers' | 'givenNumbers'>,
): readonly DemandedNumber[] {
  return facts.demandedNumbers.filter((kind) => !facts.givenNumbers.includes(kind));
}

/** What people call the numbers of an account. */
export const numberNames: Readonly<Record<DemandedNumber, string>> = {
  ...ownNumberKinds,
  repair_order: 'repair order (RO) number',
  purchase_order: 'purchase order (PO) number',
};

function mendOrOverride(sentences: readonly string[]): string {
  return `Mend this, or override it with a reason: ${sentences.join(' ')}`;
}

function listed(items: readonly string[]): string {
  return new Intl.ListFormat('en-US', { type: 'conjunction' }).format(items);
}
