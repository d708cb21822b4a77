import { type CreditNoteId, toId, type WorkOrderId } from '@grainwright/domain';
import {
  checkLedger,
  openInvoicePdf,
  readInvoice,
  readPriceBook,
  readWorkOrder,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { readPdf } from '../packages/documents/src/pdf/read-pdf.ts';
import { askedEstimate } from './support/asked-estimates.ts';
import { approvedBy, billedAtOnce, limitedDealer, threeLines } from './support/limited-dealer.ts';
import { openWeb, type Web } from './support/web.ts';
import { type Account, aBusiness, type Business, must, openWorld, type World } from './support/world.ts';

// The rules are common practice of the trade, no source; the figures are worked out by hand from the invented price
// book, the arithmetic beside each.

let world: World;
let web: Web;
let business: Business;
let dealer: Account;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  dealer = await limitedDealer(business);
});

test('a credit takes rush or the visit’s minimum off whole where it is asked to', async () => {
  world.at('2026-08-14T09:00');
  const asked = await askedEstimate(dealer, [{ rateCode: 'VC-M' }], { rush: true });
  await approvedBy(dealer, asked);
  const invoice = await billedAtOnce(business, asked.workOrderId);
  const desk = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  const form = await desk.get(`/office/invoices/${invoice.id}/credit`);
  // 195.00 × 30 % = 58.50; 320.00 − 195.00 = 125.00.
  expect(form.body).toContain('Rush, $58.50');
  expect(form.body).toContain('Visit minimum, $125.00');
  const [, key = ''] = /value="(visit_minimum\|[^"]+)"/.exec(form.body) ?? [];
  const fields = {
    credit_note_id: world.newId<CreditNoteId>(),
    reason: 'Agreed by phone.',
    issued_on: '2026-08-14',
    charge: key,
  };
  const shown = await desk.post(`/office/invoices/${invoice.id}/credit`, fields);
  expect(shown.body).toContain('Issue the credit note of $125.00');
  const issue = { ...fields, shown_total: '125.00', issue: 'yes', apply: 'yes' };
  expect((await desk.post(`/office/invoices/${invoice.id}/credit`, issue)).statusCode).toBe(303);
  const after = must(await readInvoice(world.services, business.bookkeeper, invoice.id));
  expect(invoice.totalMinor - after.openMinor).toBe(12500n);
  expect(must(await checkLedger(world.services, business.tenantId)).faults).toEqual([]);
});

