import {
  type AcceptanceRow,
  findLastDone,
  findWorkInHand,
  insertAcceptance,
  insertWorkOrderStep,
  listContactNames,
  listShownPhotos,
  type WorkInHand,
  type WorkOrderRow,
} from '@grainwright/db';
import {
  type AcceptanceAnswer,
  type AcceptanceId,
  type AcceptanceOutcome,
  type AcceptanceShown,
  answerDoubts,
  answeredOnDevice,
  type CopyWish,
  checkAcceptanceAnswer,
  type Instant,
  type JsonValue,
  ok,
  overrideContradiction,
  type Result,
  readyForAcceptance,
  refuse,
  type SignatureMark,
  type SignerRole,
  signatureContradictions,
  type VisitSignatureId,
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import type { CopyGiven } from '../owners/write-copy.ts';
import { record, type Scope } from '../perform.ts';
import type { StepScope } from '../work-order-path.ts';
import { markAccepted } from '../work-orders/mark-accepted.ts';
import { acceptanceFacts } from './acceptance-facts.ts';
import { readAcceptanceToShow } from './acceptance-to-show.ts';
import { answerWords } from './answer-words.ts';
import type { KeptSignature } from './keep-signature.ts';
import { readSignerContact } from './signer-contact.ts';

/** What somebody answers, and how they signed it. */
export interface SignedAnswer {
  readonly outcome: AcceptanceOutcome;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: SignerRole;
  readonly mark: SignatureMark;
  /** Why a signature that looks like the payer's stands for the owner all the same; empty otherwise. */
  readonly overrideReason: string;
  /** What the signing device says of itself. */
  readonly device: string;
  /** How to reach the signer, for their copy. */
  readonly signerEmail?: string;
  readonly signerPhone?: string;
  /** When it was given by the device's own clock, where it is sent later. */
  readonly answeredAt?: Instant | null;
  /** Where the signer wants their copy; may be told afterwards. */
  readonly copy?: CopyWish | null;
}

/** The answer for one work order. */
export interface AnswerToTake extends SignedAnswer {
  readonly acceptanceId: AcceptanceId;
  readonly workOrderId: WorkOrderId;
  /** The digest of what the signer was shown. */
  readonly shownDigest: string;
}

export interface AcceptedWork {
  readonly acceptanceId: AcceptanceId;
  readonly outcome: AcceptanceOutcome;
  readonly acceptedAt: Instant;
  readonly digest: string;
  readonly state: WorkOrderState;
  /** Where the copy went, if that was said with the answer. */
  readonly copy: CopyGiven | null;
}

/** An answer that fits the work as it is now, ready to be written down. */
export interface FittingAnswer {
  readonly work: {
    readonly workOrder: Pick<WorkOrderRow, 'id' | 'state' | 'reworkOfId'>;
    readonly account: Pick<WorkInHand['account'], 'acceptanceRule'>;
  };
  readonly shown: AcceptanceShown;
  readonly row: Omit<AcceptanceRow, 'tenantId' | 'visitSignatureId'>;
  readonly overrides: readonly { readonly code: string; readonly reason: string }[];
  /** What the device said of when it was signed, where that can’t be; null where it can. */
  readonly momentNotTaken: string | null;
}

/**
 * Checks an answer to a work order that the caller has locked: what was shown is what is there, and the signer and the
 * signature fit. Refuses with `already_accepted`, `wrong_state`, `shown_changed`, `signature_missing`,
 * `signer_not_fitting`, `contradiction` or `invalid_input`.
 */
export async function fitAnswer(
  scope: Scope,
  input: AnswerToTake,
  picture: KeptSignature,
): Promise<Result<FittingAnswer>> {
  const work = await findWorkInHand(scope.tx, input.workOrderId);
  if (work === null) return refuse('not_found', 'There is no such work order.');
  const facts = await acceptanceFacts(scope, work);
  if (!facts.ok) return facts;
  // Under the lock nobody adds a photo in between: what is read here is what stays.
  const shown = await readAcceptanceToShow(scope.tx, facts.value);
  if (!shown.ok) return shown;
  if (shown.value.digest !== input.shownDigest)
    return refuse(
      'shown_changed',
      'The work or its pictures have changed since they were shown. Show them again and ask for the answer then.',
      'shown_digest',
    );
  const checked = checkAcceptanceAnswer(input, work.account.acceptanceRule);
  if (!checked.ok) return checked;
  const contact = readSignerContact(input);
  if (!contact.ok) return contact;
  const overridden = await settleSignature(scope, work, checked.value, input.overrideReason);
  if (!overridden.ok) return overridden;
  const taken = {
    identifiedBy: 'in person, on the technician’s phone',
    takenBy: scope.actor.personId,
    linkId: null,
    fromAddress: scope.actor.fromAddress,
    ...contact.value,
  };
  const answered = await momentOfAnswer(scope, input);
  const row = acceptanceRow({
    input: { ...input, answeredAt: answered.at },
    answered: checked.value,
    shown: shown.value,
    at: scope.now,
    taken,
    picture,
  });
  return ok({
    work,
    shown: shown.value.shown,
    row,
    overrides: overridden.value,
    momentNotTaken: answered.doubt && `${input.answeredAt}, which ${answerDoubts[answered.doubt]}`,
  });
}

/** When it was signed by the device's clock, as far as that can be; by the same clock as the finish, where that has one. */
async function momentOfAnswer({ tx, now }: Scope, { workOrderId, answeredAt = null }: AnswerToTake) {
  const finished = await findLastDone(tx, workOrderId, 'work_order_finished');
  return answeredOnDevice(answeredAt, {
    now,
    finishedAt: finished && (finished.madeOnPhoneAt ?? finished.at),
  });
}

/** Mends nothing: either the signature fits the record, or somebody says why it stands. Answers with the reasons. */
async function settleSignature(
  scope: Scope,
  work: WorkInHand,
  { signerName, signerRole }: AcceptanceAnswer,
  overrideReason: string,
): Promise<Result<readonly { code: string; reason: string }[]>> {
  const photos = await listShownPhotos(scope.tx, work.workOrder.id);
  const found = signatureContradictions({
    signedAt: scope.now,
    signerRole,
    signerName,
    payerNames: await listContactNames(scope.tx, work.account.id),
    payerOwnsVehicle: work.account.kind === 'retail',
    lastAfterPhotoAt: photos.filter((photo) => photo.purpose === 'after').at(-1)?.receivedAt ?? null,
  });
  if (found.length > 0 && overrideReason.trim() === '')
    return refuse(
      'contradiction',
      `${found.map(({ sentence }) => sentence).join(' ')} Let the right person sign, or say why it is right.`,
      'override_reason',
    );
  const settled = [];
  for (const contradiction of found) {
    const override = overrideContradiction(contradiction, overrideReason.slice(0, 500));
    if (!override.ok) return override;
    settled.push({ code: override.value.code, reason: override.value.reason });
  }
  return ok(settled);
}

export interface AnswerToKeep {
  readonly input: AnswerToTake;
  readonly answered: AcceptanceAnswer;
  readonly shown: { readonly canonical: string; readonly digest: string };
  readonly at: Instant;
  /** Who took it, or by which link it came, from where, and how to reach the signer. */
  readonly taken: Pick<
    AcceptanceRow,
    'identifiedBy' | 'takenBy' | 'linkId' | 'fromAddress' | 'signerEmail' | 'signerPhone'
  >;
  readonly picture: KeptSignature;
}

/** A checked answer as it is stored. */
export function acceptanceRow({
  input,
  answered,
  shown,
  at,
  taken,
  picture,
}: AnswerToKeep): FittingAnswer['row'] {
  return {
    id: input.acceptanceId,
    workOrderId: input.workOrderId,
    outcome: answered.outcome,
    remark: answered.remark,
    signerName: answered.signerName,
    signerRole: answered.signerRole,
    method: input.mark.kind,
    strokes: strokesOf(input.mark),
    typedName: input.mark.kind === 'typed' ? input.mark.name : null,
    shown: shown.canonical,
    shownDigest: shown.digest,
    device: input.device.slice(0, 300),
    acceptedAt: at,
    answeredAt: input.answeredAt ?? null,
    ...picture,
    ...taken,
  };
}

/** As they are stored; null for a typed name. */
export function strokesOf(mark: SignatureMark): JsonValue {
  if (mark.kind === 'typed') return null;
  return mark.strokes.map((stroke) => stroke.map(({ x, y, t }) => ({ x, y, t })));
}

/** Writes a fitting answer down. A yes ends the work; a no is kept, and the work stays done. */
export async function writeAnswer(
  scope: StepScope,
  { work, row, overrides, momentNotTaken }: FittingAnswer,
  visitSignatureId: VisitSignatureId | null,
): Promise<Result<AcceptedWork>> {
  if (!(await insertAcceptance(scope.tx, { ...row, visitSignatureId }))) return reusedId();
  await record(
    scope,
    'acceptance_taken',
    { kind: 'acceptance', id: row.id },
    {
      work_order_id: row.workOrderId,
      outcome: row.outcome,
      signer_name: row.signerName,
      signer_role: row.signerRole,
      method: row.method,
      digest: row.shownDigest,
      signature: row.signatureSha256,
      overrides,
      ...(momentNotTaken === null ? {} : { answered_at_not_taken: momentNotTaken }),
    },
  );
  const { state: standing } = work.workOrder;
  if (row.outcome === 'not_accepted') {
    await insertWorkOrderStep(scope.tx, {
      id: scope.newId(),
      workOrderId: row.workOrderId,
      event: 'not_accepted',
      toState: standing,
      personId: scope.actor.personId,
      happenedAt: scope.now,
      note: answerWords(row),
    });
    return ok(accepted(row, standing));
  }
  const ready = readyForAcceptance({
    rule: work.account.acceptanceRule,
    answer: row,
    openContradictions: [],
    unsigned: null,
  });
  if (!ready.ok) return ready;
  const state = await markAccepted(scope, work.workOrder, 'accepted', answerWords(row));
  return state.ok ? ok(accepted(row, state.value)) : state;
}

export function reusedId() {
  return refuse(
    'id_reused',
    'This id was already used for another answer. Open the page again and answer there.',
    'id',
  );
}

export function accepted(row: FittingAnswer['row'], state: WorkOrderState): AcceptedWork {
  return {
    acceptanceId: row.id,
    outcome: row.outcome,
    acceptedAt: row.acceptedAt,
    digest: row.shownDigest,
    state,
    copy: null,
  };
}
