import { type DecisionId, formatMinor, type VersionId } from '@grainwright/domain';
import {
  type Actor,
  decideEstimate,
  listApprovers,
  listToApprove,
  previewDecision,
  readWorkOrder,
  recordDecision,
  reviseEstimate,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { type AskedEstimate, anotherApprover, answersTo, askedEstimate } from './support/asked-estimates.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine } from './support/write-ups.ts';

// Figures of two invented jobs: common practice of the trade, no published source; worked out by hand and by other programs.

let world: World;
let business: Business;
let lot: Account;
let dealer: Account;
let serviceManager: Actor;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-06T09:00');
  business = await aBusiness(world);
  lot = await anAccount(business, {
    name: 'Penny Lantern Motors',
    kind: 'used_car_lot',
    tierCode: 'lot',
    ownNumberKind: 'stock',
    acceptanceRule: 'account_representative',
    photoRule: 'lot',
    miles: '8',
    limit: '250.00',
    certificate: { kind: 'resale', number: 'R-4471', validFrom: '2026-01-01', validTo: null },
  });
  dealer = await anAccount(business, {
    name: 'Halden of Tessaly',
    kind: 'new_car_dealer',
    tierCode: 'dealer',
    limit: '400.00',
  });
  serviceManager = await anotherApprover(dealer, {
    name: 'Marguerite Sloane',
    email: business.emailOf('service'),
    limit: '700.00',
  });
});

beforeEach(() => world.at('2026-10-06T09:00'));

/** Two lines of a used car: a torn urethane bolster and a scuffed sill. */
const askedOfLot = () =>
  askedEstimate(lot, [
    { part: 'seat_bolster', rateCode: 'PU-L' },
    { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' },
  ]);

/** Four lines of a customer's car, after hours. */
const askedOfDealer = () =>
  askedEstimate(
    dealer,
    [
      { part: 'seat_cushion', rateCode: 'LT-L', factorCode: 'perf' },
      { part: 'dash', rateCode: 'DB-M' },
      { part: 'seat_bolster', rateCode: 'LW-P' },
      { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' },
    ],
    { afterHours: true, roNumber: '48213' },
  );

const seen = ({ workOrderId, versionId, digest }: AskedEstimate) => ({ workOrderId, versionId, digest });
const preview = (actor: Actor, asked: AskedEstimate, declined?: Record<number, string>) =>
  previewDecision(world.services, actor, { ...seen(asked), answers: answersTo(asked, declined) });
const decision = (asked: AskedEstimate, total: string, declined?: Record<number, string>) => ({
  ...seen(asked),
  decisionId: world.newId<DecisionId>(),
  answers: answersTo(asked, declined),
  total,
});
const decide = (actor: Actor, asked: AskedEstimate, total: string, declined?: Record<number, string>) =>
  decideEstimate(world.services, actor, decision(asked, total, declined));
const codeOf = (result: { ok: true } | { ok: false; problem: { code: string } }) =>
  result.ok ? 'ok' : result.problem.code;

test('declining the dearer of two lines makes the other one the first repair, at its full price', async () => {
  const asked = await askedOfLot();
  const all = must(await preview(lot.approver, asked));
  expect(all.lines.map((line) => formatMinor(line.netMinor ?? 0n))).toEqual(['233.75', '71.78']);
  expect([formatMinor(all.comparedMinor), all.withinLimit]).toEqual(['305.53', false]);
  const one = must(await preview(lot.approver, asked, { 0: 'going to auction' }));
  expect(one.lines.map((line) => line.netMinor && formatMinor(line.netMinor))).toEqual([null, '79.75']);
  expect([formatMinor(one.comparedMinor), one.withinLimit]).toEqual(['79.75', true]);
  // The lot's trip is waived from 300.00 of repairs: 305.53 were, 79.75 are not.
  expect([one.offeredTripMinor, one.tripMinor].map((each) => formatMinor(each))).toEqual(['0.00', '45.00']);
  expect(must(await readWorkOrder(world.services, lot.viewer, asked.workOrderId)).state).toBe(
    'awaiting_approval',
  );
});

test('a yes to three of four lines freezes their new prices, and keeps the declined one at the price it was offered at', async () => {
  world.at('2026-10-14T17:40');
  const asked = await askedOfDealer();
  const before = must(await preview(serviceManager, asked));
  expect(before.lines.map((line) => formatMinor(line.offeredMinor))).toEqual([
    '304.69',
    '178.88',
    '111.00',
    '57.00',
  ]);
  expect(
    [before.repairsMinor, before.afterHoursMinor, before.totalMinor].map((each) => formatMinor(each)),
  ).toEqual(['651.57', '162.89', '820.01']);
  const shown = must(await preview(serviceManager, asked, { 1: 'the dash was like that' }));
  expect(shown.lines.map((line) => line.netMinor && formatMinor(line.netMinor))).toEqual([
    '304.69',
    null,
    '124.88',
    '57.00',
  ]);
  expect(
    [shown.repairsMinor, shown.afterHoursMinor, shown.tripMinor, shown.taxMinor, shown.totalMinor].map(
      (each) => formatMinor(each),
    ),
  ).toEqual(['486.57', '121.64', '0.00', '4.38', '612.59']);

  const decided = must(await decide(serviceManager, asked, '612.59', { 1: 'the dash was like that' }));
  expect([decided.state, decided.decision.decidedBy, formatMinor(decided.decision.totalMinor)]).toEqual([
    'approved',
    'Marguerite Sloane',
    '612.59',
  ]);
  const view = must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId));
  expect(view.state).toBe('approved');
  const answered = asked.lineIds.map((id) => view.decision?.lines.find((line) => line.lineId === id));
  expect(answered.map((line) => line && [line.answer, formatMinor(line.netMinor), line.reason])).toEqual([
    ['approved', '304.69', ''],
    ['declined', '178.88', 'the dash was like that'],
    ['approved', '124.88', ''],
    ['approved', '57.00', ''],
  ]);
  expect(view.steps.at(-1)).toMatchObject({
    event: 'approved',
    personName: 'Marguerite Sloane',
    note: '3 of 4 lines, $612.59.',
  });
});

