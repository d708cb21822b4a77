import {
  type ApprovalAskRow,
  findPerson,
  insertApprovalAsk,
  insertWorkOrderStep,
  listEmailsOf,
} from '@grainwright/db';
import {
  type ApprovalAskId,
  type Day,
  daysBetween,
  type MailId,
  ok,
  type PassedOnId,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import type { JobScope } from '../job-scope.ts';
import { makeContactLink } from '../links/make-link.ts';
import { isMailAddress } from '../mail/mail-address.ts';
import { queueMail } from '../mail/queue-mail.ts';
import { record } from '../perform.ts';
import type { Services } from '../services.ts';
import type { Asked, AskedEstimate } from './asked-estimate.ts';
import { askingMail } from './asking-mail.ts';

export interface Asking {
  readonly person: Asked;
  /** All of one account and one visit. */
  readonly estimates: readonly AskedEstimate[];
  readonly why: (estimate: AskedEstimate) => ApprovalAskRow['why'];
  readonly whyWords: (estimate: AskedEstimate) => string;
  readonly passedOnId?: PassedOnId;
  /** Given by whoever asks by hand. */
  readonly askId?: ApprovalAskId;
}

/**
 * Asks one person by one mail with one link, in this transaction, and keeps that they were asked about each version.
 * Refuses with `invalid_input` where mail does not reach them, or they have left meanwhile.
 */
export async function askByMail(
  scope: JobScope,
  services: Pick<Services, 'links'>,
  { person, estimates, why, whyWords, passedOnId, askId }: Asking,
): Promise<Result<ApprovalAskId>> {
  const [first] = estimates;
  if (first === undefined) throw new Error('nothing to ask about');
  const { accountId } = first.found.workOrder;
  const to = (await listEmailsOf(scope.tx, [person.personId])).get(person.personId) ?? '';
  if (!isMailAddress(to))
    return refuse(
      'invalid_input',
      `${person.name} has no e-mail address that mail can go to. Correct it on the account first.`,
      'person_id',
    );
  const link = await makeContactLink(scope, services, {
    accountId,
    personId: person.personId,
    workOrderId: first.workOrderId,
    validDays: daysBetween(scope.today, lastDayOf(estimates)),
  });
  if (link === null)
    return refuse(
      'invalid_input',
      `${person.name} is no contact of the account any more. Choose somebody else.`,
      'person_id',
    );
  const mailId = toId<MailId>(scope.newId());
  const askedBy = (await findPerson(scope.tx, scope.actor.personId))?.name ?? '';
  const words = askingMail(scope, { name: person.name, askedBy, estimates, link, whyOf: whyWords });
  const mail = { id: mailId, kind: 'estimate' as const, accountId, aboutId: first.versionId, to: [to] };
  const queued = await queueMail(scope, { ...mail, ...words });
  if (!queued.ok) return queued;
  const ids = estimates.map((_, index) => toId<ApprovalAskId>((index === 0 && askId) || scope.newId()));
  for (const [index, estimate] of estimates.entries()) {
    const id = ids[index] ?? toId<ApprovalAskId>(scope.newId());
    const { workOrderId, versionId } = estimate;
    const ask = { id, accountId, workOrderId, versionId, personId: person.personId, why: why(estimate) };
    const by = { askedBy: scope.actor.personId, askedAt: scope.now };
    await insertApprovalAsk(scope.tx, {
      ...ask,
      ...by,
      passedOnId: passedOnId ?? null,
      linkId: link.id,
      mailId,
    });
    await record(
      scope,
      'approval_asked',
      { kind: 'estimate_version', id: versionId },
      { person: person.personId, why: ask.why, link: link.id, mail: mailId, work_order_id: workOrderId },
    );
  }
  return ok(ids[0] ?? toId<ApprovalAskId>(scope.newId()));
}

/** A step on the work order’s path that leaves it where it is. */
export async function noteStep(
  scope: JobScope,
  { found: { workOrder } }: AskedEstimate,
  event: 'asked' | 'passed_on' | 'reminded',
  note: string,
  id = scope.newId(),
): Promise<void> {
  await insertWorkOrderStep(scope.tx, {
    id,
    workOrderId: workOrder.id,
    event,
    toState: workOrder.state,
    personId: scope.actor.personId,
    happenedAt: scope.now,
    note,
  });
}

/** No link outlives what can be answered by it. */
function lastDayOf(estimates: readonly AskedEstimate[]): Day {
  const days = estimates.map(({ estimate }) => estimate.version.expiresOn).toSorted();
  const last = days.at(-1);
  if (last === undefined) throw new Error('nothing to ask about');
  return last;
}
