import { type ApprovalAskId, type DecisionId, formatMinor, type VersionId } from '@grainwright/domain';
import { askAgain, decideEstimate, openLink, readWorkOrder } from '@grainwright/operations';
import postgres from 'postgres';
import { beforeAll, expect, test } from 'vitest';
import { anotherApprover, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { linkMailedTo } from './support/mailed-links.ts';
import { runJobs } from './support/run-jobs.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-06T09:00');
  business = await aBusiness(world);
  account = await anAccount(business, { limit: null });
});

const rounds = 200;

test('two approvers who answer at once by their links: 200 times there is exactly one decision', {
  timeout: 120_000,
}, async () => {
  const colleague = { name: 'Ottilie Crane', email: business.emailOf('ottilie'), limit: null };
  const { personId } = await anotherApprover(account, colleague);
  const asked = await askedEstimate(account, [
    { byHandPrice: '100.00', byHandReason: 'agreed', byHandMaterialsPercent: '20' },
  ]);
  const { workOrderId, digest } = asked;
  must(
    await askAgain(world.services, business.office, {
      askId: world.newId<ApprovalAskId>(),
      workOrderId,
      personId,
    }),
  );
  await runJobs(world);
  const first = await holderOf(account.emailOf('approver'));
  const second = await holderOf(colleague.email);
  const { services } = world;
  const { estimate } = must(await readWorkOrder(services, business.technician, workOrderId));
  const total = formatMinor(estimate?.price.invoice.totals.withTaxMinor ?? 0n);
  const outcomes: string[] = [];
  const versions: VersionId[] = [asked.versionId];
  const administrator = postgres(world.adminUrl, { max: 1 });
  for (let round = 1; round <= rounds; round += 1) {
    const versionId = versions.at(-1) ?? asked.versionId;
    const answer = { workOrderId, versionId, digest, answers: answersTo(asked), total };
    const both = round % 2 === 0 ? [first, second] : [second, first];
    const decided = await Promise.all(
      both.map((actor) =>
        decideEstimate(services, actor, { ...answer, decisionId: world.newId<DecisionId>() }),
      ),
    );
    const codes = decided.map((each) => (each.ok ? 'counted' : each.problem.code));
    outcomes.push(codes.toSorted().join(' and '));
    versions.push(await anotherVersion(administrator, versionId));
  }
  const counts = await administrator<{ version: VersionId; decisions: number }[]>`
    select version_id as version, count(*)::integer as decisions from decisions
    where work_order_id = ${workOrderId} group by version_id`;
  await administrator.end();
  expect([...new Set(outcomes)]).toEqual(['already_decided and counted']);
  expect(new Map(counts.map(({ version, decisions }) => [version, decisions]))).toEqual(
    new Map(versions.slice(0, rounds).map((version) => [version, 1])),
  );
});

/** The same estimate once more as a fresh version that waits, made behind the product’s back: revising is not the point. */
async function anotherVersion(sql: postgres.Sql, before: VersionId): Promise<VersionId> {
  const id = world.newId<VersionId>();
  await sql.begin(async (each) => {
    await each`insert into estimate_versions select (jsonb_populate_record(v,
      jsonb_build_object('id', ${id}::text, 'version', v.version + 1))).* from estimate_versions v where v.id = ${before}`;
    await each`insert into estimate_lines select (jsonb_populate_record(l,
      jsonb_build_object('version_id', ${id}::text))).* from estimate_lines l where l.version_id = ${before}`;
    await each`update work_orders set state = 'awaiting_approval', current_version_id = ${id}, decision_id = null
      where current_version_id = ${before}`;
  });
  return id;
}

async function holderOf(email: string) {
  const path = await linkMailedTo(business, email);
  const token = path.replace('/link/', '');
  const opened = must(await openLink(world.services, { token, fromAddress: '192.0.2.7' }));
  if (opened.purpose !== 'approval') throw new Error('it is no link to answer by');
  return opened.actor;
}