test('nobody approves above their limit, which looks at repairs and after-hours before trip and tax', async () => {
  const asked = await askedOfDealer();
  const refused = await decide(serviceManager, asked, '820.01');
  expect(refused).toMatchObject({ ok: false, problem: { code: 'over_limit' } });
  expect(refused.ok ? '' : refused.problem.detail).toMatch(/\$814\.46.*\$700\.00/);
  expect(codeOf(await decide(dealer.approver, asked, '612.59', { 1: '' }))).toBe('over_limit');
  expect(codeOf(await decide(serviceManager, asked, '612.59', { 1: '' }))).toBe('ok');
});

test('a total that is not the one shown is refused with the right one, and nothing is decided', async () => {
  const asked = await askedOfDealer();
  const refused = await decide(serviceManager, asked, '612.58', { 1: '' });
  expect(refused).toMatchObject({ ok: false, problem: { code: 'shown_changed', field: 'total' } });
  expect(refused.ok ? '' : refused.problem.detail).toContain('$612.59');
  expect(must(await readWorkOrder(world.services, serviceManager, asked.workOrderId)).decision).toBeNull();
});

test('declining every line declines the work order, at any limit', async () => {
  const asked = await askedOfLot();
  const decided = must(await decide(lot.approver, asked, '0', { 0: 'sold', 1: 'sold' }));
  expect([decided.state, decided.decision.totalMinor]).toEqual(['declined', 0n]);
  expect(must(await readWorkOrder(world.services, lot.approver, asked.workOrderId)).state).toBe('declined');
});

test('every line needs one answer, and no other line can be answered', async () => {
  const asked = await askedOfLot();
  const other = await askedOfLot();
  const [first, second] = answersTo(asked);
  const [foreign] = answersTo(other);
  if (!first || !second || !foreign) throw new Error('the estimates have two lines');
  for (const answers of [[first], [first, first, second], [first, second, foreign]])
    expect(codeOf(await previewDecision(world.services, lot.approver, { ...seen(asked), answers }))).toBe(
      'invalid_input',
    );
});

test('the same decision sent twice is one, and its id can’t carry another', async () => {
  const asked = await askedOfDealer();
  const input = decision(asked, '612.59', { 1: 'no' });
  const first = must(await decideEstimate(world.services, serviceManager, input));
  expect(must(await decideEstimate(world.services, serviceManager, input))).toEqual(first);
  expect(
    codeOf(
      await decideEstimate(world.services, serviceManager, {
        ...input,
        answers: answersTo(asked, { 1: 'another reason' }),
      }),
    ),
  ).toBe('id_reused');
  const elsewhere = decision(await askedOfLot(), '124.75', { 0: '' });
  expect(
    codeOf(
      await decideEstimate(world.services, lot.approver, { ...elsewhere, decisionId: input.decisionId }),
    ),
  ).toBe('id_reused');
});

test('of two approvers at once exactly one answers, and the other hears who it was', async () => {
  const rival = await anotherApprover(dealer, {
    name: 'Quentin Ashgrove',
    email: business.emailOf('rival'),
    limit: null,
  });
  for (let race = 0; race < 20; race += 1) {
    const asked = await askedEstimate(dealer, [{ rateCode: 'SC-S', damage: 'scuff' }], { ownNumber: '' });
    const total = formatMinor(must(await preview(rival, asked)).totalMinor);
    const answers = await Promise.all([decide(serviceManager, asked, total), decide(rival, asked, total)]);
    expect(answers.map(codeOf).toSorted()).toEqual(['already_decided', 'ok']);
    const winner = answers[0].ok ? 'Marguerite Sloane' : 'Quentin Ashgrove';
    const loser = answers.find((answer) => !answer.ok);
    expect(loser?.ok === false && loser.problem.detail).toContain(
      `${winner} answered this estimate on Oct 6, 2026`,
    );
    const view = must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId));
    expect([view.decision?.decidedBy, view.steps.filter((step) => step.event === 'approved').length]).toEqual(
      [winner, 1],
    );
  }
});

