import type {
  DecisionRow,
  InvoiceWithRo,
  ShownDeletion,
  ShownRecordingRow,
  StoredDecision,
  WarnedPhotoRow,
} from '@grainwright/db';
import type {
  AcceptanceId,
  AcceptanceOutcome,
  AccountId,
  DamageKind,
  Day,
  Decimal,
  DecisionId,
  DemandedNumber,
  EstimateLine,
  EstimatePrice,
  ExceededLimit,
  Instant,
  InvoiceId,
  LineId,
  Material,
  Method,
  ObservationKind,
  OwnNumberKind,
  PartPosition,
  PersonId,
  PhotoId,
  PhotoPurpose,
  PurchaseOrderId,
  SignerRole,
  SiteId,
  StandingApprovalId,
  StandingSums,
  TotalChange,
  VehicleId,
  VehiclePart,
  VersionId,
  VisitId,
  WaitsFor,
  WorkOrderId,
  WorkOrderState,
} from '@grainwright/domain';
import type { AskingView } from '../approvals/load-asking.ts';
import type { MessageView } from '../messages/message-view.ts';
import type { DepositAskedView } from './deposit-asked.ts';
import type { PriceNotes } from './price-notes.ts';
import type { QuotedView } from './replacement-view.ts';
import type { WorkStoryView } from './work-story-view.ts';

/**
 * A work order as its pages and the API show it: the same for staff and for contacts, who get null where something
 * is not theirs to see. Amounts are minor units of `currency`.
 */
export interface WorkOrderView extends WorkStoryView, QuotedView {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly state: WorkOrderState;
  readonly waitsFor: WaitsFor;
  readonly holdReason: string | null;
  readonly currency: string;
  readonly account: { readonly id: AccountId; readonly name: string; readonly shortName: string };
  readonly site: { readonly id: SiteId; readonly name: string };
  readonly visit: {
    readonly id: VisitId;
    readonly day: Day;
    readonly afterHours: boolean;
    readonly rush: boolean;
    readonly walkIn: boolean;
  };
  readonly technician: { readonly id: PersonId; readonly name: string };
  readonly vehicle: {
    readonly id: VehicleId;
    readonly vin: string | null;
    readonly lastEight: string | null;
    /** E.g. “2025 Ostra Vela, gray”. */
    readonly description: string;
    /** As it was written up, which its owner signs for, where that says something else than the record; else null. */
    readonly writtenAs: string | null;
  };
  readonly numbers: {
    readonly ownKind: OwnNumberKind | null;
    readonly own: string;
    readonly ro: string;
    readonly po: string;
  };
  /** Those that the account demands on its invoice and has not given. */
  readonly missingNumbers: readonly DemandedNumber[];
  /** On which days who of the account was asked for them by mail, the earliest first; empty for contacts. */
  readonly numbersAsked: readonly { readonly on: Day; readonly name: string }[];
  readonly owner: { readonly name: string; readonly phone: string };
  readonly odometerMiles: number | null;
  readonly lines: readonly WorkOrderLineView[];
  /** The estimate as it stands: the current version, or while it is written up the price of the lines as they are. */
  readonly estimate: EstimateView | null;
  /** What is asked in advance, and held; null where nothing is, and once the work is invoiced. */
  readonly deposit: DepositAskedView | null;
  readonly decision: DecisionView | null;
  /** Where it stands against what the account agreed to beforehand; null without that, and once it is answered. */
  readonly standing: StandingView | null;
  /** What an approved total has become, with what was declined before left out; null where nothing was approved before. */
  readonly increase: IncreaseView | null;
  /** The purchase order whose number it has, for who may see invoices; null where the number is not on file. */
  readonly purchaseOrder: PurchaseOrderView | null;
  /** Invoices that carry its repair order for another vehicle already. */
  readonly earlierWithRo: readonly InvoiceWithRo[];
  /** Who was asked for an answer, and what they passed on. */
  readonly asking: AskingView;
  readonly photos: readonly PhotoView[];
  /** What was said against photos, and what became of it; for staff. */
  readonly warnedPhotos: readonly WarnedPhotoRow[];
  readonly recordings: readonly ShownRecordingRow[];
  /** The newest answer. */
  readonly acceptance: AcceptanceView | null;
  /** Every answer, the first one first: a no, and what came after it. */
  readonly answers: readonly AcceptanceView[];
  readonly invoice: { readonly id: InvoiceId; readonly number: string } | null;
  readonly steps: readonly StepView[];
  /** Questions and answers between the account and the business, the first one first. */
  readonly messages: readonly MessageView[];
  /** The business’s own; empty for contacts. */
  readonly priceNotes: PriceNotes;
}

