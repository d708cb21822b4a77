import { listCountingDelegations, listEmailsOf, listPeopleAsked } from '@grainwright/db';
import { dayWords, displayMoney, ok, type Result } from '@grainwright/domain';
import type { JobScope } from '../job-scope.ts';
import { isMailAddress } from '../mail/mail-address.ts';
import type { Services } from '../services.ts';
import { askByMail, noteStep } from './ask-by-mail.ts';
import type { AskedEstimate } from './asked-estimate.ts';

/**
 * Asks, along with those who were asked, whoever answers for one of them just now and was not asked yet. The estimates
 * are of one account and one visit, and wait. Answers how many mails that are.
 */
export async function askDelegates(
  scope: JobScope,
  services: Pick<Services, 'links'>,
  estimates: readonly AskedEstimate[],
): Promise<Result<number>> {
  const { tx, now, business } = scope;
  const [first] = estimates;
  if (first === undefined) return ok(0);
  const { accountId } = first.found.workOrder;
  const delegations = await listCountingDelegations(tx, { accountId }, { now, timeZone: business.timeZone });
  const emails = await listEmailsOf(
    tx,
    delegations.map(({ toPersonId }) => toPersonId),
  );
  let mails = 0;
  for (const { toPersonId, toName, forPersonId, forName, limitMinor, through } of delegations) {
    if (!isMailAddress(emails.get(toPersonId) ?? '')) continue;
    const toAsk: AskedEstimate[] = [];
    for (const estimate of estimates) {
      const asked = await listPeopleAsked(tx, estimate.versionId);
      if (asked.includes(forPersonId) && !asked.includes(toPersonId)) toAsk.push(estimate);
    }
    if (toAsk.length === 0) continue;
    const limit = limitMinor === null ? '' : `, up to ${displayMoney(limitMinor, business.currency)}`;
    const asked = await askByMail(scope, services, {
      person: { personId: toPersonId, name: toName, limitMinor },
      estimates: toAsk,
      why: () => 'delegate',
      whyWords: () => `You answer for ${forName} until ${dayWords(through)}${limit}.`,
    });
    if (!asked.ok) return asked;
    mails += 1;
    for (const estimate of toAsk)
      await noteStep(scope, estimate, 'asked', `${toName} was asked by e-mail, for ${forName}, who is away.`);
  }
  return ok(mails);
}
