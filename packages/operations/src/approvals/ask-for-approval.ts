import {
  type AskableApproverRow,
  findEstimate,
  listAskableApprovers,
  listVersionsAsked,
  lockVisitsOf,
} from '@grainwright/db';
import {
  displayMoney,
  ok,
  type PersonId,
  type Result,
  type TenantId,
  type VersionId,
  type Asked as Whom,
  whoIsAsked,
} from '@grainwright/domain';
import { type JobScope, jobScope } from '../job-scope.ts';
import type { Services } from '../services.ts';
import { askByMail, noteStep } from './ask-by-mail.ts';
import { askDelegates } from './ask-delegates.ts';
import { type AskedEstimate, askedEstimateOf, stillWaits } from './asked-estimate.ts';

export interface ApprovalToAskFor {
  readonly tenantId: TenantId;
  /** The version that was sent. */
  readonly versionId: VersionId;
}

/**
 * The worker’s part: asks the account’s first approver for an answer to a version that was sent and, where it is above
 * their limit, the next one whose limit covers it. What else of the visit waits and was not asked about yet goes into
 * the same mail. What was answered meanwhile, or has expired, is not asked; done twice it asks once.
 */
export function askForApproval(
  services: Pick<Services, 'database' | 'links' | 'now' | 'newId'>,
  { tenantId, versionId }: ApprovalToAskFor,
): Promise<Result<'done'>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const sent = await findEstimate(tx, versionId);
    if (sent === null) throw new Error(`there is no version ${versionId}`);
    const scope = await jobScope(services, tx, sent.version.madeBy);
    const waiting = await waitingUnasked(scope, sent.version.workOrderId);
    const [first] = waiting;
    if (first === undefined) return ok('done');
    const approvers = await listAskableApprovers(tx, first.found.account.id, scope.today);
    return askAll(scope, services, waiting, approvers);
  });
}

/** What of the visit waits for its first question, by number; one job at a time looks. */
async function waitingUnasked(
  scope: JobScope,
  workOrderId: AskedEstimate['workOrderId'],
): Promise<readonly AskedEstimate[]> {
  const ofVisit = await lockVisitsOf(scope.tx, [workOrderId]);
  const versions = ofVisit.flatMap(({ state, currentVersionId }) =>
    state === 'awaiting_approval' && currentVersionId !== null ? [currentVersionId] : [],
  );
  const asked = await listVersionsAsked(scope.tx, versions);
  const found: AskedEstimate[] = [];
  for (const id of versions.filter((each) => !asked.has(each))) found.push(await askedEstimateOf(scope, id));
  return found
    .filter((estimate) => stillWaits(estimate, scope))
    .toSorted((a, b) => Number(a.number - b.number));
}

async function askAll(
  scope: JobScope,
  services: Pick<Services, 'links'>,
  waiting: readonly AskedEstimate[],
  approvers: readonly AskableApproverRow[],
): Promise<Result<'done'>> {
  const whoms = new Map(
    waiting.map((estimate) => [estimate.versionId, whoIsAsked(approvers, estimate.comparedMinor)]),
  );
  const whomOf = ({ versionId }: AskedEstimate): Whom<AskableApproverRow> =>
    whoms.get(versionId) ?? { first: null, above: null };
  const isAsked = (estimate: AskedEstimate, personId: PersonId) => {
    const { first, above } = whomOf(estimate);
    return first?.personId === personId || above?.personId === personId;
  };
  for (const person of approvers) {
    const estimates = waiting.filter((estimate) => isAsked(estimate, person.personId));
    if (estimates.length === 0) continue;
    const asked = await askByMail(scope, services, {
      person,
      estimates,
      why: (estimate) => (whomOf(estimate).first?.personId === person.personId ? 'first' : 'above_limit'),
      whyWords: (estimate) => whyWords(estimate, whomOf(estimate), person),
    });
    if (!asked.ok) return asked;
  }
  for (const estimate of waiting) {
    const note = stepWords(estimate, whomOf(estimate));
    if (note !== '') await noteStep(scope, estimate, 'asked', note);
  }
  const delegates = await askDelegates(scope, services, waiting);
  return delegates.ok ? ok('done') : delegates;
}

/** To the first: that it is more than they may approve. To the other: whose limit it is above. */
function whyWords(
  { comparedMinor, currency }: AskedEstimate,
  { first, above }: Whom<AskableApproverRow>,
  person: AskableApproverRow,
): string {
  if (first === null || first.limitMinor === null || comparedMinor <= first.limitMinor) return '';
  const amount = displayMoney(comparedMinor, currency);
  const limit = displayMoney(first.limitMinor, currency);
  if (person.personId !== first.personId)
    return `Before trip and tax it is ${amount}, above the limit of ${first.name}, ${limit}. ${first.name} was asked too.`;
  const other =
    above === null
      ? 'Nobody else of your account who can be asked by e-mail may approve as much.'
      : `${above.name} was asked too.`;
  return `Before trip and tax it is ${amount}, above your limit of ${limit}. ${other}`;
}

function stepWords(
  { comparedMinor, currency }: AskedEstimate,
  { first, above }: Whom<AskableApproverRow>,
): string {
  if (first === null) return '';
  const asked = `${first.name} was asked by e-mail.`;
  if (first.limitMinor === null || comparedMinor <= first.limitMinor) return asked;
  const over = `${displayMoney(comparedMinor, currency)} is above the limit of ${displayMoney(first.limitMinor, currency)}`;
  return above === null
    ? `${asked} ${over}, and nobody else who can be mailed may approve as much.`
    : `${asked} ${over}, so ${above.name} was asked as well.`;
}