export interface WorkOrderLineView {
  readonly id: LineId;
  readonly position: number;
  /** E.g. “cut or tear, tailgate lining”. */
  readonly words: string;
  /** The part, the damage and the material the work goes by, by their names on pages; empty while not known. */
  readonly part: string;
  readonly damage: string;
  readonly visibleWhen: string;
  /** What was observed and, apart from it, what is inferred, in words. */
  readonly observed: string;
  readonly inferred: string;
  readonly material: string;
  readonly overruleReason: string | null;
  readonly measuredInches: Decimal | null;
  readonly rateCode: string | null;
  readonly repair: string | null;
  readonly repairsDamage: boolean;
  /** Whether it sells a key remote’s case, which has to be tested first. */
  readonly keyRemote: boolean;
  readonly note: string;
  /** Why it has no price yet; null when it has one. */
  readonly unpriced: string | null;
  readonly answer: 'approved' | 'declined' | null;
  readonly answerReason: string;
  readonly entry: LineEntryView;
}

/** A line as it was written down, in the words of the API: what a form to change it starts from. */
export interface LineEntryView {
  readonly part: VehiclePart;
  readonly side: PartPosition | null;
  readonly damage: DamageKind;
  readonly observation: ObservationKind | null;
  readonly looksLike: Material | null;
  readonly overruledMaterial: Material | null;
  readonly methods: readonly Method[];
  readonly family: string;
  readonly rateCode: string | null;
  readonly factorCode: string | null;
  readonly byHand: {
    readonly minor: bigint;
    readonly reason: string;
    readonly materialsPercent: Decimal;
  } | null;
}

export interface EstimateView {
  /** Null while nothing was sent: a price shown at the vehicle, not yet a version. */
  readonly versionId: VersionId | null;
  readonly version: number | null;
  readonly digest: string | null;
  readonly madeAt: Instant | null;
  readonly expiresOn: Day | null;
  readonly lines: readonly EstimateLine[];
  readonly price: EstimatePrice;
}

export interface StandingView {
  /** The rule's words: limits, days, who agreed to it. */
  readonly text: string;
  readonly sums: StandingSums;
  /** The limits that it would pass. */
  readonly exceeded: readonly ExceededLimit[];
  /** Somebody of the account has answered this work order; no rule answers it after them. */
  readonly answeredByPerson: boolean;
  /** Whether it would be approved without asking if it were sent now. */
  readonly covers: boolean;
}

export interface IncreaseView extends TotalChange {
  readonly approvedAt: Instant;
  /** Who approved it; null where a standing approval did. */
  readonly approvedBy: string | null;
  /** Lines that were declined then, with the reason. */
  readonly declinedBefore: readonly { readonly lineId: LineId; readonly reason: string }[];
}

export interface PurchaseOrderView {
  readonly id: PurchaseOrderId;
  readonly accountId: AccountId;
  readonly number: string;
  /** What all invoices with this number may come to; null: no cap. */
  readonly capMinor: bigint | null;
  /** With tax, less credits. */
  readonly invoicedMinor: bigint;
  /** Below zero where more was invoiced than it allows; null without a cap. */
  readonly leftMinor: bigint | null;
  readonly validFrom: Day;
  readonly validTo: Day | null;
  readonly note: string;
  /** Where its days stand today. */
  readonly standing: 'not_yet' | 'valid' | 'ended';
}

