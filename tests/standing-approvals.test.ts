import {
  type DecisionId,
  formatMinor,
  type LineId,
  type StandingApprovalId,
  type VersionId,
} from '@grainwright/domain';
import {
  addLine,
  decideEstimate,
  endStandingApproval,
  type LineInput,
  listStandingApprovals,
  listToApprove,
  readWorkOrder,
  reviseEstimate,
  type SetStandingApprovalInput,
  setStandingApproval,
  submitEstimate,
} from '@grainwright/operations';
import postgres from 'postgres';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { answersTo, askedEstimate } from './support/asked-estimates.ts';
import {
  type Account,
  type AccountOptions,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, photoRow, writtenUp } from './support/write-ups.ts';

// The agreed demo figures of an invented used-car lot: common practice of the trade, no published source.

let world: World;
let business: Business;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-06T09:00');
  business = await aBusiness(world);
});
beforeEach(() => world.at('2026-10-06T09:00'));

const aLot = (options: AccountOptions = {}) =>
  anAccount(business, {
    name: 'Penny Lantern Motors',
    kind: 'used_car_lot',
    tierCode: 'lot',
    ownNumberKind: 'stock',
    acceptanceRule: 'account_representative',
    photoRule: 'lot',
    miles: '8',
    limit: null,
    certificate: { kind: 'resale', number: 'R-4471', validFrom: '2026-01-01', validTo: null },
    ...options,
  });

type Limits = Partial<Record<'perVehicle' | 'perVisit' | 'perMonth', string>>;

async function agreed(
  account: Account,
  limits: Limits,
  validFrom = '2026-08-01',
  validTo: string | null = null,
) {
  const id = world.newId<StandingApprovalId>();
  const none = { perVehicle: null, perVisit: null, perMonth: null };
  const text = 'Ravi Stellmacher, by e-mail';
  const input = { id, accountId: account.id, ...none, ...limits, validFrom, validTo, text };
  must(await setStandingApproval(world.services, business.office, input));
  return id;
}

let vehicles = 0;
/** Another car of the row, written up and sent. */
function car(account: Account, ownNumber: string, lines: readonly Partial<LineInput>[]) {
  vehicles += 1;
  return askedEstimate(account, lines, { ownNumber, lastEight: `SR0${10000 + vehicles}` });
}

const seat = (rateCode: string): Partial<LineInput> => ({ part: 'seat_cushion', rateCode });
const amounts = (minor: readonly bigint[]) => minor.map((each) => formatMinor(each));
const readAs = async (account: Account, id: Parameters<typeof readWorkOrder>[2]) =>
  must(await readWorkOrder(world.services, account.viewer, id));

const row: readonly (readonly [string, readonly string[]])[] = [
  ['PL-251', ['FB-S', 'FB-S']],
  ['PL-252', ['BN-S']],
  ['PL-253', ['LW-P', 'SW-S', 'PL-S']],
  ['PL-254', ['CP-M']],
  ['PL-255', ['PU-L', 'SC-M']],
  ['PL-256', ['VC-M', 'PL-H']],
  ['PL-257', ['KF-1']],
];

test('of seven cars on one visit six are approved by rule as they are sent, and the one above the limit of a vehicle waits for a person', async () => {
  const lot = await aLot();
  const approval = await agreed(lot, { perVehicle: '250.00', perVisit: '1200.00' });
  const sent = [];
  for (const [stock, codes] of row) sent.push(await car(lot, stock, codes.map(seat)));
  const views = [];
  for (const { workOrderId } of sent) views.push(await readAs(lot, workOrderId));
  expect(
    views.map(({ state, decision, estimate }) => [
      state,
      formatMinor(decision?.repairsMinor ?? estimate?.price.limitMinor ?? 0n),
    ]),
  ).toEqual([
    ['approved', '88.83'],
    ['approved', '68.75'],
    ['approved', '231.83'],
    ['approved', '65.00'],
    ['awaiting_approval', '305.53'],
    ['approved', '174.08'],
    ['approved', '65.00'],
  ]);
  const [first] = views;
  expect(first?.decision).toMatchObject({ decidedBy: null, given: 'by_rule' });
  expect(first?.decision?.rule).toMatchObject({
    standingApprovalId: approval,
    text: 'up to $250.00 a vehicle and $1,200.00 a visit, from Aug 1, 2026 on (Ravi Stellmacher, by e-mail)',
  });
  // 88.83 + 68.75 + 231.83 + 65.00 + 174.08 + 65.00: the held car is not in it.
  const last = views.at(-1)?.decision?.rule?.sums;
  expect(amounts(last ? [last.vehicleMinor, last.visitMinor, last.monthMinor] : [])).toEqual([
    '65.00',
    '693.49',
    '693.49',
  ]);
  expect(views.at(-1)?.steps.at(-1)).toMatchObject({
    event: 'approved_by_rule',
    note: expect.stringMatching(/^Approved by standing approval: up to \$250\.00 a vehicle/),
  });
  const held = views[4];
  expect(held?.standing?.exceeded).toEqual([
    { limit: 'vehicle', limitMinor: 25000n, reachedMinor: 30553n, overMinor: 5553n },
  ]);
  const waiting = must(await listToApprove(world.services, lot.approver));
  expect(waiting.rows.map((each) => each.numbers.own)).toEqual(['PL-255']);

  const asked = sent[4];
  if (asked === undefined) throw new Error('seven cars were sent');
  // The scuff is now the only repair, so 79.75; with the trip of 45.00 as if no other car stood there, without tax.
  const answer = { ...asked, decisionId: world.newId<DecisionId>(), total: '124.75' };
  const answers = answersTo(asked, { 0: 'going to auction' });
  const decided = must(await decideEstimate(world.services, lot.approver, { ...answer, answers }));
  expect([formatMinor(decided.decision.repairsMinor), decided.decision.decidedBy]).toEqual([
    '79.75',
    'Ansel Corvin',
  ]);
});

