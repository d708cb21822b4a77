import {
  type DueReminder,
  findPerson,
  insertReminder,
  listDueReminders,
  listEmailsOf,
} from '@grainwright/db';
import {
  addSeconds,
  dayAt,
  dayWords,
  isDaytime,
  type MailId,
  ok,
  type Result,
  refuse,
  type TenantId,
  toId,
} from '@grainwright/domain';
import { noteStep } from '../approvals/ask-by-mail.ts';
import { type AskedEstimate, askedEstimateOf, stillWaits } from '../approvals/asked-estimate.ts';
import { askingMail } from '../approvals/asking-mail.ts';
import { type JobScope, jobScope } from '../job-scope.ts';
import { linkMark } from '../links/link-text.ts';
import { isMailAddress } from '../mail/mail-address.ts';
import { queueMail } from '../mail/queue-mail.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { inTenant, type SweepServices } from './sweep-scope.ts';

const atOnceMax = 200;

/**
 * Asks once more whoever was asked and has not answered for as long as their account chose, twice at most: one mail for
 * all of a visit, with the link of the first one, by day only. Answers how many mails that are.
 */
export async function remindPeople(services: SweepServices, tenantId: TenantId): Promise<Result<number>> {
  const due = await inTenant(services, tenantId, async ({ tx, now, today, timeZone }) =>
    ok(isDaytime(now, timeZone) ? await listDueReminders(tx, { now, today, limit: atOnceMax }) : []),
  );
  if (!due.ok) return due;
  const mails = Map.groupBy(due.value, ({ visitId, personId }) => `${visitId} ${personId}`);
  let sent = 0;
  for (const ofOne of mails.values()) {
    const reminded = await remind(services, tenantId, ofOne);
    if (reminded.ok) sent += reminded.value;
    // Somebody else has sent it meanwhile.
    else if (reminded.problem.code !== 'duplicate') return reminded;
  }
  return ok(sent);
}

function remind(
  services: SweepServices,
  tenantId: TenantId,
  due: readonly DueReminder[],
): Promise<Result<number>> {
  const [first] = due;
  if (first === undefined) throw new Error('nobody to remind');
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const scope = await jobScope(services, tx, first.askedBy);
    const to = (await listEmailsOf(tx, [first.personId])).get(first.personId) ?? '';
    if (!isMailAddress(to)) return ok(0);
    const waiting = await stillWaiting(scope, due);
    return waiting.length === 0 ? ok(0) : write(scope, { due: waiting, to });
  });
}

interface Waiting extends DueReminder {
  readonly estimate: AskedEstimate;
}

/** Locked one after the other: what is answered meanwhile is asked about no more. */
async function stillWaiting(scope: JobScope, due: readonly DueReminder[]): Promise<readonly Waiting[]> {
  const waiting: Waiting[] = [];
  for (const each of due.toSorted((a, b) => (a.workOrderId < b.workOrderId ? -1 : 1))) {
    await openWorkOrder(scope, each.workOrderId);
    const estimate = await askedEstimateOf(scope, each.versionId);
    if (stillWaits(estimate, scope)) waiting.push({ ...each, estimate });
  }
  return waiting.toSorted((a, b) => Number(a.estimate.number - b.estimate.number));
}

async function write(
  scope: JobScope,
  { due, to }: { readonly due: readonly Waiting[]; readonly to: string },
): Promise<Result<number>> {
  const { tx, now, business } = scope;
  const [first] = due;
  if (first === undefined) return ok(0);
  const estimates = due.map(({ estimate }) => estimate);
  const name = (await findPerson(tx, first.personId))?.name ?? '';
  const lastDay = dayAt(addSeconds(first.linkExpiresAt, -1), business.timeZone);
  const words = askingMail(scope, {
    name,
    askedBy: (await findPerson(tx, first.askedBy))?.name ?? '',
    estimates,
    link: { mark: linkMark(first.linkId), lastDayWords: dayWords(lastDay) },
    whyOf: ({ estimate }) =>
      `Its prices hold through ${dayWords(estimate.version.expiresOn)}; without an answer it lapses then.`,
    lead: 'Nobody has answered yet, so we ask once more.',
  });
  const mailId = toId<MailId>(scope.newId());
  const queued = await queueMail(scope, {
    ...words,
    id: mailId,
    kind: 'estimate_reminder',
    accountId: first.accountId,
    aboutId: first.versionId,
    to: [to],
    subject: `Reminder: ${words.subject}`,
  });
  if (!queued.ok) return queued;
  for (const { estimate, ...each } of due) {
    const { accountId, workOrderId, versionId, personId, number } = each;
    const row = { id: scope.newId(), accountId, workOrderId, versionId, personId, number };
    if (!(await insertReminder(tx, { ...row, mailId, remindedAt: now })))
      return refuse('duplicate', 'They were reminded already.');
    await noteStep(scope, estimate, 'reminded', `${name} was asked once more by e-mail.`);
  }
  return ok(1);
}
