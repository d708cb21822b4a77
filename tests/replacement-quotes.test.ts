import {
  type DecisionId,
  formatMinor,
  type LineId,
  type QuoteId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type Actor,
  addLine,
  changeLine,
  changeWriteUp,
  decideEstimate,
  type GiveQuoteInput,
  giveQuote,
  previewDecision,
  readQuotes,
  readSavings,
  readWorkOrder,
  takeQuoteBack,
  voidWorkOrder,
} from '@grainwright/operations';
import { beforeAll, beforeEach, expect, test } from 'vitest';
import { billingDesk } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { type Browsing, openWeb, type Web } from './support/web.ts';
import { asAdministrator, cutLining, writtenUpLine } from './support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, photoRow, sent, writtenUp } from './support/write-ups.ts';

/** Expected amounts are the trade's own examples, worked out by hand: no amount here was printed by the program. */

let world: World;
let business: Business;
let installer: Account;
let web: Web;
let page: Browsing;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  installer = await anAccount(business, { limit: null });
  web = await openWeb(world);
  page = await web.signInByPage(business.emailOf('technician'), business.password);
});

beforeEach(() => world.at('2026-08-05T09:00'));

function quote(workOrderId: WorkOrderId, given: Partial<GiveQuoteInput> = {}): GiveQuoteInput {
  return {
    id: world.newId<QuoteId>(),
    workOrderId,
    part: 'tailgate_lining',
    side: '',
    amount: '',
    partPrice: '',
    fittingHours: '',
    hourlyRate: '',
    note: '',
    takenFromId: null,
    ...given,
  };
}

const give = (given: GiveQuoteInput, actor: Actor = business.technician) =>
  giveQuote(world.services, actor, given);
const fitted = { partPrice: '742.00', fittingHours: '1.2', hourlyRate: '165.00' };
const refusal = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

/** A vehicle of its own model, so that no other test’s quote is the last one for it. */
async function cutIn(model: string): Promise<WorkOrderId> {
  const workOrderId = await writtenUp(installer, { model });
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, business.technician, { lineId, workOrderId, line: cutLining }));
  return workOrderId;
}

test('a part and the labor to fit it add up, and stand against the repair as money and per cent', async () => {
  const workOrderId = await cutIn('Sum');
  const { replacement, quotes } = must(await give(quote(workOrderId, { ...fitted, note: 'parts counter' })));
  // 742.00 + 1.2 × 165.00 = 940.00.
  expect(replacement).toEqual({ minor: 94_000n, note: 'parts counter', unquoted: [] });
  expect(quotes).toHaveLength(1);
  const body = (await page.get(`/field/work-orders/${workOrderId}`)).body;
  expect(body).toContain('$940.00');
  // The lining alone: 195.00 less 15 % is 165.75, with the trip of 45.00 210.75; 940.00 − 210.75 = 729.25, 77.6 %.
  expect(body).toMatch(/\$729\.25<\/span> less, 77\.6 %/);
});

test('a sum that does not fit its parts is refused with what they come to', async () => {
  const workOrderId = await cutIn('Misfit');
  const wrong = await give(quote(workOrderId, { ...fitted, amount: '950.00' }));
  expect(wrong).toMatchObject(refusal('invalid_input', 'amount'));
  expect(wrong.ok ? '' : wrong.problem.detail).toContain('comes to $940.00, not $950.00');
  expect((await give(quote(workOrderId, { ...fitted, amount: '940' }))).ok).toBe(true);
  expect(await give(quote(workOrderId, { partPrice: '742.00' }))).toMatchObject(
    refusal('invalid_input', 'fitting_hours'),
  );
  expect(await give(quote(workOrderId))).toMatchObject(refusal('invalid_money', 'amount'));
  expect(await give(quote(workOrderId, { amount: '0' }))).toMatchObject(refusal('invalid_money', 'amount'));
  expect(await give(quote(workOrderId, { amount: '5', part: 'dash' }))).toMatchObject(
    refusal('invalid_input', 'part'),
  );
});

test('the same quote sent again is one; another content under its id is refused; a new one takes its place', async () => {
  const workOrderId = await cutIn('Again');
  const first = quote(workOrderId, { amount: '900.00' });
  must(await give(first));
  must(await give(first));
  expect(await give({ ...first, amount: '901.00' })).toMatchObject(refusal('id_reused', 'id'));
  const { replacement } = must(await give(quote(workOrderId, { amount: '940.00' })));
  expect(replacement?.minor).toBe(94_000n);
  const kept = await asAdministrator(
    world,
    (sql) => sql`select amount_minor::int, superseded_at is null as stands from replacement_quotes
      where work_order_id = ${workOrderId} order by given_at, amount_minor`,
  );
  expect(kept.map((row) => ({ ...row }))).toEqual([
    { amount_minor: 90_000, stands: false },
    { amount_minor: 94_000, stands: true },
  ]);
});

