import { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import type { LineId, PersonId } from '@grainwright/domain';
import {
  addLine,
  addRates,
  changeLine,
  letPriceByHand,
  openInvoicePdf,
  readWorkOrder,
} from '@grainwright/operations';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { askedEstimate } from './support/asked-estimates.ts';
import { type BilledJob, billedJob, credited, lineOf } from './support/credit-desk.ts';
import { runJobs } from './support/run-jobs.ts';
import { openWeb, type Web } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { aLine, writtenUp } from './support/write-ups.ts';

let world: World;
let web: Web;
let business: Business;
let account: Account;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  account = await anAccount(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => {} });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(() => admin.end({ timeout: 5 }));

const byHand = {
  byHandPrice: '300.00',
  byHandReason: 'Glovebox lid of a rare make',
  byHandMaterialsPercent: '10',
};
/** Every way that the reason or the mark could be told. */
const secrets = ['Glovebox lid of a rare make', 'riced by hand', 'HAND'];

const lets = (pricesByHand: boolean, actor = business.owner) =>
  letPriceByHand(world.services, actor, { personId: business.technician.personId, pricesByHand });

async function line(given: object, actor = business.technician) {
  const workOrderId = await writtenUp(account);
  const lineId = world.newId<LineId>();
  const added = await addLine(world.services, actor, { lineId, workOrderId, line: aLine(given) });
  return { workOrderId, lineId, added };
}

test('without the right a technician prices nothing by hand; the line is kept, and the office prices it', async () => {
  must(await lets(false));
  const refused = await line({ part: 'dash', ...byHand });
  expect(refused.added).toMatchObject({
    problem: {
      code: 'not_allowed',
      field: 'by_hand_price',
      detail:
        'Pricing by hand is for the office, the owner, and whoever the owner lets. Leave the price out: the line is kept, and the office prices it.',
    },
  });
  const { workOrderId, lineId, added } = await line({ part: 'dash', family: 'Glovebox lid' });
  expect(must(added).lines[0]?.unpriced).toContain('The price book has no rate for this');
  const change = (given: object, actor = business.technician) =>
    changeLine(world.services, actor, {
      lineId,
      workOrderId,
      line: aLine({ part: 'dash', family: 'Glovebox lid', ...given }),
    });
  must(await change(byHand, business.office));
  // What the office allowed stays when the technician changes the rest of the line; another price is refused.
  const noted = must(await change({ ...byHand, note: 'seen with the door open' }));
  expect(noted.priceNotes.handPrices).toEqual([
    { lineId, reason: byHand.byHandReason, by: 'Ottoline Fairbrook' },
  ]);
  expect(await change({ ...byHand, byHandPrice: '280.00' })).toMatchObject({
    problem: { code: 'not_allowed' },
  });
  must(await lets(true));
  const { priceNotes } = must(await change({ ...byHand, byHandPrice: '280.00' }));
  expect(priceNotes.handPrices).toMatchObject([{ by: 'Tobias Wrenfield' }]);
});

test('whoever may not pass over the book names no rate where it has one for that very part', async () => {
  const rate = {
    id: world.services.newId(),
    code: 'VC-A',
    family: 'Vinyl cut or tear',
    repair: 'Cut or tear in vinyl, armrest',
    overInches: '1',
    toInches: '3',
    part: 'armrest',
    material: null,
    list: '300.00',
    materialsPercent: '12',
    takesFurtherRepair: true,
    repairsDamage: true,
    validFrom: '2026-01-01',
    validTo: null,
  };
  must(await addRates(world.services, business.owner, { rates: [rate] }));
  const workOrderId = await writtenUp(account);
  const lineId = world.newId<LineId>();
  const named = (rateCode: string, note = '') => ({
    lineId,
    workOrderId,
    line: aLine({ part: 'armrest', measuredInches: '2.2', rateCode, note }),
  });
  expect(await addLine(world.services, business.technician, named('VC-M'))).toMatchObject({
    problem: {
      code: 'invalid_input',
      field: 'rate_code',
      detail:
        'The price book has VC-A for armrest: VC-M is for the others. Choose VC-A, or “Vinyl cut or tear” instead of a code.',
    },
  });
  must(await addLine(world.services, business.office, named('VC-M')));
  // What the office named stays when the technician changes the rest of the line.
  must(await changeLine(world.services, business.technician, named('VC-M', 'seen from outside')));
  must(await changeLine(world.services, business.technician, named('VC-A')));
  expect(await changeLine(world.services, business.technician, named('VC-M'))).toMatchObject({
    problem: { field: 'rate_code' },
  });
});

