import {
  type DecisionId,
  type DelegationId,
  displayMoney,
  formatMinor,
  type LineId,
  type PurchaseOrderId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  addPurchaseOrder,
  chooseReminders,
  decideEstimate,
  giveNumbers,
  listMails,
  nameDelegate,
  previewDecision,
  readMail,
  readWorkOrder,
  removeLine,
  sweepWaiting,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { type AskedEstimate, answersTo, askedEstimate } from './support/asked-estimates.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import { finishedLine } from './support/work-in-hand.ts';
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
import { sent } from './support/write-ups.ts';

// What the product does by itself while an account is waited for, at a clock that is set. When people are reminded and
// asked is common courtesy of the trade, without a published source.

let world: World;
let web: Web;
let business: Business;
let lot: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
});

/** Each test has a business of its own, and so a mailbox. */
beforeEach(async () => {
  world.at('2026-10-06T09:00');
  business = await aBusiness(world);
  lot = await anAccount(business, terms);
});

const terms: AccountOptions = { tierCode: 'lot', limit: null, remindAfterHours: 24 };
const scuff = { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-M' } as const;
const bolster = { part: 'seat_bolster', rateCode: 'PU-L' } as const;

/** Sends an estimate, and lets the worker ask the account about it. */
async function asked(...lines: Parameters<typeof askedEstimate>[1]): Promise<AskedEstimate> {
  const estimate = await askedEstimate(lot, lines.length === 0 ? [scuff] : lines);
  await runJobs(world);
  return estimate;
}

const sweep = async () => must(await sweepWaiting(world.services, business.tenantId));
const stateOf = async (id: WorkOrderId) =>
  must(await readWorkOrder(world.services, business.office, id)).state;

/** Mails of a kind, the earliest first, as their readers get them. */
async function mails(kind: string) {
  await runJobs(world);
  const { rows } = must(await listMails(world.services, business.office, null));
  const found = rows.filter((row) => row.kind === kind).toReversed();
  return Promise.all(found.map(async ({ id }) => must(await readMail(world.services, business.office, id))));
}

async function answer(estimate: AskedEstimate, actor = lot.approver) {
  const { workOrderId, versionId, digest } = estimate;
  const seen = { workOrderId, versionId, digest, answers: answersTo(estimate) };
  const preview = await previewDecision(world.services, lot.approver, seen);
  const total = preview.ok ? formatMinor(preview.value.totalMinor, 'USD') : '0';
  return decideEstimate(world.services, actor, { ...seen, decisionId: world.newId<DecisionId>(), total });
}

/* An estimate that nobody answers. */

test('an estimate that nobody answers lapses on the day after its last: it is written up again, and that is on record', async () => {
  const { workOrderId } = await asked();
  world.at('2026-11-05T23:59');
  expect((await sweep()).lapsed).toBe(0);
  world.at('2026-11-06T00:01');
  expect((await sweep()).lapsed).toBe(1);
  const view = must(await readWorkOrder(world.services, business.office, workOrderId));
  expect(view.state).toBe('written_up');
  expect(view.waitsFor).toBe('technician');
  expect(view.steps.at(-1)).toMatchObject({
    event: 'lapsed',
    note: 'Nobody answered version 1, which was good through Nov 5, 2026.',
  });
  expect((await sweep()).lapsed).toBe(0);
});

test('what lapsed can’t be answered any more, and says whom to ask', async () => {
  const estimate = await asked();
  const linkIn = async () =>
    /http:\/\/\S+\/link\/\S+/.exec((await mails('estimate'))[0]?.body ?? '')?.[0] ?? '';
  expect(await linkIn()).not.toBe('');
  world.at('2026-11-06T09:00');
  await sweep();
  const late = await answer(estimate);
  expect(late).toMatchObject({ ok: false, problem: { code: 'estimate_expired' } });
  if (!late.ok) expect(late.problem.detail).toContain(`Ask ${business.name} for a new one.`);
  expect(await linkIn()).toBe('');
});

test('it is sent again as the next version, also without a line that was on it, and then answered as any other', async () => {
  const estimate = await asked(bolster, scuff);
  world.at('2026-11-06T09:00');
  await sweep();
  const { workOrderId, lineIds } = estimate;
  const [first = world.newId<LineId>()] = lineIds;
  must(await removeLine(world.services, business.technician, { workOrderId, lineId: first }));
  const versionId = await sent(lot, workOrderId);
  const { estimate: again } = must(await readWorkOrder(world.services, business.technician, workOrderId));
  expect(again).toMatchObject({ version: 2, expiresOn: '2026-12-06' });
  const renewed = { workOrderId, versionId, digest: again?.digest ?? '', lineIds: lineIds.slice(1) };
  must(await answer(renewed));
  expect(await stateOf(workOrderId)).toBe('approved');
});

test('what was answered in time does not lapse', async () => {
  const estimate = await asked();
  must(await answer(estimate));
  world.at('2026-11-06T09:00');
  expect((await sweep()).lapsed).toBe(0);
  expect(await stateOf(estimate.workOrderId)).toBe('approved');
});

/* Reminders. */

test('whoever was asked is reminded after the hours that the account chose, twice at most, with the link of the first mail', async () => {
  await asked();
  world.at('2026-10-07T08:59');
  expect((await sweep()).reminders).toBe(0);
  world.at('2026-10-07T09:00');
  expect((await sweep()).reminders).toBe(1);
  expect((await sweep()).reminders).toBe(0);
  world.at('2026-10-08T09:00');
  expect((await sweep()).reminders).toBe(1);
  world.at('2026-10-20T09:00');
  expect((await sweep()).reminders).toBe(0);
  const [question] = await mails('estimate');
  const reminders = await mails('estimate_reminder');
  expect(reminders.map(({ subjectLine }) => subjectLine.startsWith('Reminder: '))).toEqual([true, true]);
  const linkIn = (body = '') => /http:\/\/\S+\/link\/\S+/.exec(body)?.[0];
  expect(linkIn(reminders[0]?.body)).toBe(linkIn(question?.body));
  expect(reminders[0]?.body).toContain('Nobody has answered yet');
});

test('by day only: what comes due at night is sent from eight in the morning on', async () => {
  world.at('2026-10-06T19:30');
  await asked();
  world.at('2026-10-07T19:30');
  expect((await sweep()).reminders).toBe(0);
  world.at('2026-10-08T07:59');
  expect((await sweep()).reminders).toBe(0);
  world.at('2026-10-08T08:00');
  expect((await sweep()).reminders).toBe(1);
});

test('nobody is reminded of what was answered, nor where the account chose no reminder', async () => {
  const estimate = await asked();
  must(await answer(estimate));
  world.at('2026-10-07T10:00');
  expect((await sweep()).reminders).toBe(0);
  await asked();
  must(await chooseReminders(world.services, lot.approver, { remindAfterHours: null }));
  world.at('2026-10-09T10:00');
  expect((await sweep()).reminders).toBe(0);
});

test('the vehicles of one visit are one mail', async () => {
  const first = await askedEstimate(lot, [scuff]);
  const { visit } = must(await readWorkOrder(world.services, business.office, first.workOrderId));
  await askedEstimate(lot, [bolster], { visitId: visit.id });
  await runJobs(world);
  world.at('2026-10-07T10:00');
  expect((await sweep()).reminders).toBe(1);
  const [reminder] = await mails('estimate_reminder');
  expect(reminder?.subjectLine).toBe('Reminder: 2 vehicles wait for your answer');
});

test('an approver chooses when in the portal; what can’t be is refused and kept', async () => {
  const browser = await web.signInByPage(lot.emailOf('approver'), business.password);
  expect((await browser.get('/account/details')).body).toContain('is reminded after 24 hours, twice at most');
  const refused = await browser.post('/account/reminders', { remind_after_hours: '721' });
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('value="721"');
  expect((await browser.post('/account/reminders', { remind_after_hours: '4' })).statusCode).toBe(303);
  expect((await browser.get('/account/details')).body).toContain('is reminded after 4 hours, twice at most');
  const viewer = await web.signInByPage(lot.emailOf('viewer'), business.password);
  expect((await viewer.post('/account/reminders', { remind_after_hours: '1' })).statusCode).toBe(403);
});

/* Delegates are asked along. */

test('whoever stands in for somebody who was asked is asked along, and about what waited already when their days began', async () => {
  const delegation = (validFrom: string) => ({
    id: world.newId<DelegationId>(),
    toPersonId: lot.viewer.personId,
    validFrom,
    validTo: validFrom,
    limit: null,
  });
  await asked();
  must(await nameDelegate(world.services, lot.approver, delegation('2026-10-07')));
  expect((await sweep()).delegates).toBe(0);
  world.at('2026-10-07T08:00');
  expect((await sweep()).delegates).toBe(1);
  expect((await sweep()).delegates).toBe(0);
  await asked(bolster);
  const toDelegate = (await mails('estimate')).filter(({ recipients }) =>
    recipients.includes(lot.emailOf('viewer')),
  );
  expect(toDelegate).toHaveLength(2);
  expect(toDelegate[0]?.body).toContain('You answer for Ansel Corvin until Oct 7, 2026.');
});

/* Numbers that finished work lacks. */

async function finishedWithoutPo(): Promise<WorkOrderId> {
  lot = await anAccount(business, { tierCode: 'trade', limit: null, requiresPo: true });
  const { workOrderId } = await finishedLine(lot);
  await runJobs(world);
  return workOrderId;
}

test('from the day after the work is finished the account is asked for its number, once a day, on five days at most', async () => {
  const workOrderId = await finishedWithoutPo();
  world.at('2026-10-06T17:00');
  expect((await sweep()).numbers).toBe(0);
  const days = ['07', '08', '09', '10', '11', '12', '13'];
  const sentOn: number[] = [];
  for (const day of days) {
    world.at(`2026-10-${day}T08:00`);
    sentOn.push((await sweep()).numbers);
    world.at(`2026-10-${day}T14:00`);
    expect((await sweep()).numbers).toBe(0);
  }
  // The approver who answered, and the payer.
  expect(sentOn).toEqual([2, 2, 2, 2, 2, 0, 0]);
  const [first] = await mails('numbers_wanted');
  expect(first?.subjectLine).toMatch(/^Wanted: purchase order \(PO\) number for 2025 Ostra Vela/);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  expect((await office.get(`/office/work-orders/${workOrderId}`)).body).toContain(
    'by e-mail on 5 days, last Oct 11, 2026: Ansel Corvin, Bettina Quarles',
  );
});

test('the number is typed where the mail leads, without a password, and then nobody is asked any more', async () => {
  const workOrderId = await finishedWithoutPo();
  world.at('2026-10-07T09:00');
  await sweep();
  const mail = (await mails('numbers_wanted')).find(({ recipients }) =>
    recipients.includes(lot.emailOf('payer')),
  );
  const path = /http:\/\/[^/]+(\/link\/\S+\/numbers)/.exec(mail?.body ?? '')?.[1] ?? '';
  const page = await web.app.inject({ url: path });
  expect(page.body).toContain('Purchase order (PO) number');
  const post = (fields: Readonly<Record<string, string>>) =>
    web.app.inject({
      method: 'POST',
      url: `${path}/${workOrderId}`,
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      payload: new URLSearchParams(fields).toString(),
    });
  const tooLong = '7'.repeat(41);
  const refused = await post({ po_number: tooLong });
  expect(refused.statusCode).toBe(422);
  expect(refused.body).toContain('in at most 40 characters; this is 41.');
  expect(refused.body).toContain(`value="${tooLong}"`);
  expect((await post({ po_number: '77105' })).statusCode).toBe(303);
  const { numbers } = must(await readWorkOrder(world.services, business.office, workOrderId));
  expect(numbers.po).toBe('77105');
  expect((await web.app.inject({ url: path })).body).toContain('No number is missing');
  world.at('2026-10-08T09:00');
  expect((await sweep()).numbers).toBe(0);
});

test('the link asks for the numbers of what its contact was asked about, and opens nothing else of the account', async () => {
  const workOrderId = await finishedWithoutPo();
  const order = { accountId: lot.id, validFrom: '2026-10-01', validTo: null };
  const orders = [
    { ...order, id: world.newId<PurchaseOrderId>(), number: '77105', cap: '1234.00', note: 'spring budget' },
    { ...order, id: world.newId<PurchaseOrderId>(), number: '88206', cap: '1.00', note: '' },
  ];
  for (const each of orders) must(await addPurchaseOrder(world.services, business.owner, each));
  world.at('2026-10-07T09:00');
  await sweep();
  const [mail] = await mails('numbers_wanted');
  const path = /http:\/\/[^/]+(\/link\/\S+\/numbers)/.exec(mail?.body ?? '')?.[1] ?? '';
  world.at('2026-10-08T07:00');
  const other = await finishedLine(lot);
  const needed = await finishedLine(lot);
  const poNumber = { ownNumber: '', roNumber: '', poNumber: '88206' };
  must(await giveNumbers(world.services, lot.payer, { workOrderId: needed.workOrderId, ...poNumber }));
  const page = await web.app.inject({ url: path });
  expect(page.body).toContain(`${path}/${workOrderId}`);
  expect(page.body).toContain('One vehicle lacks a number');
  expect(page.body).not.toContain(other.workOrderId);
  expect(page.body).toContain('$1,234.00');
  for (const words of ['spring budget', 'Invoiced', 'PO 88206 is']) expect(page.body).not.toContain(words);
  const token = /\/link\/([^/]+)\//.exec(path)?.[1] ?? '';
  const numbersOf = async (id: WorkOrderId) => {
    const form = await web.app.inject({
      method: 'POST',
      url: `${path}/${id}`,
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      payload: 'po_number=77105',
    });
    const api = await web.app.inject({
      method: 'POST',
      url: `/api/v1/by-link/work-orders/${id}/numbers`,
      headers: { authorization: `Bearer ${token}` },
      payload: { po_number: '77105' },
    });
    return [form.statusCode, api.statusCode];
  };
  expect(await numbersOf(other.workOrderId)).toEqual([404, 404]);
  expect(must(await readWorkOrder(world.services, business.office, other.workOrderId)).numbers.po).toBe('');
  expect(await numbersOf(workOrderId)).toEqual([303, 200]);
});

test('a number that came in time is asked for by nobody', async () => {
  const workOrderId = await finishedWithoutPo();
  must(
    await giveNumbers(world.services, lot.payer, {
      workOrderId,
      ownNumber: '',
      roNumber: '',
      poNumber: '77105',
    }),
  );
  world.at('2026-10-07T09:00');
  expect((await sweep()).numbers).toBe(0);
});

test('a purchase order whose cap is short of what was approved is kept, and what is missing is said at once', async () => {
  const workOrderId = await finishedWithoutPo();
  const order = { id: world.newId<PurchaseOrderId>(), accountId: lot.id, number: '77105', cap: '100.00' };
  const days = { validFrom: '2026-10-01', validTo: null, note: '' };
  must(await addPurchaseOrder(world.services, business.owner, { ...order, ...days }));
  world.at('2026-10-07T09:00');
  await sweep();
  const [mail] = await mails('numbers_wanted');
  const path = /http:\/\/[^/]+(\/link\/\S+\/numbers)/.exec(mail?.body ?? '')?.[1] ?? '';
  expect((await web.app.inject({ url: path })).body).toMatch(/77105[\s\S]*\$100\.00/);
  await web.app.inject({
    method: 'POST',
    url: `${path}/${workOrderId}`,
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    payload: 'po_number=77105',
  });
  const { estimate } = must(await readWorkOrder(world.services, business.office, workOrderId));
  const short = (estimate?.price.invoice.totals.withTaxMinor ?? 0n) - 10000n;
  expect((await web.app.inject({ url: path })).body).toContain(
    `PO 77105 is ${displayMoney(short, 'USD')} short`,
  );
});