test('two cars sent at the same moment don’t both get through the same rest of a visit’s limit', async () => {
  const lot = await aLot();
  await agreed(lot, { perVisit: '200.00' });
  const drafts = [];
  for (const stock of ['PL-301', 'PL-302', 'PL-303', 'PL-304', 'PL-305']) {
    vehicles += 1;
    const lastEight = `SR0${10000 + vehicles}`;
    const workOrderId = await writtenUp(lot, { ownNumber: stock, lastEight });
    const lineId = world.newId<LineId>();
    const line = aLine(seat('BN-S'));
    must(await addLine(world.services, business.technician, { lineId, workOrderId, line }));
    await photoRow(lot, { workOrderId, lineId, purpose: 'before' });
    drafts.push(workOrderId);
  }
  const results = await Promise.all(
    drafts.map((workOrderId) =>
      submitEstimate(world.services, business.technician, {
        workOrderId,
        versionId: world.newId<VersionId>(),
      }),
    ),
  );
  // Each is 68.75: two are 137.50, three would be 206.25.
  const states = results.map((result) => must(result).state).toSorted();
  expect(states).toEqual([
    'approved',
    'approved',
    'awaiting_approval',
    'awaiting_approval',
    'awaiting_approval',
  ]);
});

test('all limits hold at once, over visits of one month, and a new month begins anew', async () => {
  const lot = await aLot();
  await agreed(lot, { perVehicle: '100.00', perMonth: '150.00' });
  const stateOf = async (stock: string) =>
    (await readAs(lot, (await car(lot, stock, [seat('BN-S')])).workOrderId)).state;
  expect(await stateOf('PL-311')).toBe('approved');
  world.at('2026-10-20T09:00');
  expect(await stateOf('PL-312')).toBe('approved');
  const third = await car(lot, 'PL-313', [seat('BN-S')]);
  const view = await readAs(lot, third.workOrderId);
  expect(view.state).toBe('awaiting_approval');
  expect(view.standing?.exceeded).toEqual([
    { limit: 'month', limitMinor: 15000n, reachedMinor: 20625n, overMinor: 5625n },
  ]);
  world.at('2026-11-02T09:00');
  expect(await stateOf('PL-314')).toBe('approved');
});

test('it counts on its days only, one at a time, and an ended one approves nothing more', async () => {
  const lot = await aLot();
  const services = world.services;
  const id = await agreed(lot, { perVehicle: '250.00' }, '2026-10-05', '2026-12-31');
  const other = { accountId: lot.id, perVehicle: '400.00', perVisit: null, perMonth: null, text: 'by phone' };
  const overlapping = {
    ...other,
    id: world.newId<StandingApprovalId>(),
    validFrom: '2026-12-31',
    validTo: null,
  };
  expect(await setStandingApproval(services, business.office, overlapping)).toMatchObject({
    ok: false,
    problem: { code: 'duplicate', field: 'valid_from' },
  });
  const end = { id, accountId: lot.id };
  expect(
    await endStandingApproval(services, business.office, { ...end, validTo: '2026-10-04' }),
  ).toMatchObject({ ok: false, problem: { code: 'dates_out_of_order' } });
  must(await endStandingApproval(services, business.office, { ...end, validTo: '2026-10-05' }));
  must(await endStandingApproval(services, business.office, { ...end, validTo: '2026-10-05' }));
  const sent = await car(lot, 'PL-321', [seat('BN-S')]);
  expect(await readAs(lot, sent.workOrderId)).toMatchObject({ state: 'awaiting_approval', standing: null });
  must(await setStandingApproval(services, business.office, { ...overlapping, validFrom: '2026-10-06' }));
  const later = await car(lot, 'PL-322', [seat('BN-S')]);
  expect((await readAs(lot, later.workOrderId)).state).toBe('approved');
  const list = must(await listStandingApprovals(services, lot.viewer, lot.id));
  expect(list.approvals.map((each) => [each.words, each.standing])).toEqual([
    ['up to $400.00 a vehicle', 'in_force'],
    ['up to $250.00 a vehicle', 'ended'],
  ]);
});