test('a yes to an old version is refused with what changed since', async () => {
  const asked = await askedOfLot();
  const [tear] = asked.lineIds;
  if (tear === undefined) throw new Error('the estimate has lines');
  const line = aLine({ part: 'seat_bolster', rateCode: 'PU-M' });
  const versionId = world.newId<VersionId>();
  const revision = {
    workOrderId: asked.workOrderId,
    versionId,
    added: [],
    changed: [{ lineId: tear, line }],
    removed: [],
  };
  must(await reviseEstimate(world.services, business.technician, revision));
  const refused = await decide(lot.approver, asked, '305.53');
  expect(refused).toMatchObject({ ok: false, problem: { code: 'version_superseded', field: 'version_id' } });
  // 295.00 less 45 % is 162.25; list prices of the invented price book.
  expect(refused.ok ? '' : refused.problem.detail).toMatch(/Version 2 .*\$233\.75 to \$162\.25/);
});

test('an estimate past its last day can be declined, not approved', async () => {
  const asked = await askedOfLot();
  world.at('2026-11-06T09:00');
  expect(codeOf(await decide(lot.approver, asked, '124.75', { 0: '' }))).toBe('estimate_expired');
  expect(codeOf(await decide(lot.approver, asked, '0', { 0: '', 1: '' }))).toBe('ok');
});

test('another account’s approver gets the answer of a thing that does not exist, and other roles may not answer', async () => {
  const asked = await askedOfLot();
  expect(codeOf(await preview(serviceManager, asked))).toBe('not_found');
  expect(codeOf(await decide(serviceManager, asked, '124.75', { 0: '' }))).toBe('not_found');
  expect(codeOf(await decide(lot.payer, asked, '124.75', { 0: '' }))).toBe('not_allowed');
  expect(codeOf(await decide(lot.viewer, asked, '124.75', { 0: '' }))).toBe('not_allowed');
  expect(codeOf(await decide(business.owner, asked, '124.75', { 0: '' }))).toBe('not_allowed');
  const elsewhere = await aBusiness(world);
  expect(
    codeOf(await decide({ ...lot.approver, tenantId: elsewhere.tenantId }, asked, '124.75', { 0: '' })),
  ).toBe('not_signed_in');
});

test('what waits is listed for the account it waits for, with its price, and not once it is answered', async () => {
  const account = await anAccount(business, { limit: '100.00' });
  const asked = await askedEstimate(account, [{ rateCode: 'VC-M' }]);
  world.at('2026-10-09T09:00');
  const [row, ...others] = must(await listToApprove(world.services, account.viewer)).rows;
  expect(others).toEqual([]);
  // 195.00 less 15 % is 165.75; trip 45.00; tax A on materials of 12 %, 19.89: 0.99 + 0.25.
  expect(row && [row.id, formatMinor(row.comparedMinor), formatMinor(row.totalMinor), row.ageDays]).toEqual([
    asked.workOrderId,
    '165.75',
    '211.99',
    3,
  ]);
  expect([row?.photoCount, row?.photoId]).toEqual([1, null]);
  expect(must(await listToApprove(world.services, account.approver)).rows[0]?.withinLimit).toBe(false);
  must(await decide(account.approver, asked, '0', { 0: 'too dear' }));
  expect(must(await listToApprove(world.services, account.approver)).rows).toEqual([]);
  expect(codeOf(await listToApprove(world.services, business.office))).toBe('not_allowed');
});

test('the staff write down an answer given in person: it is the approver’s own, within the approver’s limit', async () => {
  const asked = await askedOfDealer();
  const said = { ...decision(asked, '612.59', { 1: 'not this time' }), given: 'by_phone' as const };
  const approvers = must(await listApprovers(world.services, business.technician, asked.workOrderId));
  expect(approvers.map(({ name }) => name)).toContain('Marguerite Sloane');
  const record = (decidedBy: Actor) =>
    recordDecision(world.services, business.technician, { ...said, decidedBy: decidedBy.personId });
  expect(codeOf(await record(dealer.approver))).toBe('over_limit');
  expect(codeOf(await record(dealer.payer))).toBe('invalid_input');
  expect(codeOf(await record(lot.approver))).toBe('invalid_input');
  expect(must(await record(serviceManager)).decision.decidedBy).toBe('Marguerite Sloane');
  const view = must(await readWorkOrder(world.services, business.office, asked.workOrderId));
  expect(view.steps.at(-1)).toMatchObject({
    event: 'approved',
    personName: 'Tobias Wrenfield',
    note: 'Marguerite Sloane said so by phone. 3 of 4 lines, $612.59.',
  });
});
