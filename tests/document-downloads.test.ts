import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import type { CreditNoteId } from '@grainwright/domain';
import {
  issueCreditNote,
  openCreditNotePdf,
  openInvoicePdf,
  openStatementPdf,
  setLogo,
  voidInvoice,
} from '@grainwright/operations';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import postgres, { type Sql } from 'postgres';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { sample } from '../packages/evidence/src/photo/photo-fixtures.ts';
import { billingDesk, codeOf, tailgate } from './support/billing-desk.ts';
import { acceptedWork } from './support/billing-world.ts';
import { runJobs } from './support/run-jobs.ts';
import { statementDesk } from './support/statement-desk.ts';
import { openWeb, type Web } from './support/web.ts';
import { aBusiness, anAccount, type Business, must, openWorld, type World } from './support/world.ts';

let world: World;
let web: Web;
let business: Business;
let desk: ReturnType<typeof billingDesk>;
let admin: Sql;

beforeAll(async () => {
  world = await openWorld();
  web = await openWeb(world);
  business = await aBusiness(world);
  desk = billingDesk(business);
  admin = postgres(world.adminUrl, { max: 1, onnotice: () => undefined });
});
beforeEach(() => world.at('2026-08-05T09:00'));
afterAll(async () => {
  await admin.end({ timeout: 5 });
});

/** What a PDF says, its pages' size in points, and how many pictures it shows, as another library reads it. */
async function readPdf(bytes: Uint8Array) {
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  const texts: string[] = [];
  let pictures = 0;
  let size: readonly number[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number);
    const { items } = await page.getTextContent();
    texts.push(items.map((item) => ('str' in item ? item.str : '')).join(' '));
    const { fnArray } = await page.getOperatorList();
    pictures += fnArray.filter((operator) => operator === paintImage).length;
    size = page.view;
  }
  await pdf.destroy();
  return { text: texts.join(' ').replaceAll(/\s+/g, ' '), pictures, size };
}
/** `OPS.paintImageXObject` of pdfjs. */
const paintImage = 85;

const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

// 238.43, 45.00, 1.18, 0.29 and 284.90 are scenario (a) of the agreed demo figures.
test('the invoice as PDF has its figures, its taxes and the pictures before and after, the same for both sides', async () => {
  const account = await anAccount(business);
  const invoice = must(await desk.issue([await acceptedWork(account, { codes: tailgate })]));
  await runJobs(world);
  const office = must(await openInvoicePdf(world.services, business.bookkeeper, invoice.id));
  const own = must(await openInvoicePdf(world.services, account.viewer, invoice.id));
  expect(sha256(own.body)).toBe(sha256(office.body));
  expect(office).toMatchObject({ fileName: `${invoice.number}.pdf`, mediaType: 'application/pdf' });
  const { text, pictures } = await readPdf(office.body);
  for (const words of [
    invoice.number,
    'Brackwater Glass & Screen',
    '$238.43',
    '$45.00',
    '$1.18',
    '$0.29',
    '$284.90',
  ])
    expect(text).toContain(words);
  expect(text).toContain('$284.90 due by Aug 20, 2026');
  // Two repairs, each with a picture before and one after.
  expect(pictures).toBe(4);
});

test('the paper is of the size and with the logo that the business chose', async () => {
  const own = await aBusiness(world);
  const account = await anAccount(own);
  const invoice = must(await billingDesk(own).issue([await acceptedWork(account, { codes: tailgate })]));
  const plain = await readPdf(must(await openInvoicePdf(world.services, own.owner, invoice.id)).body);
  // US Letter is 8.5 by 11 inches of 72 points; A4 is 210 by 297 mm (ISO 216).
  expect(plain.size.slice(2)).toEqual([612, 792]);
  const logo = await sample({ width: 120, height: 40 }).png().toBuffer();
  const directory = world.objects.temporaryDirectory;
  const upload = { stream: Readable.from([logo]), truncated: () => false, directory };
  must(await setLogo(world.services, own.owner, upload));
  await admin`update businesses set page_size = 'a4' where tenant_id = ${own.tenantId}`;
  const chosen = await readPdf(must(await openInvoicePdf(world.services, own.owner, invoice.id)).body);
  expect(chosen.size.slice(2).map(Math.round)).toEqual([595, 842]);
  expect(chosen.pictures).toBe(plain.pictures + 1);
});

test('an invoice that was voided has no paper any more', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  must(await voidInvoice(world.services, business.owner, { invoiceId: invoice.id, reason: 'wrong account' }));
  const refused = await openInvoicePdf(world.services, account.payer, invoice.id);
  expect(codeOf(refused)).toBe('wrong_state');
});

