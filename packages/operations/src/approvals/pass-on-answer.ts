import {
  type AskableApproverRow,
  type Contact,
  enqueueJob,
  findPassedOn,
  insertPassedOn,
  listAskableApprovers,
  listPassedOn,
  type ShownPassedOnRow,
} from '@grainwright/db';
import {
  answerRight,
  dayWords,
  displayMoney,
  type EstimatePrice,
  nextWhoMay,
  ok,
  type PassedOnId,
  parseMinor,
  type Result,
  refuse,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsContact, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { toStoredJson } from '../stored-json.ts';
import { openWorkOrder } from '../work-order-path.ts';
import {
  type Answerable,
  type LineAnswer,
  openAnswerable,
  priceAnswers,
  type SeenVersion,
} from '../work-orders/estimate-version.ts';
import { idReused } from '../work-orders/first-request.ts';
import { momentWords } from '../work-orders/moment-words.ts';
import { type PassedOnView, passedOnView } from './passed-on-view.ts';

export interface PassOnAnswerInput extends SeenVersion {
  /** Made by the client: the same id again is the same passing on. */
  readonly passedOnId: PassedOnId;
  readonly workOrderId: WorkOrderId;
  readonly answers: readonly LineAnswer[];
  /** The total that was shown for these answers, as a decimal string. */
  readonly total: string;
}

/**
 * A contact whose answers come to more than their limit passes them on to the next approver whose limit covers them; the
 * worker mails that approver, whose page starts with these answers. It approves nothing. Refuses as `decideEstimate`
 * does, and with `wrong_state` where the contact may answer it, `duplicate` what they passed on before.
 */
export function passOnAnswer(
  services: Services,
  actor: Actor,
  input: PassOnAnswerInput,
): Promise<Result<PassedOnView>> {
  return performAsContact(services, actor, 'decide_estimate', async (scope) => {
    const opened = await openWorkOrder(scope, input.workOrderId);
    if (!opened.ok) return opened;
    const known = await findPassedOn(scope.tx, input.passedOnId);
    if (known !== null) return sameAgain(scope, known, input);
    const estimate = await openAnswerable(scope, opened.value, input);
    if (!estimate.ok) return estimate;
    const price = priceAnswers(estimate.value, input.answers);
    if (!price.ok) return price;
    const limit = limitPassed(scope, input, estimate.value, price.value);
    if (!limit.ok) return limit;
    const approvers = await listAskableApprovers(scope.tx, opened.value.accountId, scope.today);
    const next = nextWhoMay(approvers, price.value.limitMinor, scope.member.personId);
    return write(scope, input, {
      estimate: estimate.value,
      price: price.value,
      limitMinor: limit.value,
      next,
    });
  });
}

/** The contact’s limit, which these answers pass at the total that they saw: only then are they passed on. */
function limitPassed(
  scope: Scope<Contact>,
  input: PassOnAnswerInput,
  { version }: Answerable,
  price: EstimatePrice,
): Result<bigint> {
  const amount = (minor: bigint) => displayMoney(minor, version.currency);
  const shown = parseMinor(input.total, { currency: version.currency, field: 'total' });
  if (!shown.ok) return shown;
  const totalMinor = price.invoice.totals.withTaxMinor;
  if (shown.value !== totalMinor)
    return refuse(
      'shown_changed',
      `These answers come to ${amount(totalMinor)}, not the ${amount(shown.value)} that was shown. Look at the new total and answer again.`,
      'total',
    );
  if (version.expiresOn < scope.today)
    return refuse(
      'estimate_expired',
      `This estimate was good through ${dayWords(version.expiresOn)}. Ask ${scope.business.name} for a new one.`,
    );
  const right = answerRight(scope.member, price.limitMinor);
  if (right === null) return refuse('not_allowed', 'Only an approver of the account answers this.');
  if (right.limitMinor === null || price.limitMinor <= right.limitMinor)
    return refuse('wrong_state', 'These answers are within your limit. Answer it yourself.');
  return ok(right.limitMinor);
}

interface ToPassOn {
  readonly estimate: Answerable;
  readonly price: EstimatePrice;
  readonly limitMinor: bigint;
  readonly next: AskableApproverRow | null;
}

async function write(
  scope: Scope,
  input: PassOnAnswerInput,
  { estimate: { version }, price, limitMinor, next }: ToPassOn,
): Promise<Result<PassedOnView>> {
  const { tx, actor, now } = scope;
  if (actor.accountId === null) throw new Error('only an account passes on');
  const before = (await listPassedOn(tx, version.id)).find((each) => each.passedBy === actor.personId);
  if (before !== undefined) return passedOnBefore(scope, before);
  const answers = input.answers.map(({ lineId, answer, reason }) => ({
    line_id: lineId,
    answer,
    reason: reason.trim(),
  }));
  const passed = {
    id: input.passedOnId,
    accountId: actor.accountId,
    workOrderId: input.workOrderId,
    versionId: version.id,
    digest: version.digest,
    passedBy: actor.personId,
    linkId: actor.linkId ?? null,
    answers: toStoredJson(answers),
    comparedMinor: price.limitMinor,
    totalMinor: price.invoice.totals.withTaxMinor,
    limitMinor,
    passedTo: next?.personId ?? null,
    passedAt: now,
  };
  if (!(await insertPassedOn(tx, passed))) return idReused();
  await record(
    scope,
    'answer_passed_on',
    { kind: 'work_order', id: input.workOrderId },
    {
      passed_on: passed.id,
      version_id: version.id,
      to: passed.passedTo,
      compared_minor: String(price.limitMinor),
    },
  );
  await enqueueJob(tx, 'pass_on_answer', passed.id);
  const stored = await findPassedOn(tx, passed.id);
  if (stored === null) throw new Error('what was passed on is gone');
  return ok(passedOnView(stored, version.currency));
}

function passedOnBefore({ business }: Scope, before: ShownPassedOnRow): Result<never> {
  const at = momentWords(before.passedAt, business.timeZone);
  return refuse(
    'duplicate',
    before.passedToName === null
      ? `You sent your answers on ${at}, and nobody of your account may approve as much. ${business.name} sees it.`
      : `You passed this on to ${before.passedToName} on ${at}. They answer it now.`,
  );
}

async function sameAgain(
  { business, actor }: Scope,
  known: ShownPassedOnRow,
  input: PassOnAnswerInput,
): Promise<Result<PassedOnView>> {
  const same =
    known.workOrderId === input.workOrderId &&
    known.versionId === input.versionId &&
    known.passedBy === actor.personId;
  return same ? ok(passedOnView(known, business.currency)) : idReused();
}
