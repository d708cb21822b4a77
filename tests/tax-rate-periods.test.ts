import type { InvoiceId } from '@grainwright/domain';
import {
  addTaxArea,
  addTaxRate,
  issueInvoice,
  readInvoice,
  readPriceBook,
  setTaxableClasses,
  voidWorkOrder,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import { acceptedWork } from './support/billing-world.ts';
import { openWeb } from './support/web.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';
import { writtenUp } from './support/write-ups.ts';

let world: World;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  account = await anAccount(business);
});

const add = (validFrom: string, change: Partial<Parameters<typeof addTaxRate>[2]> = {}) =>
  addTaxRate(world.services, business.owner, {
    id: world.services.newId(),
    areaCode: 'A',
    component: 'Local',
    ratePercent: '1.75',
    validFrom,
    ...change,
  });
const areaA = async () => {
  const area = must(await readPriceBook(world.services, business.owner)).taxAreas.find(
    ({ code }) => code === 'A',
  );
  if (area === undefined) throw new Error('no area A');
  return area;
};

async function invoicedToday(): Promise<readonly bigint[]> {
  const work = await acceptedWork(account, { codes: ['VC-M'] });
  const invoiceId = world.newId<InvoiceId>();
  const issued = must(
    await issueInvoice(world.services, business.bookkeeper, { invoiceId, workOrderIds: [work.id] }),
  );
  const invoice = must(await readInvoice(world.services, business.bookkeeper, issued.id));
  return invoice.taxes.map((tax) => tax.taxMinor);
}

test('a new rate of a place ends the old one the day before; invoices keep theirs and later work has the new one', async () => {
  world.at('2026-09-30T09:00');
  // VC-M trade 165.75, materials 12 %: 19.89; State 5.00 % 0.99 (0.9945), Local 1.25 % 0.25 (0.2486).
  expect(await invoicedToday()).toEqual([99n, 25n]);
  must(await add('2026-10-01'));
  expect((await areaA()).rates.map((each) => [each.component, each.validFrom, each.validTo])).toEqual([
    ['State', '2026-01-01', null],
    ['Local', '2026-01-01', '2026-09-30'],
    ['Local', '2026-10-01', null],
  ]);
  expect(await invoicedToday()).toEqual([99n, 25n]);
  world.at('2026-10-01T09:00');
  // 1.75 % of 19.89 is 0.35 (0.3481).
  expect(await invoicedToday()).toEqual([99n, 35n]);
});

test('taxes are not changed under what is invoiced: the invoice is named', async () => {
  const refused = await add('2026-10-01', { component: 'State', ratePercent: '6' });
  if (refused.ok) throw new Error('it was added');
  expect(refused.problem).toMatchObject({ code: 'dates_out_of_order', field: 'valid_from' });
  expect(refused.problem.detail).toMatch(/^INV-\d+ taxed work of Oct 1, 2026 in A already/);
  must(await add('2026-10-02', { component: 'State', ratePercent: '6' }));
});

test('a period that overlaps a later one is refused naming both, and a part of the tax can be new', async () => {
  must(await add('2027-01-01'));
  const earlier = await add('2026-12-01');
  if (earlier.ok) throw new Error('it was added');
  expect(earlier.problem.code).toBe('duplicate');
  expect(earlier.problem.detail).toContain('from Jan 1, 2027 on');
  expect(earlier.problem.detail).toContain('from Dec 1, 2026 on');
  must(await add('2027-01-01', { component: 'Transit', ratePercent: '0.125' }));
  expect(new Set((await areaA()).rates.map((each) => each.component))).toEqual(
    new Set(['State', 'Local', 'Transit']),
  );
  expect(await add('2027-01-01', { areaCode: 'Q' })).toMatchObject({ problem: { code: 'not_found' } });
  expect(await add('2027-03-01', { ratePercent: '100' })).toMatchObject({
    problem: { code: 'invalid_input', field: 'rate_percent' },
  });
});

test('what a place taxes is dated too, and the same request again changes nothing', async () => {
  const id = world.services.newId();
  const set = () =>
    setTaxableClasses(world.services, business.owner, {
      id,
      areaCode: 'A',
      taxable: ['materials', 'labor'],
      validFrom: '2026-11-01',
    });
  must(await set());
  must(await set());
  expect((await areaA()).classes.map((each) => [each.taxable, each.validFrom, each.validTo])).toEqual([
    [['materials'], '2026-01-01', '2026-10-31'],
    [['labor', 'materials'], '2026-11-01', null],
  ]);
  world.at('2026-11-02T09:00');
  // The whole of VC-M at 165.75: State 6 % 9.95 (9.945), Local 1.75 % 2.90 (2.9006).
  expect(await invoicedToday()).toEqual([995n, 290n]);
});

test('a fee is not invoiced for a day without taxes: the place and the day are named', async () => {
  const from = { validFrom: '2027-01-01', validTo: null };
  const components = [{ name: 'State', ratePercent: '5' }];
  const area = {
    id: world.services.newId(),
    code: 'N',
    name: 'Nettle Ridge',
    components,
    taxable: [],
    ...from,
  };
  must(await addTaxArea(world.services, business.owner, area));
  const lot = await anAccount(business, { noShowFee: '55.00', taxAreaCode: 'N' });
  world.at('2026-12-30T09:00');
  const workOrderId = await writtenUp(lot);
  const note = 'the lot was empty';
  const missed = { workOrderId, reason: 'vehicle_not_there' as const, note, duplicateOfId: null };
  must(await voidWorkOrder(world.services, business.office, missed));
  const invoiceId = world.newId<InvoiceId>();
  const wanted = { invoiceId, workOrderIds: [workOrderId] };
  expect(await issueInvoice(world.services, business.bookkeeper, wanted)).toEqual({
    ok: false,
    problem: {
      code: 'wrong_state',
      detail:
        'Sales tax of area N is not set up for Dec 30, 2026. Add its rates in the price book, then issue the invoice.',
    },
  });
});

test('only the owner changes taxes', async () => {
  for (const actor of [business.office, business.technician, business.bookkeeper, account.approver]) {
    const id = world.services.newId();
    const place = { id, areaCode: 'A', validFrom: '2028-01-01' };
    expect(
      await addTaxRate(world.services, actor, { ...place, component: 'State', ratePercent: '1' }),
    ).toMatchObject({ problem: { code: 'not_allowed' } });
    expect(await setTaxableClasses(world.services, actor, { ...place, taxable: [] })).toMatchObject({
      problem: { code: 'not_allowed' },
    });
  }
});

test('the page of a tax area sends the owner to the adviser and adds a rate', async () => {
  const web = await openWeb(world);
  const owner = await web.signInByPage(business.emailOf('owner'), business.password);
  const path = '/office/price-book/tax-areas/B';
  const page = await owner.get(path);
  expect(page.body).toContain('licensed adviser');
  const id = /name="id" value="([^"]+)"/.exec(page.body)?.[1] ?? '';
  const form = { id, component: 'Local', rate_percent: '1.5' };
  expect((await owner.post(`${path}/rates`, { ...form, valid_from: 'soon' })).statusCode).toBe(422);
  const done = await owner.post(`${path}/rates`, { ...form, valid_from: '2027-01-01' });
  expect([done.statusCode, done.headers.location]).toEqual([303, path]);
  const classes = { id: world.services.newId(), materials: 'yes', valid_from: '2027-01-01' };
  expect((await owner.post(`${path}/classes`, classes)).statusCode).toBe(303);
  const after = (await owner.get(path)).body;
  expect(after).toContain('1.5 %');
});