test('two damaged parts have a quote each, and their sum stands against the repair', async () => {
  const workOrderId = await writtenUp(installer, { model: 'Two trims' });
  for (const side of ['left', 'right'])
    must(
      await addLine(world.services, business.technician, {
        lineId: world.newId<LineId>(),
        workOrderId,
        line: aLine({ part: 'quarter_trim', side, damage: 'burn', rateCode: 'BN-M' }),
      }),
    );
  const trim = { part: 'quarter_trim', partPrice: '1280.00', fittingHours: '0.9', hourlyRate: '165.00' };
  const one = must(await give(quote(workOrderId, { ...trim, side: 'left' })));
  // 0.9 × 165.00 = 148.50: 1,428.50.
  expect(one.replacement).toMatchObject({ minor: 142_850n, unquoted: ['quarter trim, right'] });
  const both = must(await give(quote(workOrderId, { ...trim, side: 'right' })));
  expect(both.replacement).toMatchObject({ minor: 285_700n, unquoted: [] });
  // One sum for all of them takes the place of both, and one for a part that of the sum.
  const whole = must(await give(quote(workOrderId, { part: '', amount: '2900.00' })));
  expect(whole.quotes.map(({ words }) => words)).toEqual(['All damaged parts together']);
  const again = must(await give(quote(workOrderId, { ...trim, side: 'left' })));
  expect(again.quotes.map(({ words }) => words)).toEqual(['Quarter trim, left']);
  const body = (await page.get(`/field/work-orders/${workOrderId}`)).body;
  expect(body).toContain('Not quoted, though it is repaired as well: quarter trim, right');
});

test('the last quote for the part and kind of vehicle is offered, taken with one tap, and told to the staff alone', async () => {
  const first = await cutIn('Offered');
  must(await give(quote(first, { ...fitted, note: 'parts counter' })));
  world.at('2026-08-20T09:00');
  const next = await cutIn('offered');
  const [asked] = must(await readQuotes(world.services, business.technician, next)).parts;
  expect(asked?.last).toMatchObject({ amountMinor: 94_000n, workOrderId: first });
  const path = `/field/work-orders/${next}`;
  const offer = (await page.get(path)).body;
  expect(offer).toContain('What would a new part cost, fitted?');
  expect(offer).toContain('Last time: $940.00 on Aug 5, 2026');
  const taken = await page.post(`${path}/quotes`, {
    id: world.newId(),
    part: 'tailgate_lining',
    side: '',
    taken_from: asked?.last?.id ?? '',
  });
  expect(taken.headers.location).toBe(path);
  const seen = must(await readWorkOrder(world.services, business.technician, next));
  expect(seen.quotes[0]).toMatchObject({ origin: 'last_time', takenFrom: { workOrderId: first } });
  expect(seen.replacement?.minor).toBe(94_000n);
  const byContact = must(await readWorkOrder(world.services, installer.approver, next));
  expect(byContact.quotes[0]).toMatchObject({ origin: 'last_time', amountMinor: 94_000n, takenFrom: null });
  await expect(
    asAdministrator(world, async (sql) => {
      await sql`set role grainwright_account`;
      return sql`select taken_from_id from replacement_quotes`;
    }),
  ).rejects.toThrow('permission denied');
});

test('no other part, model or void work order counts as the last time, and nothing but the last quote is taken', async () => {
  const first = await cutIn('Lasting');
  const older = quote(first, { amount: '900.00' });
  must(await give(older));
  must(await give(quote(first, { amount: '940.00' })));
  const wrong = await cutIn('Lasting');
  must(await give(quote(wrong, { amount: '1.00' })));
  must(
    await voidWorkOrder(world.services, business.office, {
      workOrderId: wrong,
      reason: 'written_in_error',
      note: '',
      duplicateOfId: null,
    }),
  );
  const next = await cutIn('Lasting');
  const [asked] = must(await readQuotes(world.services, business.technician, next)).parts;
  expect(asked?.last?.amountMinor).toBe(94_000n);
  expect(await give(quote(next, { takenFromId: older.id }))).toMatchObject(
    refusal('invalid_input', 'taken_from'),
  );
  const otherModel = await cutIn('Another');
  const [none] = must(await readQuotes(world.services, business.technician, otherModel)).parts;
  expect(none?.last).toBeNull();
});

