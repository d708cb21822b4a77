import { findPassedOn, hasStep, listAskableApprovers, wasPassedOnMailed } from '@grainwright/db';
import { displayMoney, ok, type PassedOnId, type Result, type TenantId } from '@grainwright/domain';
import { jobScope } from '../job-scope.ts';
import type { Services } from '../services.ts';
import { openWorkOrder } from '../work-order-path.ts';
import { askByMail, noteStep } from './ask-by-mail.ts';
import { askedEstimateOf, stillWaits } from './asked-estimate.ts';
import { passedOnView } from './passed-on-view.ts';

export interface PassedOnToMail {
  readonly tenantId: TenantId;
  readonly passedOnId: PassedOnId;
}

/**
 * The worker’s part: asks whoever an answer was passed on to, and puts the passing on into the work order’s path. What
 * was answered meanwhile is not asked; done twice it mails once, and notes once that nobody could be mailed.
 */
export function mailPassedOn(
  services: Pick<Services, 'database' | 'links' | 'now' | 'newId'>,
  { tenantId, passedOnId }: PassedOnToMail,
): Promise<Result<'done'>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const row = await findPassedOn(tx, passedOnId);
    if (row === null) throw new Error(`nothing was passed on as ${passedOnId}`);
    const scope = await jobScope(services, tx, row.passedBy);
    const opened = await openWorkOrder(scope, row.workOrderId);
    if (!opened.ok) return opened;
    const estimate = await askedEstimateOf(scope, row.versionId);
    if (!stillWaits(estimate, scope) || (await wasPassedOnMailed(tx, passedOnId))) return ok('done');
    const passed = passedOnView(row, estimate.currency);
    const amount = displayMoney(passed.comparedMinor, passed.currency);
    const limit = displayMoney(passed.limitMinor, passed.currency);
    const above = `${amount} before trip and tax is above the limit of ${passed.passedBy.name}, ${limit}`;
    const approvers = await listAskableApprovers(tx, row.accountId, scope.today);
    const person = approvers.find((each) => each.personId === passed.passedTo?.id && each.hasEmail);
    if (person === undefined) {
      const nobody = `${above}, and nobody who can be mailed may approve as much.`;
      // One such step for each passing on, so both may have the same id.
      if (!(await hasStep(tx, passedOnId))) await noteStep(scope, estimate, 'passed_on', nobody, passedOnId);
      return ok('done');
    }
    const asked = await askByMail(scope, services, {
      person,
      passedOnId,
      estimates: [estimate],
      why: () => 'passed_on',
      whyWords: () =>
        `${passed.passedBy.name} went through it: ${above}. The page begins with their ticks; whether it is approved is yours to say.`,
    });
    if (!asked.ok) return asked;
    await noteStep(
      scope,
      estimate,
      'passed_on',
      `${above}. ${person.name} was asked by e-mail, with the ticks.`,
    );
    return ok('done');
  });
}