test('one needs a limit above zero and words of who agreed; the same id again is the same one', async () => {
  const lot = await aLot();
  const input = {
    id: world.newId<StandingApprovalId>(),
    accountId: lot.id,
    perVehicle: null,
    perVisit: null,
    perMonth: null,
    text: 'Ravi Stellmacher, by e-mail',
    validFrom: '2026-10-01',
    validTo: null,
  };
  const set = (change: Partial<SetStandingApprovalInput>, actor = business.office) =>
    setStandingApproval(world.services, actor, { ...input, ...change });
  const problemOf = async (result: ReturnType<typeof set>) => {
    const answer = await result;
    return answer.ok ? 'ok' : `${answer.problem.code} ${answer.problem.field ?? ''}`.trim();
  };
  expect(await problemOf(set({}))).toBe('invalid_input per_vehicle');
  expect(await problemOf(set({ perVehicle: '0' }))).toBe('invalid_money per_vehicle');
  expect(await problemOf(set({ perVehicle: '250', text: ' ' }))).toBe('invalid_input text');
  expect(await problemOf(set({ perVehicle: '250' }, business.technician))).toBe('not_allowed');
  expect(await problemOf(set({ perVehicle: '250' }))).toBe('ok');
  expect(await problemOf(set({ perVehicle: '250.00' }))).toBe('ok');
  expect(await problemOf(set({ perVehicle: '260' }))).toBe('id_reused id');
});

test('a line added later is approved by rule while the limits hold, and no rule speaks over a person’s answer', async () => {
  const lot = await aLot();
  await agreed(lot, { perVehicle: '250.00' });
  const sent = await car(lot, 'PL-331', [seat('BN-S')]);
  const { workOrderId } = sent;
  const revise = async (rateCode: string) => {
    const lineId = world.newId<LineId>();
    const added = [{ lineId, line: aLine(seat(rateCode)) }];
    const change = { workOrderId, versionId: world.newId<VersionId>(), added, changed: [], removed: [] };
    const revised = must(await reviseEstimate(world.services, business.technician, change));
    await photoRow(lot, { workOrderId, lineId, purpose: 'before' });
    return revised;
  };
  // What is found later has no photo of its own yet; one of the vehicle as a whole shows it.
  await photoRow(lot, { workOrderId, lineId: null, purpose: 'before' });
  const within = await revise('FB-S');
  expect(within.state).toBe('approved');
  expect(within.decision).toMatchObject({ decidedBy: null, given: 'by_rule' });
  const over = await revise('PU-L');
  expect(over.state).toBe('awaiting_approval');
  const { estimate } = over;
  if (!estimate?.versionId || !estimate.digest) throw new Error('the estimate was sent');
  const lines = estimate.lines.map(({ lineId, code }) => ({
    lineId,
    answer: code === 'PU-L' ? ('declined' as const) : ('approved' as const),
    reason: '',
  }));
  const input = { workOrderId, versionId: estimate.versionId, digest: estimate.digest };
  // Cloth burn 46.75 at 90 % = 42.08 (42.075) and 68.75: 110.83, with the trip 155.83.
  const answer = { ...input, answers: lines, total: '155.83', decisionId: world.newId<DecisionId>() };
  must(await decideEstimate(world.services, lot.approver, answer));
  const third = await revise('FB-S');
  expect(third.state).toBe('awaiting_approval');
  expect(third.standing).toMatchObject({ answeredByPerson: true, covers: false });
});

test('the database itself refuses an answer by rule above a limit, also to whoever writes as staff', async () => {
  const lot = await aLot();
  const id = await agreed(lot, { perVehicle: '250.00' });
  const held = await car(lot, 'PL-341', [seat('PU-L'), { part: 'seat_back', rateCode: 'SC-M' }]);
  const sql = postgres(world.adminUrl, { max: 1, onnotice: () => {} });
  const forged = sql`insert into decisions (tenant_id, id, work_order_id, account_id, version_id, digest, given, decided_at,
      standing_approval_id, rule_text, rule_day, rule_visit_minor, rule_month_minor, compared_minor, repairs_minor,
      minimum_minor, after_hours_minor, trip_minor, tax_minor, total_minor)
    values (${business.tenantId}, ${world.newId()}, ${held.workOrderId}, ${lot.id}, ${held.versionId}, ${held.digest},
      'by_rule', now(), ${id}, 'up to anything', '2026-10-06', 30553, 30553, 30553, 30553, 0, 0, 0, 0, 30553)`;
  await expect(forged).rejects.toThrow('the standing approval does not cover this');
  await sql.end();
});