test('a quote is taken back, its history stays, and without one the usual range is told as typical', async () => {
  const workOrderId = await cutIn('Back');
  const given = quote(workOrderId, { amount: '940.00' });
  must(await give(given));
  const path = `/field/work-orders/${workOrderId}`;
  const back = await page.post(`${path}/quotes/${given.id}/take-back`, {});
  expect(back.headers.location).toBe(`${path}/quotes`);
  must(await takeQuoteBack(world.services, business.technician, { workOrderId, quoteId: given.id }));
  const { body } = await page.get(path);
  expect(body).toContain('Typical is $500.00 to $1,500.00 or more, fitted; that is no quote');
  expect(must(await readWorkOrder(world.services, business.technician, workOrderId)).replacement).toBeNull();
});

test('a quote that is refused comes back with what was typed', async () => {
  const workOrderId = await cutIn('Typed');
  const path = `/field/work-orders/${workOrderId}/quotes`;
  const reply = await page.post(path, {
    id: world.newId(),
    part: 'tailgate_lining',
    side: '',
    amount: 'much',
    note: 'the counter',
  });
  expect(reply.statusCode).toBe(422);
  expect(reply.body).toContain('id="field-amount-error"');
  expect(reply.body).toContain('value="much"');
  expect(reply.body).toContain('value="the counter"');
});

test('a part that was declined saves nothing: its quote stands against the repair no more', async () => {
  const workOrderId = await writtenUp(installer, { model: 'Declined' });
  const [left, right] = [world.newId<LineId>(), world.newId<LineId>()];
  for (const [side, lineId] of [
    ['left', left],
    ['right', right],
  ] as const) {
    const line = aLine({ part: 'quarter_trim', side, damage: 'burn', rateCode: 'BN-M' });
    must(await addLine(world.services, business.technician, { lineId, workOrderId, line }));
    await photoRow(installer, { workOrderId, lineId, purpose: 'before' });
    must(await give(quote(workOrderId, { part: 'quarter_trim', side, amount: '1428.50' })));
  }
  const versionId = await sent(installer, workOrderId);
  const { estimate } = must(await readWorkOrder(world.services, installer.approver, workOrderId));
  const contact = await web.signInByPage(installer.emailOf('approver'), business.password);
  // Both trims: 199.75 and, at 90 %, 179.78 (179.775), with the trip 424.53; 2,857.00 − 424.53 = 2,432.47, 85.1 %.
  expect((await contact.get('/account/to-approve')).body).toMatch(
    /\$2,857\.00<\/span>: <span class="money">\$2,432\.47<\/span> less, 85\.1 %/,
  );
  const answers = [
    { lineId: left, answer: 'approved' as const, reason: '' },
    { lineId: right, answer: 'declined' as const, reason: 'it goes to auction' },
  ];
  const seen = { workOrderId, versionId, digest: estimate?.digest ?? '', answers };
  const preview = must(await previewDecision(world.services, installer.approver, seen));
  expect(preview.quoted.replacement?.minor).toBe(142_850n);
  const total = formatMinor(preview.totalMinor, 'USD');
  const decisionId = world.newId<DecisionId>();
  must(await decideEstimate(world.services, installer.approver, { ...seen, decisionId, total }));
  const decided = must(await readWorkOrder(world.services, installer.approver, workOrderId));
  expect(decided.replacement?.minor).toBe(142_850n);
  expect(decided.quotes.map(({ counts }) => counts)).toEqual([true, false]);
  // The left trim: 235.00 less 15 % is 199.75, with the trip of 45.00 244.75; 1,428.50 − 244.75 = 1,183.75, 82.9 %.
  expect((await contact.get(`/account/work-orders/${workOrderId}`)).body).toMatch(
    /\$1,183\.75<\/span> less, 82\.9 %/,
  );
});

