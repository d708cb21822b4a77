import type { DecisionId, VersionId } from '@grainwright/domain';
import { decideEstimate, readWorkOrder, reviseEstimate } from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { type AskedEstimate, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
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

// Figures of an invented job: common practice of the trade, no published source.

let world: World;
let web: Web;
let business: Business;
let dealer: Account;
let approver: Browsing;

beforeAll(async () => {
  world = await openWorld();
  world.at('2026-10-14T17:40');
  web = await openWeb(world);
  business = await aBusiness(world);
  dealer = await anAccount(business, { name: 'Halden of Tessaly', tierCode: 'dealer', limit: '700.00' });
  approver = await web.signInByPage(dealer.emailOf('approver'), business.password);
});

const askedOfDealer = () =>
  askedEstimate(
    dealer,
    [
      { part: 'seat_cushion', rateCode: 'LT-L', factorCode: 'perf' },
      { part: 'dash', rateCode: 'DB-M' },
      { part: 'seat_bolster', rateCode: 'LW-P' },
      { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' },
    ],
    { afterHours: true, roNumber: '48213', replacement: '1900.00' },
  );

/** The fields of the answer form; a line without a reason here is approved. */
function fieldsOf(
  asked: AskedEstimate,
  declined: Readonly<Record<number, string>> = {},
): Record<string, string> {
  const answers = answersTo(asked, declined);
  return {
    version_id: asked.versionId,
    digest: asked.digest,
    lines: asked.lineIds.join(','),
    ...Object.fromEntries(answers.map(({ lineId, answer }) => [`answer-${lineId}`, answer])),
    ...Object.fromEntries(answers.map(({ lineId, reason }) => [`reason-${lineId}`, reason])),
  };
}

const pathOf = (asked: AskedEstimate) => `/account/work-orders/${asked.workOrderId}`;
const hidden = (page: string, name: string) =>
  new RegExp(`name="${name}" value="([^"]*)"`).exec(page)?.[1] ?? '';
const stateOf = async (asked: AskedEstimate) =>
  must(await readWorkOrder(world.services, dealer.viewer, asked.workOrderId)).state;

test('an approver finds what waits, sees the new total before answering, and sends exactly that', async () => {
  const asked = await askedOfDealer();
  const list = await approver.get('/account');
  expect(list.statusCode).toBe(200);
  expect(list.body).toContain(pathOf(asked));
  expect(list.body).toContain('$820.01');

  const page = await approver.get(pathOf(asked));
  expect(page.body).toMatch(/What it is[\s\S]*What it looks like[\s\S]*How much[\s\S]*Yes or no/);
  expect(page.body).toContain('Your limit is');
  // 1,900.00 less repairs of 651.57 and after-hours of 162.89, the trip being waived.
  expect(page.body).toContain('$1,085.54');

  const preview = await approver.post(
    `${pathOf(asked)}/preview`,
    fieldsOf(asked, { 1: 'the dash was like that' }),
  );
  expect(preview.statusCode).toBe(200);
  for (const words of [
    '$111.00',
    '$124.88',
    '$612.59',
    'Approve — $612.59',
    'Decline all',
    'the dash was like that',
  ])
    expect(preview.body).toContain(words);
  expect(await stateOf(asked)).toBe('awaiting_approval');

  const answer = {
    ...fieldsOf(asked, { 1: 'the dash was like that' }),
    total: hidden(preview.body, 'total'),
    choice: 'as_shown',
  };
  const sentOnce = await approver.post(`${pathOf(asked)}/decision`, {
    ...answer,
    decision_id: hidden(preview.body, 'decision_id'),
  });
  expect([sentOnce.statusCode, sentOnce.headers.location]).toEqual([303, pathOf(asked)]);
  const sentTwice = await approver.post(`${pathOf(asked)}/decision`, {
    ...answer,
    decision_id: hidden(preview.body, 'decision_id'),
  });
  expect(sentTwice.statusCode).toBe(303);
  const after = await approver.get(pathOf(asked));
  expect(after.body).toMatch(/How much[\s\S]*Ansel Corvin[\s\S]*\$612\.59/);
  expect(after.body).not.toContain('See the new total');
  expect(await stateOf(asked)).toBe('approved');
});

test('“decline all” declines every line, whatever was chosen', async () => {
  const asked = await askedOfDealer();
  const preview = await approver.post(`${pathOf(asked)}/preview`, fieldsOf(asked));
  expect(preview.body).toContain('Above the limit');
  expect(preview.body).not.toContain('Approve — ');
  const declined = await approver.post(`${pathOf(asked)}/decision`, {
    ...fieldsOf(asked),
    choice: 'decline_all',
    decision_id: hidden(preview.body, 'decision_id'),
  });
  expect(declined.statusCode).toBe(303);
  expect(await stateOf(asked)).toBe('declined');
});

test('an answer above the limit comes back with both amounts and the answers kept', async () => {
  const asked = await askedOfDealer();
  const refused = await approver.post(`${pathOf(asked)}/decision`, {
    ...fieldsOf(asked),
    total: '820.01',
    choice: 'as_shown',
  });
  expect(refused.statusCode).toBe(403);
  for (const words of ['$814.46', '$700.00', 'Change the answers']) expect(refused.body).toContain(words);
  expect(await stateOf(asked)).toBe('awaiting_approval');
});

test('an answer to an estimate that changed shows the new one and keeps the reasons typed', async () => {
  const asked = await askedOfDealer();
  const [tear] = asked.lineIds;
  if (tear === undefined) throw new Error('the estimate has lines');
  const changed = [
    { lineId: tear, line: aLine({ part: 'seat_cushion', rateCode: 'LT-M', factorCode: 'perf' }) },
  ];
  const versionId = world.newId<VersionId>();
  must(
    await reviseEstimate(world.services, business.technician, {
      workOrderId: asked.workOrderId,
      versionId,
      added: [],
      changed,
      removed: [],
    }),
  );
  const stale = await approver.post(
    `${pathOf(asked)}/preview`,
    fieldsOf(asked, { 1: 'we <replace> the dash' }),
  );
  expect(stale.statusCode).toBe(409);
  expect(stale.body).toContain('The estimate changed while you were reading');
  expect(stale.body).toContain('we &lt;replace&gt; the dash');
  expect(hidden(stale.body, 'version_id')).toBe(versionId);
});

test('whoever comes second is told who answered', async () => {
  const asked = await askedOfDealer();
  const answers = answersTo(asked, { 1: '' });
  const { workOrderId, versionId, digest } = asked;
  const first = {
    workOrderId,
    versionId,
    digest,
    answers,
    decisionId: world.newId<DecisionId>(),
    total: '612.59',
  };
  must(await decideEstimate(world.services, dealer.approver, first));
  const second = await approver.post(`${pathOf(asked)}/decision`, {
    ...fieldsOf(asked, { 1: '' }),
    total: '612.59',
    choice: 'as_shown',
  });
  expect(second.statusCode).toBe(409);
  expect(second.body).toContain('Ansel Corvin answered this estimate on Oct 14, 2026');
});

test('who only looks or pays sees all of it and no form, and other accounts see nothing', async () => {
  const asked = await askedOfDealer();
  const viewer = await web.signInByPage(dealer.emailOf('viewer'), business.password);
  const page = await viewer.get(pathOf(asked));
  expect(page.body).toContain('$820.01');
  expect(page.body).not.toContain('See the new total');
  expect((await viewer.post(`${pathOf(asked)}/preview`, fieldsOf(asked))).statusCode).toBe(403);
  const other = await anAccount(business);
  const stranger = await web.signInByPage(other.emailOf('approver'), business.password);
  expect((await stranger.get(pathOf(asked))).statusCode).toBe(404);
  expect((await stranger.post(`${pathOf(asked)}/preview`, fieldsOf(asked))).statusCode).toBe(404);
  expect((await stranger.get(`/office/work-orders/${asked.workOrderId}`)).statusCode).toBe(404);
  expect((await approver.get('/account/work-orders/not-an-id')).statusCode).toBe(404);
});

test('a form without its token is refused, and answers nothing', async () => {
  const asked = await askedOfDealer();
  const answer = { ...fieldsOf(asked, { 1: '' }), total: '612.59', choice: 'as_shown', _csrf: 'forged' };
  const forged = await approver.post(`${pathOf(asked)}/decision`, answer);
  expect(forged.statusCode).toBe(403);
  expect(await stateOf(asked)).toBe('awaiting_approval');
});

test('the desk finds it by what it waits for, gives it a PO, and writes down an answer given by phone', async () => {
  const asked = await askedOfDealer();
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const board = await office.get('/office/work-orders?waits=approval&q=48213');
  expect(board.body).toContain(`/office/work-orders/${asked.workOrderId}`);
  expect((await office.get('/office/work-orders?waits=money&q=48213')).body).toContain('Nothing fits');
  const path = `/office/work-orders/${asked.workOrderId}`;
  expect((await office.post(`${path}/numbers`, { ro_number: '48213', po_number: '77105' })).statusCode).toBe(
    303,
  );
  expect((await office.get(path)).body).toContain('77105');
  const nobody = await office.post(`${path}/preview`, fieldsOf(asked, { 1: '' }));
  expect(nobody.statusCode).toBe(422);
  expect(nobody.body).toContain('Choose who of the account said it');
  const said = { ...fieldsOf(asked, { 1: '' }), decided_by: dealer.approver.personId, given: 'by_phone' };
  const preview = await office.post(`${path}/preview`, said);
  expect(preview.body).toContain('Approve — $612.59');
  expect(
    (await office.post(`${path}/decision`, { ...said, total: '612.59', choice: 'as_shown' })).statusCode,
  ).toBe(303);
  expect((await office.get(path)).body).toContain('Ansel Corvin said so by phone');
});

test('the API previews and decides as the pages do', async () => {
  const asked = await askedOfDealer();
  const headers = await web.signIn(dealer.emailOf('approver'), business.password);
  const answers = answersTo(asked, { 1: 'no' }).map(({ lineId, answer, reason }) => ({
    line_id: lineId,
    answer,
    reason,
  }));
  const seen = { version_id: asked.versionId, digest: asked.digest, answers };
  const url = `/api/v1/work-orders/${asked.workOrderId}`;
  const list = await web.app.inject({ method: 'GET', url: '/api/v1/to-approve', headers });
  expect(list.json<{ work_orders: { id: string }[] }>().work_orders.map(({ id }) => id)).toContain(
    asked.workOrderId,
  );
  const preview = await web.app.inject({
    method: 'POST',
    url: `${url}/decision-preview`,
    headers,
    payload: seen,
  });
  expect(preview.json()).toMatchObject({
    repairs: '486.57',
    after_hours: '121.64',
    tax: '4.38',
    total: '612.59',
    compared_with_limit: '608.21',
    within_limit: true,
  });
  const decision = { ...seen, id: world.newId<DecisionId>(), total: '612.59' };
  const decided = await web.app.inject({
    method: 'POST',
    url: `${url}/decisions`,
    headers,
    payload: decision,
  });
  expect([decided.statusCode, decided.json<{ state: string }>().state]).toEqual([201, 'approved']);
  const again = await web.app.inject({ method: 'POST', url: `${url}/decisions`, headers, payload: decision });
  expect(again.json()).toEqual(decided.json());
  const late = await web.app.inject({
    method: 'POST',
    url: `${url}/decisions`,
    headers,
    payload: { ...decision, id: world.newId<DecisionId>() },
  });
  expect([late.statusCode, late.json<{ code: string }>().code]).toEqual([409, 'already_decided']);
});