test('a credit note as PDF names its invoice and says how it was reckoned', async () => {
  const account = await anAccount(business);
  const invoice = await desk.issued(account);
  const [line] = invoice.vehicles.flatMap((vehicle) => vehicle.lines).filter((each) => each.code === 'VC-M');
  if (!line?.lineId) throw new Error('no line');
  const creditNoteId = world.newId<CreditNoteId>();
  const note = must(
    await issueCreditNote(world.services, business.bookkeeper, {
      creditNoteId,
      invoiceId: invoice.id,
      reason: 'Priced too high',
      lines: [{ kind: 'reduced', lineId: line.lineId, net: '155.75' }],
      charges: [],
      certificateIds: [],
      issuedOn: null,
      apply: true,
    }),
  );
  const office = must(await openCreditNotePdf(world.services, business.bookkeeper, creditNoteId));
  const own = must(await openCreditNotePdf(world.services, account.payer, creditNoteId));
  expect(sha256(own.body)).toBe(sha256(office.body));
  const { text } = await readPdf(office.body);
  expect(text).toContain(note.number);
  expect(text).toContain(`${invoice.number} of Aug 5, 2026`);
  expect(text).toContain('Priced too high');
  expect(text).toContain('was issued at $284.90');
});

test('a statement with a credit balance is printed as a credit and never as a bill, and a month that runs has no PDF', async () => {
  const account = await anAccount(business);
  must(await desk.pay({ account, amount: '73.22', on: '2026-08-05' }));
  const asked = { accountId: account.id, month: '2026-08' };
  world.at('2026-08-20T09:00');
  expect(codeOf(await openStatementPdf(world.services, account.payer, asked))).toBe('wrong_state');
  world.at('2026-09-01T09:00');
  await statementDesk(business).run('2026-08', [account]);
  const { text } = await readPdf(must(await openStatementPdf(world.services, account.payer, asked)).body);
  expect(text).toContain('Credit balance $73.22: nothing to pay');
  expect(text).not.toMatch(/owed as of/);
  const page = await (await web.signInByPage(account.emailOf('payer'), business.password)).get(
    '/account/statements/2026-08',
  );
  expect(page.body.replaceAll(/<[^>]+>/g, '')).toContain('Credit balance $73.22');
  expect(page.body).toContain('/account/statements/2026-08.pdf');
});

test('balance forward prints what happened from one balance to the next, open item what is open', async () => {
  const forward = await anAccount(business, { statementKind: 'balance_forward', name: 'Alder Forward' });
  const open = await anAccount(business, { name: 'Birch Open' });
  for (const account of [forward, open]) {
    await desk.issued(account);
    must(await desk.pay({ account, amount: '100.00', on: '2026-08-05' }));
  }
  world.at('2026-09-01T09:00');
  await statementDesk(business).run('2026-08', [forward, open]);
  const textOf = async ({ id }: typeof forward) => {
    const file = must(
      await openStatementPdf(world.services, business.owner, { accountId: id, month: '2026-08' }),
    );
    return (await readPdf(file.body)).text;
  };
  const forwardText = await textOf(forward);
  expect(forwardText).toContain('What happened this month');
  expect(forwardText).toContain('$184.90 owed as of Aug 31, 2026');
  const openText = await textOf(open);
  expect(openText).toContain('Open as of Aug 31, 2026');
  expect(openText).toContain('$100.00 of credit is not yet applied');
  for (const text of [forwardText, openText]) expect(text).toMatch(/SHA-256 [0-9a-f]{64}/);
});

test('the downloads are there for the office, the account’s contacts and the API, and for nobody else', async () => {
  const account = await anAccount(business);
  const stranger = await anAccount(business);
  const invoice = await desk.issued(account);
  const officeBrowser = await web.signInByPage(business.emailOf('bookkeeper'), business.password);
  const ownBrowser = await web.signInByPage(account.emailOf('viewer'), business.password);
  const strange = await web.signInByPage(stranger.emailOf('payer'), business.password);
  const headers = await web.signIn(account.emailOf('payer'), business.password);
  const replies = [
    await officeBrowser.get(`/office/invoices/${invoice.id}/invoice.pdf`),
    await ownBrowser.get(`/account/invoices/${invoice.id}/invoice.pdf`),
    await web.app.inject({ url: `/api/v1/invoices/${invoice.id}/invoice.pdf`, headers }),
  ];
  for (const reply of replies) {
    expect([reply.statusCode, reply.headers['content-type']]).toEqual([200, 'application/pdf']);
    expect(reply.headers['content-disposition']).toBe(`attachment; filename="${invoice.number}.pdf"`);
    expect(reply.headers['cache-control']).toBe('no-store');
    expect(sha256(reply.rawPayload)).toBe(sha256(replies[0]?.rawPayload ?? Buffer.alloc(0)));
  }
  expect((await strange.get(`/account/invoices/${invoice.id}/invoice.pdf`)).statusCode).toBe(404);
  expect((await strange.get(`/office/invoices/${invoice.id}/invoice.pdf`)).statusCode).toBe(404);
});