test('a technician ticks rush on the write-up page, and the day shows the visit as one', async () => {
  world.at('2026-08-17T09:00');
  const van = await web.signInByPage(business.emailOf('technician'), business.password);
  const place = `${dealer.id}.${dealer.siteId}`;
  const page = (await van.get(`/field/write-up?place=${place}`)).body;
  expect(page).toContain('Asked for within the day');
  const hidden = (name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(page)?.[1] ?? '';
  const ids = { id: hidden('id'), visit_id: hidden('visit_id'), place };
  const written = await van.post('/field/write-up', { ...ids, last_eight: 'SR004777', rush: 'yes' });
  expect(written.statusCode).toBe(303);
  const { visit } = must(
    await readWorkOrder(world.services, business.office, toId<WorkOrderId>(hidden('id'))),
  );
  expect(visit).toMatchObject({ rush: true, afterHours: false });
  expect((await van.get('/field')).body).toMatch(/· rush/);
});

test('estimate, answer, invoice and its PDF say rush, cap, zone and the visit’s minimum, each with its trail', async () => {
  world.at('2026-08-18T09:00');
  const asked = await askedEstimate(dealer, threeLines, { rush: true });
  const buyer = await web.signInByPage(dealer.emailOf('approver'), business.password);
  const page = (await buyer.get(`/account/work-orders/${asked.workOrderId}`)).body;
  const trails = [
    'rush 30 % of 300.00 → 90.00',
    'visit minimum 320.00, repairs 300.00 → 20.00',
    'trip zone “Foothills” up to 35 mi 70.00 → 70.00',
  ];
  for (const trail of [...trails, 'vehicle cap 300.00 → 147.36']) expect(page).toContain(trail);
  expect(page).toContain('All lines with rush come to');
  expect(page).toContain('What is missing to the visit minimum is charged once a visit');
  await approvedBy(dealer, asked);
  const answered = (await buyer.get(`/account/work-orders/${asked.workOrderId}`)).body;
  expect(answered).toMatch(/Rush[\s\S]*\$90\.00[\s\S]*Visit minimum[\s\S]*\$20\.00/);
  const { id } = await billedAtOnce(business, asked.workOrderId);
  const shown = (await buyer.get(`/account/invoices/${id}`)).body;
  const { heard } = await readPdf(must(await openInvoicePdf(world.services, dealer.payer, id)).body);
  for (const said of [...trails, 'Rush', 'Visit minimum']) {
    expect(shown).toContain(said);
    expect(heard.join(' ')).toContain(said);
  }
});

test('the price book shows the terms, and refuses what can’t be beside the field it belongs to', async () => {
  world.at('2026-08-20T09:00');
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const book = (await owner.get('/office/price-book')).body;
  expect(book).toContain(
    'once a visit, by zone. Valley, up to 20 mi: $45.00; Foothills, up to 35 mi: $70.00',
  );
  expect(book).toContain('30 % of the visit’s repairs, at least $40.00');
  expect((await owner.get('/office/price-book/tiers/limited')).body).toContain('$320.00');

  const form = (await owner.get('/office/price-book/terms')).body;
  expect(form).toMatch(/name="trip_zones\.1\.name"[^>]*value="Foothills"/);
  const fields: Record<string, string> = {
    id: world.services.newId(),
    further_repair_percents: '100, 90, 80',
    trip: '45.00',
    miles_included: '20',
    mile: '1.50',
    'trip_zones.0.name': 'Valley',
    'trip_zones.0.up_to_miles': '25',
    'trip_zones.0.amount': '45.00',
    after_hours_percent: '25',
    after_hours_minimum: '60.00',
    rush_percent: '35',
    rush_minimum: '50.00',
    deposit_from: '200.00',
    deposit_percent: '50',
    deposit_step: '10.00',
    floor_percent: '',
    valid_from: '2026-09-01',
  };
  const refused = async (change: Record<string, string>) => {
    const reply = await owner.post('/office/price-book/terms', { ...fields, ...change });
    expect(reply.statusCode).toBe(422);
    return reply.body;
  };
  expect(await refused({ rush_minimum: '-5' })).toContain('“-5” is negative');
  expect(await refused({ rush_minimum: '40.005' })).toContain('“40.005” has 3 decimals');
  expect(await refused({ rush_percent: '30.1234' })).toContain('at most 3 decimals');
  expect(await refused({ further_repair_percents: '90, 100' })).toContain('Write the percents falling');
  const nearer = {
    'trip_zones.1.name': 'Hills',
    'trip_zones.1.up_to_miles': '25',
    'trip_zones.1.amount': '70.00',
  };
  const back = await refused(nearer);
  expect(back).toContain('this one must reach farther than “Valley”, 25 mi.');
  expect(back).toMatch(/name="trip_zones\.1\.up_to_miles"[^>]*aria-invalid="true"/);
  expect(back).toContain('value="Hills"');
  const set = await owner.post('/office/price-book/terms', fields);
  expect(set.statusCode).toBe(303);
  const { terms: all } = must(await readPriceBook(world.services, business.owner));
  expect(all.at(-1)).toMatchObject({ rushMinimumMinor: 5000n, validFrom: '2026-09-01' });
  expect(all.at(-1)?.tripZones.map((zone) => zone.name)).toEqual(['Valley']);

  const tier = {
    id: world.services.newId(),
    discount_percent: '0',
    vehicle_minimum: '65.00',
    visit_minimum: '0',
    valid_from: '2026-09-01',
  };
  const below = await owner.post('/office/price-book/tiers/limited', { ...tier, vehicle_cap: '60.00' });
  expect(below.statusCode).toBe(422);
  expect(below.body).toContain('The most for a vehicle is below its minimum, $65.00.');
  expect(
    (await owner.post('/office/price-book/tiers/limited', { ...tier, vehicle_cap: '' })).statusCode,
  ).toBe(303);
});

test('the API takes and tells rush, zones, cap and the visit’s minimum', async () => {
  world.at('2026-08-21T09:00');
  const headers = await web.signIn(business.emailOf('owner'), business.password);
  const reply = await web.app.inject({ method: 'GET', url: '/api/v1/price-book', headers });
  const book = reply.json<{ terms: readonly unknown[]; tiers: readonly unknown[] }>();
  expect(book.terms).toContainEqual(
    expect.objectContaining({
      rush_percent: '30',
      rush_minimum: '40.00',
      trip_zones: [
        { name: 'Valley', up_to_miles: '20', amount: '45.00' },
        { name: 'Foothills', up_to_miles: '35', amount: '70.00' },
      ],
    }),
  );
  expect(book.tiers).toContainEqual(
    expect.objectContaining({ code: 'limited', vehicle_cap: '300.00', visit_minimum: '320.00' }),
  );
});
