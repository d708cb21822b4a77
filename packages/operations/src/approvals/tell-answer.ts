import {
  findContact,
  findDecision,
  hasMailAbout,
  listEmailsOf,
  listPeopleAsked,
  type StoredDecision,
} from '@grainwright/db';
import {
  type DecisionId,
  displayMoney,
  type MailId,
  ok,
  type Result,
  type TenantId,
  toId,
} from '@grainwright/domain';
import { type JobScope, jobScope } from '../job-scope.ts';
import { isMailAddress } from '../mail/mail-address.ts';
import { type MailToQueue, queueMail } from '../mail/queue-mail.ts';
import type { Services } from '../services.ts';
import { momentWords } from '../work-orders/moment-words.ts';
import { stateAfter } from '../work-orders/write-decision.ts';
import { type AskedEstimate, askedEstimateOf } from './asked-estimate.ts';
import { closing, headOf } from './asking-mail.ts';

export interface AnswerToTell {
  readonly tenantId: TenantId;
  readonly decisionId: DecisionId;
}

/**
 * The worker’s part, once a version that somebody was asked about by mail is answered: whoever answered gets a copy of
 * their answer, and everybody else who was asked hears that they need not open it; whoever has left the account hears
 * nothing. Done twice it mails once.
 */
export function tellAnswer(
  services: Pick<Services, 'database' | 'now' | 'newId'>,
  { tenantId, decisionId }: AnswerToTell,
): Promise<Result<'done'>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const answered = await findDecision(tx, decisionId);
    if (answered === null) throw new Error(`there is no decision ${decisionId}`);
    const { decision, decidedByName } = answered;
    const asked = await listPeopleAsked(tx, decision.versionId);
    if (decision.decidedBy === null || decidedByName === null || asked.length === 0) return ok('done');
    if (await hasMailAbout(tx, 'answer_copy', decisionId)) return ok('done');
    const scope = await jobScope(services, tx, decision.recordedBy ?? decision.decidedBy);
    const estimate = await askedEstimateOf(scope, decision.versionId);
    const people = [...new Set([decision.decidedBy, ...asked])];
    const emails = await listEmailsOf(tx, people);
    for (const personId of people) {
      const to = emails.get(personId) ?? '';
      const contact = await findContact(tx, decision.accountId, personId, scope.now);
      if (contact === null || !isMailAddress(to)) continue;
      const { name } = contact;
      const words =
        personId === decision.decidedBy
          ? copyMail(scope, name, answered, estimate)
          : answeredMail(scope, name, answered, estimate);
      const mail = { id: toId<MailId>(scope.newId()), kind: 'answer_copy' as const };
      const about = { accountId: decision.accountId, aboutId: decisionId, to: [to], attachments: [] };
      const queued = await queueMail(scope, { ...mail, ...about, ...words });
      if (!queued.ok) return queued;
    }
    return ok('done');
  });
}

type Words = Pick<MailToQueue, 'subject' | 'text'>;

function copyMail(scope: JobScope, name: string, answered: StoredDecision, estimate: AskedEstimate): Words {
  const { decision, lines } = answered;
  const amount = (minor: bigint) => displayMoney(minor, estimate.currency);
  const at = momentWords(decision.decidedAt, scope.business.timeZone);
  const how = decision.recordedBy === null ? 'You answered' : `${scope.business.name} wrote down your answer`;
  const text = [
    `${name},`,
    '',
    `${how} on ${at}: ${headOf(estimate)}, WO-${estimate.number}, version ${estimate.estimate.version.version}.`,
    '',
    ...estimate.estimate.lines.map(({ lineId, description }) => {
      const line = lines.find((each) => each.lineId === lineId);
      if (line === undefined || line.answer === 'declined')
        return `- no: ${description}${line === undefined || line.reason === '' ? '' : ` (${line.reason})`}`;
      return `- yes: ${description}: ${amount(line.netMinor)}`;
    }),
    '',
    stateAfter(lines) === 'approved'
      ? `Total with charges and tax: ${amount(decision.totalMinor)}. The work is done next.`
      : 'Nothing is repaired and nothing is billed.',
    'If this was not you, or not what you meant, tell us at once.',
    '',
    ...closing(scope, ''),
  ];
  return { subject: `Your answer: ${headOf(estimate)}`, text: mailText(text) };
}

function answeredMail(
  scope: JobScope,
  name: string,
  { decision, decidedByName }: StoredDecision,
  estimate: AskedEstimate,
): Words {
  const at = momentWords(decision.decidedAt, scope.business.timeZone);
  const text = [
    `${name},`,
    '',
    `${decidedByName} answered on ${at}: ${headOf(estimate)}, WO-${estimate.number}.`,
    'There is nothing left for you to do about it.',
    '',
    ...closing(scope, ''),
  ];
  return { subject: `Answered: ${headOf(estimate)}`, text: mailText(text) };
}

function mailText(lines: readonly string[]): string {
  return `${lines.join('\n')}\n`;
}
