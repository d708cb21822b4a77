import {
  insertNumbersChased,
  listNumbersPeople,
  listWorkOwingNumbers,
  listWorkToChase,
  type NumbersPerson,
  type OwedWork,
  type WorkToChase,
} from '@grainwright/db';
import {
  type AccountId,
  dayAt,
  dayWords,
  demandedNumbers,
  isDaytime,
  type MailId,
  missingNumbers,
  numberNames,
  ok,
  type Result,
  refuse,
  type TenantId,
  toId,
} from '@grainwright/domain';
import { closing } from '../approvals/asking-mail.ts';
import { type JobScope, jobScope } from '../job-scope.ts';
import { makeContactLink } from '../links/make-link.ts';
import { queueMail } from '../mail/queue-mail.ts';
import { numberWords, vehicleWords } from '../work-orders/vehicle-words.ts';
import { inTenant, type SweepServices } from './sweep-scope.ts';

/** How often one work order is asked about, and how many are looked at together. */
const daysMax = 5;
const atOnceMax = 500;
const perAccountMax = 50;
const linkDays = 14;

/**
 * Asks accounts for the numbers that they want on their invoices and finished work lacks: from the day after it was
 * finished, once a day and on five days at most, by day only. Asked are the approver who answered, or else the first
 * one, and the payers. Answers how many mails that are.
 */
export async function askForNumbers(services: SweepServices, tenantId: TenantId): Promise<Result<number>> {
  const found = await inTenant(services, tenantId, async ({ tx, now, today, timeZone }) =>
    ok(
      isDaytime(now, timeZone)
        ? await listWorkToChase(tx, { today, timeZone, daysMax, limit: atOnceMax })
        : [],
    ),
  );
  if (!found.ok) return found;
  let mails = 0;
  for (const [accountId, works] of Map.groupBy(found.value, (work) => work.accountId)) {
    const asked = await askAccount(services, tenantId, accountId, works);
    if (asked.ok) mails += asked.value;
    // Somebody else has asked meanwhile.
    else if (asked.problem.code !== 'duplicate') return asked;
  }
  return ok(mails);
}

function askAccount(
  services: SweepServices,
  tenantId: TenantId,
  accountId: AccountId,
  works: readonly WorkToChase[],
): Promise<Result<number>> {
  const [first] = works;
  if (first === undefined) throw new Error('an account without work');
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const scope = await jobScope(services, tx, first.technicianId);
    const people = await listNumbersPeople(tx, accountId, scope.today);
    const owed = await listWorkOwingNumbers(tx, accountId, perAccountMax);
    let mails = 0;
    for (const person of people) {
      const theirs = owed.filter(({ id }) =>
        works.some((work) => work.workOrderId === id && isAsked(person, work, people)),
      );
      if (theirs.length === 0) continue;
      const asked = await askPerson(scope, services, { accountId, person, owed: theirs });
      if (!asked.ok) return asked;
      if (asked.value) mails += 1;
    }
    return ok(mails);
  });
}

/** The payers, and whoever answered for it; where mail does not reach them, or a rule answered, the first approver. */
function isAsked(
  person: NumbersPerson,
  { decidedBy }: WorkToChase,
  people: readonly NumbersPerson[],
): boolean {
  if (person.role === 'payer' || person.personId === decidedBy) return true;
  if (people.some(({ personId }) => personId === decidedBy)) return false;
  return person.personId === people.find(({ role }) => role === 'approver')?.personId;
}

interface Asking {
  readonly accountId: AccountId;
  readonly person: NumbersPerson;
  readonly owed: readonly OwedWork[];
}

/** False where they have left meanwhile. */
async function askPerson(
  scope: JobScope,
  services: SweepServices,
  { accountId, person, owed }: Asking,
): Promise<Result<boolean>> {
  const { personId } = person;
  const [first] = owed;
  if (first === undefined) throw new Error('a mail about nothing');
  const link = await makeContactLink(scope, services, {
    accountId,
    personId,
    workOrderId: first.id,
    validDays: linkDays,
  });
  if (link === null) return ok(false);
  const mailId = toId<MailId>(scope.newId());
  const queued = await queueMail(scope, {
    id: mailId,
    kind: 'numbers_wanted',
    accountId,
    aboutId: first.id,
    to: [person.email],
    ...wordsOf(scope, person, owed, link),
    attachments: [],
  });
  if (!queued.ok) return queued;
  for (const { id: workOrderId } of owed) {
    const row = { id: scope.newId(), accountId, workOrderId, personId, chasedOn: scope.today, mailId };
    if (!(await insertNumbersChased(scope.tx, { ...row, chasedAt: scope.now })))
      return refuse('duplicate', 'They were asked today already.');
  }
  return ok(true);
}

function wordsOf(
  scope: JobScope,
  { name }: NumbersPerson,
  owed: readonly OwedWork[],
  link: { readonly mark: string; readonly lastDayWords: string },
) {
  const [first] = owed;
  const subject =
    owed.length === 1 && first !== undefined
      ? `Wanted: ${missingWords(first)} for ${headOf(first)}`
      : `Wanted: numbers for ${owed.length} vehicles`;
  const lines = [
    `${name},`,
    '',
    `The work is done, and the invoice waits for a number that you want on it${owed.length === 1 ? '' : ', for each of these vehicles'}.`,
    '',
    ...owed.map(
      (work) => `- ${headOf(work)}, WO-${work.number}${finishedWords(scope, work)}: ${missingWords(work)}`,
    ),
    '',
    owed.length === 1 ? 'Type it here:' : 'Type them here:',
    `${link.mark}/numbers`,
    '',
    `The link needs no password and is yours alone: do not forward it. It opens through ${link.lastDayWords}.`,
    '',
    ...closing(scope, ''),
  ];
  return { subject, text: `${lines.join('\n')}\n` };
}

function headOf({ vehicle, ownNumberKind, ownNumber, roNumber, poNumber }: OwedWork): string {
  const numbers = numberWords({ ownKind: ownNumberKind, own: ownNumber, ro: roNumber, po: poNumber });
  const words = vehicleWords(vehicle, ownNumber);
  return numbers === '' ? words : `${words} (${numbers})`;
}

function missingWords(work: OwedWork): string {
  return missingNumbers(demandedNumbers(work, work))
    .map((kind) => numberNames[kind])
    .join(' and ');
}

function finishedWords({ business }: JobScope, { finishedAt }: OwedWork): string {
  return finishedAt === null ? '' : `, finished on ${dayWords(dayAt(finishedAt, business.timeZone))}`;
}