export type DecisionSignatureView = Pick<AcceptanceView, 'signerName' | 'method' | 'drawn'>;

export interface DecisionView {
  readonly id: DecisionId;
  readonly versionId: VersionId;
  /** Who of the account; null where a standing approval answered, or a rework without charge asked nobody. */
  readonly decidedBy: string | null;
  /** In whose place, and the last day on which they did; null for an answer of one’s own. */
  readonly answeredFor: StoredDecision['answeredFor'];
  readonly decidedAt: Instant;
  readonly given: DecisionRow['given'];
  /** The standing approval as it stood, and what its limits were compared with. */
  readonly rule: {
    readonly standingApprovalId: StandingApprovalId;
    readonly text: string;
    readonly sums: StandingSums;
  } | null;
  /** Of whoever answered beside the vehicle; null without. */
  readonly signature: DecisionSignatureView | null;
  readonly repairsMinor: bigint;
  readonly minimumMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
  readonly visitMinimumMinor: bigint;
  readonly tripMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  readonly lines: readonly {
    readonly lineId: LineId;
    readonly answer: 'approved' | 'declined';
    readonly reason: string;
    readonly netMinor: bigint;
    readonly laborMinor: bigint;
    readonly materialsMinor: bigint;
    readonly trail: string;
  }[];
}

export interface PhotoView {
  readonly id: PhotoId;
  readonly lineId: LineId | null;
  readonly purpose: PhotoPurpose;
  readonly sha256: string;
  readonly width: number;
  readonly height: number;
  /** The camera's own clock, without a zone, as the file says it. */
  readonly takenAtLocal: string | null;
  readonly receivedAt: Instant;
  /** The photo that this one was taken instead of. */
  readonly retakeOf: PhotoId | null;
  /** The photo that was taken instead of this one, and what was noticed of this one; null where it stands. */
  readonly takenAgain: { readonly by: PhotoId; readonly noticed: readonly string[] } | null;
  /** Whether the upright, position-stripped copies are there yet; of a photo with covered parts, the covered ones. */
  readonly ready: boolean;
  /** Since when parts of it are covered for everybody but the staff; null while none are. */
  readonly coveredOn: Day | null;
  /** What let its bytes go, and when; null while they are kept. */
  readonly deletion: ShownDeletion | null;
}

export interface AcceptanceView {
  readonly id: AcceptanceId;
  readonly outcome: AcceptanceOutcome;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: SignerRole;
  /** How it was known who it was: in person, or by which link. */
  readonly identifiedBy: string;
  readonly method: 'drawn' | 'typed';
  /** The drawn signature as an SVG path in its own view box; null when typed. */
  readonly drawn: { readonly path: string; readonly viewBox: string } | null;
  /** The SHA-256 of the drawn signature as a picture; null when typed, or signed before pictures were kept. */
  readonly picture: string | null;
  readonly digest: string;
  /** When it was received. */
  readonly acceptedAt: Instant;
  /** When it was signed by the clock of the phone, where it was sent later. */
  readonly answeredAt: Instant | null;
}

export interface StepView {
  readonly event: string;
  readonly toState: WorkOrderState;
  readonly happenedAt: Instant;
  readonly personName: string | null;
  readonly note: string;
}

export interface WorkOrderRowView {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly state: WorkOrderState;
  readonly waitsFor: WaitsFor;
  readonly accountName: string;
  readonly vehicle: string;
  readonly numbers: string;
  readonly technician: string;
  readonly day: Day;
  /** Repairs with minimum of the decision, else of the estimate sent; null before. */
  readonly repairsMinor: bigint | null;
  /** The last message is the account's: a question that nobody of the business has answered. */
  readonly questionOpen: boolean;
}

export interface WorkOrderListView {
  readonly currency: string;
  readonly rows: readonly WorkOrderRowView[];
  /** The number below which the next page begins; null on the last. */
  readonly next: bigint | null;
}
