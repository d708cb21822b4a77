import { type DecisionId, formatMinor } from '@grainwright/domain';
import {
  decideEstimate,
  endContact,
  listApprovers,
  listCautions,
  readWorkOrder,
  releaseSeam,
  startWork,
  writeUp,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { type AskedEstimate, anotherApprover, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { asAdministrator } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aWriteUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let installer: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
});

const seam = (part: 'seat_back' | 'seat_cushion') => ({
  part,
  damage: 'open_seam' as const,
  methods: ['re_sew' as const],
  byHandPrice: '140.00',
  byHandReason: 'no rate',
  byHandMaterialsPercent: '10',
});

async function approved(asked: AskedEstimate): Promise<void> {
  const { estimate } = must(await readWorkOrder(world.services, installer.approver, asked.workOrderId));
  const { workOrderId, versionId, digest } = asked;
  const total = formatMinor(estimate?.price.invoice.totals.withTaxMinor ?? 0n, 'USD');
  const decisionId = world.newId<DecisionId>();
  const decision = { decisionId, workOrderId, versionId, digest, answers: answersTo(asked), total };
  must(await decideEstimate(world.services, installer.approver, decision));
}

test('a release of one airbag seam leaves every other one of the work order blocked', async () => {
  const asked = await askedEstimate(installer, [seam('seat_back'), seam('seat_cushion')]);
  await approved(asked);
  const { workOrderId } = asked;
  const [back, cushion] = asked.lineIds;
  if (back === undefined || cushion === undefined) throw new Error('two lines were asked for');
  const cautions = async () =>
    must(await listCautions(world.services, business.owner, { workOrderId, circumstances: [] }));
  const start = async () => {
    const acknowledge = (await cautions()).cautions.map(({ code }) => code);
    const started = { acknowledgmentId: world.newId(), workOrderId, acknowledge, circumstances: [] };
    return startWork(world.services, business.technician, started);
  };
  const release = (lineId: typeof back) =>
    releaseSeam(world.services, business.owner, {
      workOrderId,
      lineId,
      reason: 'a plain seam by the manual',
    });
  expect((await cautions()).blockedSeam?.id).toBe(back);
  must(await release(back));
  must(await release(back));
  expect((await cautions()).blockedSeam?.id).toBe(cushion);
  expect(await start()).toMatchObject({ ok: false, problem: { code: 'wrong_state' } });
  must(await release(cushion));
  expect((await cautions()).blockedSeam).toBeNull();
  expect(await start()).toEqual({ ok: true, value: { state: 'in_work' } });
  const released = await asAdministrator(
    world,
    (sql) => sql`select line_id, part, reason, released_by from seam_releases
      where work_order_id = ${workOrderId} order by released_at, id`,
  );
  expect(released).toEqual(
    [
      { line_id: back, part: 'seat_back' },
      { line_id: cushion, part: 'seat_cushion' },
    ].map((row) => ({ ...row, reason: 'a plain seam by the manual', released_by: business.owner.personId })),
  );
});

test('a step on the path releases no seam, whoever wrote it', async () => {
  const asked = await askedEstimate(installer, [seam('seat_back')]);
  await approved(asked);
  const { workOrderId } = asked;
  await asAdministrator(
    world,
    (
      sql,
    ) => sql`insert into work_order_steps (tenant_id, id, work_order_id, event, to_state, person_id, happened_at)
      values (${business.tenantId}, ${world.newId()}, ${workOrderId}, 'seam_released', 'approved',
        ${business.owner.personId}, now())`,
  );
  const view = must(await listCautions(world.services, business.owner, { workOrderId, circumstances: [] }));
  expect(view.blockedSeam?.id).toBe(asked.lineIds[0]);
});

test('an approver who was ended today is not offered as somebody whose yes can be written down', async () => {
  const asked = await askedEstimate(installer, [{ rateCode: 'WR-1', damage: 'wrinkle' }]);
  const email = business.emailOf('leaving');
  const leaving = await anotherApprover(installer, { name: 'Ottmar Leaving', email, limit: null });
  const offered = async () =>
    must(await listApprovers(world.services, business.technician, asked.workOrderId)).map(({ name }) => name);
  expect(await offered()).toContain('Ottmar Leaving');
  const { personId } = leaving;
  must(await endContact(world.services, business.office, { accountId: installer.id, personId }));
  expect(await offered()).not.toContain('Ottmar Leaving');
});

test('the same write-up sent several times at once leaves one vehicle, one visit and no gap in the numbers', async () => {
  const lot = await anAccount(business);
  const counted = async () => {
    const [row] = await asAdministrator(
      world,
      (sql) => sql`select
        (select count(*)::int from vehicles where account_id = ${lot.id}) as vehicles,
        (select count(*)::int from visits where account_id = ${lot.id}) as visits,
        (select next::int from document_numbers
          where tenant_id = ${business.tenantId} and kind = 'work_order') as next`,
    );
    return row;
  };
  const before = await counted();
  const { visitId: _made, ...written } = aWriteUp(lot);
  const answers = await Promise.all(
    [1, 2, 3, 4].map(() => writeUp(world.services, business.technician, written)),
  );
  expect(new Set(answers.map((answer) => must(answer).number)).size).toBe(1);
  expect(await counted()).toEqual({ vehicles: 1, visits: 1, next: before?.next + 1 });
});

test('an estimate is taxed by what is in force on the day of work, also where one rate began later than another', async () => {
  const taxed = await aBusiness(world);
  const account = await anAccount(taxed, { limit: null });
  await asAdministrator(
    world,
    (
      sql,
    ) => sql`insert into tax_rates (tenant_id, id, tax_area_id, position, component, rate_percent, valid_from)
      select tenant_id, gen_random_uuid(), id, 9, 'Transit', 2, '2026-08-01' from tax_areas
      where tenant_id = ${taxed.tenantId} and code = 'A'`,
  );
  const asked = await askedEstimate(account, [{ rateCode: 'WR-1', damage: 'wrinkle' }]);
  const { estimate } = must(await readWorkOrder(world.services, account.approver, asked.workOrderId));
  const components = estimate?.price.invoice.tax.areas.flatMap((area) => area.components) ?? [];
  expect(components.map(({ name }) => name)).toEqual(['State', 'Local', 'Transit']);
});
