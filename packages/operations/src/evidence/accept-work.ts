import {
  type AcceptanceRow,
  findAcceptance,
  findWorkInHand,
  insertAcceptance,
  insertWorkOrderStep,
  listContactNames,
  listShownPhotos,
  type WorkInHand,
} from '@grainwright/db';
import {
  type AcceptanceAnswer,
  type AcceptanceId,
  type AcceptanceOutcome,
  canonicalJson,
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
  type WorkOrderId,
  type WorkOrderState,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { advance, openWorkOrder } from '../work-order-path.ts';
import { acceptanceFacts } from './acceptance-facts.ts';
import { readAcceptanceToShow } from './acceptance-to-show.ts';
import { answerWords } from './answer-words.ts';

export interface AcceptWorkInput {
  /** Made by the client: the same answer sent again under it counts once. */
  readonly acceptanceId: AcceptanceId;
  readonly workOrderId: WorkOrderId;
  /** The digest of what the signer was shown. */
  readonly shownDigest: string;
  readonly outcome: AcceptanceOutcome;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: SignerRole;
  readonly mark: SignatureMark;
  /** Why a signature that looks like the payer's stands for the owner all the same; empty otherwise. */
  readonly overrideReason: string;
  /** What the signing device says of itself. */
  readonly device: string;
}

export interface AcceptedWork {
  readonly acceptanceId: AcceptanceId;
  readonly outcome: AcceptanceOutcome;
  readonly acceptedAt: Instant;
  readonly digest: string;
  readonly state: WorkOrderState;
}

/**
 * Writes down what the vehicle's owner or the account's representative answered, bound to exactly what they were
 * shown: their digest must be the one of what is there now, else `shown_changed`. A yes ends the work; a no is kept
 * and the work stays done, to be mended and asked again. Refuses with `already_accepted`, `wrong_state`,
 * `signature_missing`, `signer_not_fitting`, `contradiction`, `invalid_input` or `id_reused`.
 */
export function acceptWork(
  services: Services,
  actor: Actor,
  input: AcceptWorkInput,
): Promise<Result<AcceptedWork>> {
  return performAsStaff(services, actor, 'take_acceptance', (scope) => answer(scope, input));
}

async function answer(scope: Scope, input: AcceptWorkInput): Promise<Result<AcceptedWork>> {
  const opened = await openWorkOrder(scope, input.workOrderId);
  if (!opened.ok) return opened;
  const earlier = await findAcceptance(scope.tx, input.acceptanceId);
  if (earlier !== null) return sameAgain(earlier, input, opened.value.state);
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
  const overridden = await settleSignature(scope, work, checked.value, input.overrideReason);
  if (!overridden.ok) return overridden;
  const { canonical, digest } = shown.value;
  return write(
    scope,
    work,
    acceptanceRow(scope, input, checked.value, { canonical, digest }),
    overridden.value,
  );
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

function acceptanceRow(
  scope: Scope,
  input: AcceptWorkInput,
  answered: AcceptanceAnswer,
  shown: { readonly canonical: string; readonly digest: string },
): Omit<AcceptanceRow, 'tenantId'> {
  return {
    id: input.acceptanceId,
    workOrderId: input.workOrderId,
    outcome: answered.outcome,
    remark: answered.remark,
    signerName: answered.signerName,
    signerRole: answered.signerRole,
    identifiedBy: 'in person, on the technician’s phone',
    method: input.mark.kind,
    strokes: strokesOf(input.mark),
    shown: shown.canonical,
    shownDigest: shown.digest,
    device: input.device.slice(0, 300),
    takenBy: scope.actor.personId,
    acceptedAt: scope.now,
  };
}

function strokesOf(mark: SignatureMark): JsonValue {
  if (mark.kind === 'typed') return null;
  return mark.strokes.map((stroke) => stroke.map(({ x, y, t }) => ({ x, y, t })));
}

async function write(
  scope: Scope,
  work: WorkInHand,
  row: Omit<AcceptanceRow, 'tenantId'>,
  overrides: readonly { code: string; reason: string }[],
): Promise<Result<AcceptedWork>> {
  if (!(await insertAcceptance(scope.tx, row))) return reusedId();
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
      overrides,
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
  const state = await advance(scope, work.workOrder, { type: 'accepted' }, {}, answerWords(row));
  return state.ok ? ok(accepted(row, state.value)) : state;
}

function sameAgain(
  stored: AcceptanceRow,
  input: AcceptWorkInput,
  state: WorkOrderState,
): Result<AcceptedWork> {
  const same =
    stored.workOrderId === input.workOrderId &&
    stored.shownDigest === input.shownDigest &&
    stored.outcome === input.outcome &&
    stored.remark === input.remark.trim() &&
    stored.signerName === input.signerName.trim().replace(/\s+/g, ' ') &&
    stored.signerRole === input.signerRole &&
    stored.method === input.mark.kind &&
    canonicalJson(stored.strokes ?? null) === canonicalJson(strokesOf(input.mark));
  return same ? ok(accepted(stored, state)) : reusedId();
}

function reusedId() {
  return refuse(
    'id_reused',
    'This id was already used for another answer. Open the page again and answer there.',
    'id',
  );
}

function accepted(row: Omit<AcceptanceRow, 'tenantId'>, state: WorkOrderState): AcceptedWork {
  return {
    acceptanceId: row.id,
    outcome: row.outcome,
    acceptedAt: row.acceptedAt,
    digest: row.shownDigest,
    state,
  };
}