test('only who manages the staff lets somebody price by hand', async () => {
  for (const actor of [business.office, business.technician, business.bookkeeper, account.approver])
    expect(await lets(true, actor)).toMatchObject({ problem: { code: 'not_allowed' } });
});

test('the API adds a technician without the right, gives it and takes it away', async () => {
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  const personId = world.newId<PersonId>();
  const person = { person_id: personId, name: 'Maelis Overgate', role: 'technician', short_name: 'MO' };
  const added = await web.app.inject({ method: 'POST', url: '/api/v1/staff', headers, payload: person });
  expect(added.statusCode).toBe(201);
  const told = async () => {
    const answer = await web.app.inject({ method: 'GET', url: '/api/v1/staff', headers });
    const { staff } = answer.json<{ staff: { person_id: string; prices_by_hand: boolean }[] }>();
    return staff.find((each) => each.person_id === personId)?.prices_by_hand;
  };
  expect(await told()).toBe(false);
  const url = `/api/v1/staff/${personId}/prices-by-hand`;
  for (const prices_by_hand of [true, true, false]) {
    const set = await web.app.inject({ method: 'PUT', url, headers, payload: { prices_by_hand } });
    expect([set.statusCode, await told()]).toEqual([204, prices_by_hand]);
  }
  const nobody = `/api/v1/staff/${world.newId()}/prices-by-hand`;
  const missed = await web.app.inject({
    method: 'PUT',
    url: nobody,
    headers,
    payload: { prices_by_hand: true },
  });
  expect(missed.statusCode).toBe(404);
});

test('the line’s page asks only those for a price by hand who may give one', async () => {
  const technician = await web.signInByPage(business.emailOf('technician'), business.password);
  const workOrderId = await writtenUp(account);
  const path = `/field/work-orders/${workOrderId}/lines/new`;
  const form = { part: 'dash', damage: 'crack', finding: 'nothing', step: 'repair' };
  expect((await technician.post(path, form)).body).toContain('name="by_hand_price"');
  must(await lets(false));
  const without = (await technician.post(path, form)).body;
  must(await lets(true));
  expect(without).not.toContain('name="by_hand_price"');
  expect(without).toContain('The office prices it');
});

/** Everything that an account can open of a job, by page, API and document, as one text. */
async function toldTheAccount({ account: told, invoice, workOrderId }: BilledJob): Promise<string> {
  const page = await web.signInByPage(told.emailOf('approver'), business.password);
  const headers = await web.signIn(told.emailOf('approver'), business.password);
  const pages = [
    `/account/work-orders/${workOrderId}`,
    '/account/work-orders',
    `/account/invoices/${invoice.id}`,
    '/account/invoices',
  ];
  const urls = [`/api/v1/work-orders/${workOrderId}`, `/api/v1/invoices/${invoice.id}`, '/api/v1/invoices'];
  const opened: string[] = [];
  for (const path of pages) {
    const answer = await page.get(path);
    expect([path, answer.statusCode]).toEqual([path, 200]);
    opened.push(answer.body);
  }
  for (const url of urls) {
    const answer = await web.app.inject({ method: 'GET', url, headers });
    expect([url, answer.statusCode]).toEqual([url, 200]);
    opened.push(answer.body);
  }
  const view = must(await readWorkOrder(world.services, told.approver, workOrderId));
  opened.push(JSON.stringify(view, (_key, value) => (typeof value === 'bigint' ? `${value}` : value)));
  opened.push(await pdfWords(told, invoice.id));
  return opened.join('\n');
}

