import type {
  AcceptanceOutcome,
  AccessLinkId,
  Day,
  Instant,
  KeySheet,
  KeyTestId,
  KeyVerdict,
  LampState,
  LineId,
  MissingSignatureId,
  MissingSignatureReason,
  PhotoId,
  ReworkReason,
  StopPointId,
  VoidReason,
  WorkOrderId,
  WorkOrderState,
} from '@grainwright/domain';
import type { OwnersLinkStands } from '../owners/no-answer.ts';

/** What happened to work besides being done and paid. Amounts are minor units of the work order’s currency. */
export interface WorkStoryView {
  readonly voided: VoidedView | null;
  /** The first order, where this puts it right without charge. */
  readonly reworkOf: ReworkOfView | null;
  /** What came back of this one, in the order written. */
  readonly cameBack: readonly CameBackView[];
  /** Every time nobody signed, the newest first. */
  readonly notSigned: readonly NotSignedView[];
  readonly stopPoints: readonly StopPointView[];
  /** The newest sheet of each key remote. */
  readonly keyTests: readonly KeyTestView[];
  /** What the work cost the business; null for its customers. */
  readonly costs: {
    readonly technicianMinutes: number | null;
    readonly materialsCostMinor: bigint | null;
  } | null;
  /** How many finished vehicles of the visit the account’s representative can sign for at once; 0 where nobody can. */
  readonly toSignAtOnce: number;
  /** The links to the vehicle’s owner, the latest first; none for the business’s customers. */
  readonly ownerLinks: readonly OwnerLinkView[];
  /** The airbag lamp as the vehicle came and as it left; null where nobody looked. */
  readonly airbagLamp: { readonly before: LampState | null; readonly after: LampState | null };
}

interface NamedOrder {
  readonly id: WorkOrderId;
  readonly number: bigint;
  readonly state: WorkOrderState;
  readonly day: Day;
}

export interface VoidedView {
  /** Null where it was voided before reasons were kept. */
  readonly reason: VoidReason | null;
  readonly note: string;
  readonly duplicateOf: NamedOrder | null;
  readonly noShowFeeMinor: bigint | null;
}

export interface ReworkOfView extends NamedOrder {
  readonly reason: ReworkReason;
}

export interface CameBackView extends NamedOrder {
  readonly reason: ReworkReason;
}

export interface NotSignedView {
  readonly id: MissingSignatureId;
  readonly why: MissingSignatureReason;
  readonly reason: string;
  readonly witness: string;
  readonly recordedBy: string;
  readonly recordedAt: Instant;
  /** Who let the work go without a signature on this record, and why; null where nobody did. */
  readonly released: { readonly by: string; readonly at: Instant; readonly reason: string } | null;
}

/** A link by which the vehicle’s owner answers. */
export interface OwnerLinkView {
  readonly id: AccessLinkId;
  readonly ownerName: string;
  readonly phone: string;
  readonly email: string;
  readonly madeBy: string;
  readonly madeAt: Instant;
  readonly lastDay: Day;
  readonly stands: OwnersLinkStands;
  /** What was answered by it; null while nothing was. */
  readonly outcome: AcceptanceOutcome | null;
}

export interface StopPointView {
  readonly id: StopPointId;
  readonly lineId: LineId;
  readonly photoId: PhotoId;
  readonly note: string;
  /** Whether the account and the vehicle’s owner see it. */
  readonly shown: boolean;
}

export interface KeyTestView {
  readonly id: KeyTestId;
  readonly lineId: LineId;
  readonly sheet: KeySheet;
  readonly verdict: KeyVerdict;
  readonly testedAt: Instant;
}