test('a quote given before the side was corrected does not count beside the one after it', async () => {
  const line = aLine({ part: 'quarter_trim', damage: 'burn', rateCode: 'BN-M' });
  const { workOrderId, lineId } = await writtenUpLine(installer, line);
  const trim = { part: 'quarter_trim', amount: '1280.00' };
  must(await give(quote(workOrderId, trim)));
  const left = { lineId, workOrderId, line: { ...line, side: 'left' } };
  must(await changeLine(world.services, business.technician, left));
  const corrected = must(await give(quote(workOrderId, { ...trim, side: 'left' })));
  // One trim is one new trim: 1,280.00, not 2,560.00.
  expect([corrected.replacement?.minor, corrected.quotes.length]).toEqual([128_000n, 1]);
  // Another one whose side nobody wrote is a part of its own, and neither quote takes the other’s place.
  must(await addLine(world.services, business.technician, { lineId: world.newId(), workOrderId, line }));
  const both = must(await give(quote(workOrderId, { ...trim, amount: '900.00' })));
  expect([both.replacement?.minor, both.quotes.length]).toEqual([218_000n, 2]);
});

test('the account’s report adds up quote less repair of what was invoiced, and only of parts that were repaired', async () => {
  const account = await anAccount(business, { limit: null });
  const work = await acceptedWork(account, {
    codes: ['VC-M', 'LT-L'],
    declined: [1],
    replacement: '940.00',
  });
  const report = async () => {
    const days = { from: '2026-08-01', to: '2026-08-31' };
    return must(await readSavings(world.services, account.payer, days));
  };
  must(await billingDesk(business).issue([work]));
  // A cut of 195.00 less 15 % is 165.75; 940.00 − 165.75 = 774.25.
  expect(await report()).toMatchObject({ vehicles: 1, quotedMinor: 94_000n, repairsMinor: 16_575n });
  expect((await report()).saved?.savedMinor).toBe(77_425n);
  await asAdministrator(world, async (sql) => {
    await sql`update work_order_lines set part = 'dash' where work_order_id = ${work.id} and rate_code = 'LT-L'`;
    return sql`update replacement_quotes set part = 'dash' where work_order_id = ${work.id}`;
  });
  expect(await report()).toMatchObject({ vehicles: 0, saved: null });
});

test('once the work was accepted its quotes stay as they are', async () => {
  const { id } = await acceptedWork(installer, { codes: ['VC-M'] });
  expect(await give(quote(id, { amount: '940.00' }))).toMatchObject(refusal('wrong_state'));
  expect((await page.get(`/field/work-orders/${id}/quotes`)).body).toContain('The work has been accepted.');
});

test('the write-up’s one sum still comes and goes by the API as a quote for all damage', async () => {
  const { workOrderId } = await writtenUpLine(installer);
  must(
    await changeWriteUp(world.services, business.technician, {
      workOrderId,
      replacement: '940.00',
      replacementNote: 'by phone',
    }),
  );
  const bearer = await web.signIn(business.emailOf('technician'), business.password);
  const url = `/api/v1/work-orders/${workOrderId}`;
  const order = (await web.app.inject({ url, headers: bearer })).json();
  expect(order.replacement).toEqual({ amount: '940.00', note: 'by phone', unquoted: [] });
  expect(order.quotes).toMatchObject([{ part: null, words: 'All damaged parts together', counts: true }]);
  must(await changeWriteUp(world.services, business.technician, { workOrderId, replacement: '' }));
  expect((await web.app.inject({ url, headers: bearer })).json().replacement).toBeNull();
});

test('the API gives, reads and takes back quotes as the pages do', async () => {
  const workOrderId = await cutIn('By API');
  const headers = await web.signIn(business.emailOf('office'), business.password);
  const url = `/api/v1/work-orders/${workOrderId}/quotes`;
  const id = world.newId();
  const payload = {
    id,
    part: 'tailgate_lining',
    part_price: '742.00',
    fitting_hours: '1.2',
    hourly_rate: '165.00',
  };
  const given = await web.app.inject({ method: 'POST', url, headers, payload });
  expect(given.statusCode).toBe(201);
  expect(given.json().quotes).toMatchObject([{ id, amount: '940.00', hourly_rate: '165.00' }]);
  const read = (await web.app.inject({ url, headers })).json();
  expect(read).toMatchObject({ open: true, parts: [{ part: 'tailgate_lining', quote_id: id, last: null }] });
  const back = await web.app.inject({ method: 'DELETE', url: `${url}/${id}`, headers });
  expect(back.json().quotes).toEqual([]);
});

test('a contact neither gives nor lists quotes', async () => {
  const workOrderId = await cutIn('Theirs');
  expect(await give(quote(workOrderId, { amount: '1.00' }), installer.approver)).toMatchObject(
    refusal('not_allowed'),
  );
  expect(await readQuotes(world.services, installer.approver, workOrderId)).toMatchObject(
    refusal('not_allowed'),
  );
});