async function pdfWords(told: Account, invoiceId: BilledJob['invoice']['id']): Promise<string> {
  const { body } = must(await openInvoicePdf(world.services, told.viewer, invoiceId));
  const data = new Uint8Array(await buffer(Readable.from([body])));
  const pdf = await getDocument({ data, verbosity: 0 }).promise;
  const words: string[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent();
    words.push(items.map((item) => ('str' in item ? item.str : '')).join(' '));
  }
  await pdf.destroy();
  return words.join(' ').replaceAll(/\s+/g, ' ');
}

const job = { lines: [{ part: 'dash', ...byHand }], account: { walkIn: true }, total: '301.88' };
const neutral = 'price for this repair 300.00, first repair 100 % → 300.00';

test('the account reads the price and its trail, and nothing of how it was made; the office reads both', async () => {
  const billed = await billedJob(business, admin, job);
  await runJobs(world);
  const told = await toldTheAccount(billed);
  expect(secrets.filter((secret) => told.includes(secret))).toEqual([]);
  expect(told.split(neutral).length - 1).toBeGreaterThanOrEqual(5);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const note = 'Priced by hand: Glovebox lid of a rare make (by Tobias Wrenfield)';
  const work = (await office.get(`/office/work-orders/${billed.workOrderId}`)).body;
  // Once in the estimate, once in the answer.
  expect([work.split(note).length - 1, work.includes(neutral)]).toEqual([2, true]);
  expect((await office.get(`/office/invoices/${billed.invoice.id}`)).body).toContain(note);
  expect(
    (await office.get(`/field/work-orders/${billed.workOrderId}/lines/${lineOf(billed.invoice, 'OTHER')}`))
      .body,
  ).toContain(note);
});

test('an estimate that waits for its answer tells the account the price alone', async () => {
  const { workOrderId } = await askedEstimate(account, [{ part: 'dash', ...byHand }]);
  const page = await web.signInByPage(account.emailOf('approver'), business.password);
  const headers = await web.signIn(account.emailOf('approver'), business.password);
  const told = [
    (await page.get(`/account/work-orders/${workOrderId}`)).body,
    (await web.app.inject({ method: 'GET', url: `/api/v1/work-orders/${workOrderId}`, headers })).body,
  ];
  for (const words of told) {
    expect(words).toContain(neutral);
    expect(secrets.filter((secret) => words.includes(secret))).toEqual([]);
  }
});

test('trails and codes that were stored with the reason or the mark are shown without, on every face of the account', async () => {
  const billed = await billedJob(business, admin, job);
  await runJobs(world);
  const reason = 'Glovebox lid of a rare make';
  const before = `priced by hand: ${reason} → 300.00`;
  await admin.begin(async (sql) => {
    // As an earlier version stored them: rows on record can’t be changed any other way.
    await sql`set local session_replication_role = replica`;
    const trail = `${before}, first repair 100 % → 300.00`;
    const lineId = lineOf(billed.invoice, 'OTHER');
    await sql`update estimate_lines set before_further_trail = ${before}, trail = ${trail} where line_id = ${lineId}`;
    await sql`update estimate_lines set code = 'HAND' where line_id = ${lineId}`;
    await sql`update decision_lines set trail = ${trail} where line_id = ${lineId}`;
    const changed =
      await sql`update invoice_lines set trail = ${trail}, code = 'HAND' where line_id = ${lineId}`;
    expect(changed.count).toBe(1);
  });
  const told = await toldTheAccount(billed);
  expect(secrets.filter((secret) => told.includes(secret))).toEqual([]);
  expect(told.split(neutral).length - 1).toBeGreaterThanOrEqual(5);
});

test('the database lets an account read neither the mark nor the reason, wherever they are kept', async () => {
  const billed = await billedJob(business, admin, job);
  const lineId = lineOf(billed.invoice, 'OTHER');
  await credited(business, billed.invoice, { lines: [{ kind: 'reduced', lineId, net: '250.00' }] });
  const login = postgres(world.loginUrl, { max: 1, onnotice: () => {} });
  const asAccount = (query: string) =>
    login.begin(async (sql) => {
      await sql`select set_config('role', 'grainwright_account', true),
        set_config('app.tenant_id', ${business.tenantId}, true),
        set_config('app.account_id', ${billed.account.id}, true)`;
      return sql.unsafe(query);
    });
  for (const [column, table] of [
    ['by_hand', 'estimate_lines'],
    ['by_hand_minor', 'work_order_lines'],
    ['by_hand_reason', 'work_order_lines'],
    ['by_hand_by', 'work_order_lines'],
    ['basis', 'invoices'],
    ['remaining', 'credit_notes'],
    ['reason', 'floor_consents'],
    ['floor_percent', 'price_terms'],
    ['name', 'contracts'],
    ['price_minor', 'tier_prices'],
    ['prices_by_hand', 'staff_members'],
  ])
    await expect(asAccount(`select ${column} from ${table}`), `${column} of ${table}`).rejects.toMatchObject({
      code: '42501',
    });
  // Its own rows are there, so that what is refused above is the column.
  expect(await asAccount('select net_minor from estimate_lines')).toHaveLength(1);
  expect(await asAccount('select total_minor from invoices')).toHaveLength(1);
  expect(JSON.stringify(await asAccount('select rules from estimate_versions'))).not.toContain('floor');
  await login.end();
});

test('an estimate’s whole trail is on every face: field, account, office, answer and invoice', async () => {
  const lines = [
    { rateCode: 'VC-M', factorCode: 'new' },
    { rateCode: 'WR-1', damage: 'wrinkle' },
  ];
  // 195.00 × 1.10 = 214.50, less 15 % 182.33; 95.00 less 15 % = 80.75, of it 90 % 72.68; trip 45.00; taxed materials.
  const trails = [
    'list 195.00, New car × 110 % → 214.50, Trade −15 % → 182.33, first repair 100 % → 182.33',
    'list 95.00, Trade −15 % → 80.75, further repair 90 % → 72.68',
  ];
  // Materials 21.88 + 3.63 = 25.51; 5 % 1.28, 1.25 % 0.32: 255.01 + 45.00 + 1.60.
  const billed = await billedJob(business, admin, { lines, total: '301.61' });
  await runJobs(world);
  const field = await web.signInByPage(business.emailOf('technician'), business.password);
  const office = await web.signInByPage(business.emailOf('office'), business.password);
  const customer = await web.signInByPage(billed.account.emailOf('approver'), business.password);
  const [first] = billed.invoice.vehicles.flatMap((vehicle) => vehicle.lines);
  const work = `work-orders/${billed.workOrderId}`;
  const faces = {
    field: (await field.get(`/field/${work}`)).body,
    account: (await customer.get(`/account/${work}`)).body,
    office: (await office.get(`/office/${work}`)).body,
    invoice: (await office.get(`/office/invoices/${billed.invoice.id}`)).body,
    theirInvoice: (await customer.get(`/account/invoices/${billed.invoice.id}`)).body,
    pdf: await pdfWords(billed.account, billed.invoice.id),
  };
  for (const [face, words] of Object.entries(faces))
    for (const trail of trails) expect([face, trail, words.includes(trail)]).toEqual([face, trail, true]);
  const ofLine = (await field.get(`/field/${work}/lines/${first?.lineId}`)).body;
  expect(trails.some((trail) => ofLine.includes(trail))).toBe(true);
});
