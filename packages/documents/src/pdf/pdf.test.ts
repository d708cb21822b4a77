import { spawnSync } from 'node:child_process';
import { day } from '@grainwright/domain';
import { expect, test } from 'vitest';
import { creditNotePdf } from './credit-note-pdf.ts';
import { invoicePdf } from './invoice-pdf.ts';
import { elementsOf, type ReadPdf, readPdf } from './read-pdf.ts';
import {
  creditStatement,
  longStatement,
  openItemStatement,
  sampleCreditNote,
  sampleInvoice,
} from './sample-models.ts';
import { statementPdf } from './statement-pdf.ts';

// Half an inch and more; A4 is that of ISO 216 (210 × 297 mm), Letter 8.5 × 11 in, at 72 points an inch.
const margin = 48;

test.each([
  ['letter', 612, 792],
  ['a4', 595.28, 841.89],
] as const)('pages are of the size that the business prints on: %s', async (size, width, height) => {
  const { pages } = await readPdf(await statementPdf(openItemStatement({ size })));
  expect(pages[0]?.size).toEqual([expect.closeTo(width, 2), expect.closeTo(height, 2)]);
});

test('a document says what it is called and in which language it is written', async () => {
  const bytes = await invoicePdf(sampleInvoice());
  const { title, language } = await readPdf(bytes);
  expect(title).toBe('Invoice GW-0021, Bluegate Glass & Trim');
  expect(language).toBe('en-US');
  const file = Buffer.from(bytes).toString('latin1');
  expect(file).toMatch(/^%PDF-1\.7/);
  expect(file).toContain('/DisplayDocTitle true');
  expect(file).toContain('/Marked true');
  expect(file).toContain('<rdf:li xml:lang="x-default">Invoice GW-0021, Bluegate Glass &amp; Trim</rdf:li>');
});

test('the same model gives the same bytes, in another process as well', async () => {
  const made = [
    await statementPdf(longStatement(40)),
    await invoicePdf(sampleInvoice()),
    await creditNotePdf(sampleCreditNote()),
  ];
  const again = [
    await statementPdf(longStatement(40)),
    await invoicePdf(sampleInvoice()),
    await creditNotePdf(sampleCreditNote()),
  ];
  expect(again.map(hex)).toEqual(made.map(hex));
  const script = `
    const models = await import(${JSON.stringify(import.meta.resolve('./sample-models.ts'))});
    const documents = await import(${JSON.stringify(import.meta.resolve('../index.ts'))});
    const made = [
      await documents.statementPdf(models.longStatement(40)),
      await documents.invoicePdf(models.sampleInvoice()),
      await documents.creditNotePdf(models.sampleCreditNote()),
    ];
    process.stdout.write(made.map((bytes) => Buffer.from(bytes).toString('hex')).join(' '));`;
  const other = spawnSync(process.execPath, ['--input-type=module', '--eval', script], {
    encoding: 'utf8',
    env: { ...process.env, TZ: 'Pacific/Auckland', LANG: 'de_DE.UTF-8' },
    maxBuffer: 64 * 1024 * 1024,
  });
  expect(other.stderr).toBe('');
  expect(other.stdout.split(' ')).toEqual(made.map(hex));
});

test('every table names its columns and its rows', async () => {
  const bytes = await statementPdf(openItemStatement());
  const { pages } = await readPdf(bytes);
  const [, balance, items, aging] = pages.flatMap((page) => elementsOf(page.root, 'Table'));
  const rows = (table: typeof items) =>
    table === undefined ? [] : elementsOf(table, 'TR').map((row) => row.children.map(({ role }) => role));
  expect(rows(balance)).toEqual([Array(5).fill('TH'), Array(5).fill('TD')]);
  const named = ['TD', 'TH', 'TD', 'TD', 'TD', 'TD', 'TD', 'TD'];
  expect(rows(items)).toEqual([Array(8).fill('TH'), named, named, named]);
  expect(rows(aging)).toEqual([['TH', 'TH'], ...Array(6).fill(['TH', 'TD'])]);
  const file = Buffer.from(bytes).toString('latin1');
  expect(file.match(/\/Scope \/Column/g)).toHaveLength(5 + 8 + 2);
  expect(file.match(/\/Scope \/Row/g)).toHaveLength(3 + 3 + 6);
});

test('headings begin with one of the first level and skip none', async () => {
  const { pages } = await readPdf(await invoicePdf(sampleInvoice()));
  const root = pages.map((page) => page.root);
  expect(root.flatMap((each) => elementsOf(each, 'Document'))).toHaveLength(pages.length);
  expect(root.flatMap((each) => elementsOf(each, 'H1')).map((each) => each.text)).toEqual([
    'Invoice GW-0021',
  ]);
  expect(root.flatMap((each) => elementsOf(each, 'H2')).map((each) => each.text)).toEqual([
    '2021 Hollis Meridian, gray',
    'For the visit',
    'Before and after: 2021 Hollis Meridian, gray',
  ]);
  expect(root.flatMap((each) => elementsOf(each, 'H3')).map((each) => each.text)).toEqual([
    'Leather tear, driver seat',
  ]);
});

test('pictures are told in words, and so is the logo', async () => {
  const { pages, heard } = await readPdf(await invoicePdf(sampleInvoice()));
  const alts = pages.flatMap((page) => elementsOf(page.root, 'Figure')).map((figure) => figure.alt);
  expect(alts).toEqual([
    'Logo of Seamline Interior Repair',
    'Leather tear, driver seat: before, Oct 8, 2026',
    'Leather tear, driver seat: after, Oct 9, 2026',
  ]);
  expect(heard).toContain('Before, Oct 8, 2026');
});

test('an invoice without pictures has no part for them', async () => {
  const [vehicle] = sampleInvoice().vehicles;
  const vehicles = vehicle === undefined ? [] : [{ ...vehicle, pictures: [] }];
  const { heard } = await readPdf(await invoicePdf(sampleInvoice({ vehicles })));
  expect(heard.join('\n')).not.toContain('Before and after');
});

test('an invoice reads from seller to due, and says nothing of later payments', async () => {
  const { heard } = await readPdf(await invoicePdf(sampleInvoice()));
  expectInOrder(heard, [
    'Seamline Interior Repair',
    'Invoice GW-0021',
    'Bluegate Glass & Trim',
    'Issued',
    'Oct 12, 2026',
    '7710',
    '2021 Hollis Meridian, gray',
    'WO-1012, RO 4471, stock 220',
    'Leather tear, medium (driver seat, left bolster) list 150.00, tier 0.90',
    '$118.80',
    'This vehicle',
    'Accepted by Dana Ruiz, account’s representative, Oct 9, 2026.',
    'Trip 25 miles',
    'Alder County state tax, 8 % of $160.00',
    '$12.80',
    '$172.80',
    'Deposit of Oct 2, 2026, card',
    '−$50.00',
    '$122.80 due by Nov 11, 2026',
    'Thank you for your business.',
  ]);
  expect(heard.join('\n')).not.toMatch(/paid|credited/i);
});

test('an exempt invoice names its certificate', async () => {
  const exempt = sampleInvoice({
    taxes: [],
    exemptions: [{ words: 'Sales tax, exempt, resale certificate 32-1', baseMinor: 16000n }],
    taxMinor: 0n,
    totalMinor: 16000n,
    dueMinor: 11000n,
  });
  const { heard } = await readPdf(await invoicePdf(exempt));
  expectInOrder(heard, ['Sales tax, exempt, resale certificate 32-1, on $160.00', '$0.00', '$160.00']);
});

test('a statement leads from the opening to the closing balance, and marks what is disputed', async () => {
  const { heard } = await readPdf(await statementPdf(openItemStatement({ depositsHeldMinor: 25000n })));
  expectInOrder(heard, [
    'Statement October 2026',
    'ST-0007',
    '$100.00',
    '$84.50',
    '$12.00',
    '$22.50',
    '$150.00',
    'Open as of Oct 31, 2026',
    'GW-0012',
    'RO 4471, PO 88',
    '29',
    '−$34.50',
    '$65.50 disputed $20.00',
    'GW-0019',
    'not due',
    '1 to 30 days',
    'We hold $250.00 in deposits for work not yet invoiced. They are not part of the balance.',
    '$150.00 owed as of Oct 31, 2026',
    'Of it, $20.00 is disputed.',
    'Cut at posting 412 · SHA-256 9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08',
  ]);
});

test('a balance in the customer’s favor is a credit, not a bill', async () => {
  const { heard } = await readPdf(await statementPdf(creditStatement()));
  expectInOrder(heard, [
    '−$123.22 a credit',
    'Credit balance $123.22: nothing to pay. Ask for a refund or use it on the next invoice.',
  ]);
  expect(heard.join('\n')).not.toMatch(/owed|due by/);
});

test('300 entries go over pages that repeat the header without telling it twice', async () => {
  const read = await readPdf(await statementPdf(longStatement(300)));
  expect(read.pages.length).toBeGreaterThan(6);
  expect(read.pages.length).toBeLessThan(12);
  const withRows = read.pages.filter((page) => page.texts.some(({ text }) => text.startsWith('Invoice GW-')));
  for (const page of withRows)
    expect(page.texts.filter(({ text }) => text === 'Your numbers')).toHaveLength(1);
  expect(read.heard.filter((text) => text === 'Your numbers')).toHaveLength(1);
  expect(read.heard.filter((text) => text.startsWith('Invoice GW-'))).toHaveLength(300);
  expectInOrder(read.heard, [
    'Invoice GW-0001',
    '$1.00',
    'Invoice GW-0150',
    '$150.00',
    'Invoice GW-0300',
    '$300.00',
  ]);
  const count = read.pages.length;
  for (const [index, page] of read.pages.entries())
    expect(page.texts.map(({ text }) => text)).toContain(`Page ${index + 1} of ${count}`);
});

test('no page begins or ends with a row alone, however many there are', async () => {
  for (let count = 18; count <= 34; count += 1) {
    const { pages } = await readPdf(await statementPdf(longStatement(count)));
    const rowsOn = pages
      .map(({ texts }) => texts.filter(({ text }) => text.startsWith('Invoice GW-')).length)
      .filter((rows) => rows > 0);
    expect(Math.min(...rowsOn), `${count} rows`).toBeGreaterThan(1);
  }
});

test('nothing stands outside the margins or on something else, whatever people write', async () => {
  const made = [
    await statementPdf(longStatement(300, { size: 'a4' })),
    await statementPdf(openItemStatement({ buyer: longParty, note: '60 lines\n'.repeat(60) })),
    await invoicePdf(verboseInvoice()),
    await creditNotePdf(sampleCreditNote({ reason: longWords.repeat(8), explanation: longWords })),
    await creditNotePdf(sampleCreditNote({ buyer: { name: 'B', lines: Array(80).fill('Line') } })),
  ];
  for (const bytes of made) expectClear(await readPdf(bytes));
});

test('a description of 60 lines wraps over the page and loses none', async () => {
  const { heard } = await readPdf(await invoicePdf(verboseInvoice()));
  const all = heard.join(' ');
  for (let line = 1; line <= 60; line += 1) expect(all).toContain(`Found ${line}.`);
});

test('a heading never stands at the foot of a page without its table', async () => {
  const [vehicle] = verboseInvoice().vehicles;
  const [line] = vehicle?.lines ?? [];
  if (vehicle === undefined || line === undefined) throw new Error('the sample has a vehicle and a line');
  const of = (lines: number) => ({
    ...vehicle,
    vehicle: 'Headed',
    numbers: '',
    lines: [{ ...line, description: 'Found.\n'.repeat(lines), trail: '' }],
    pictures: [],
  });
  const vehicles = [of(20), of(60), of(7), of(30), of(45), of(12)];
  const invoice = sampleInvoice({
    vehicles,
    netMinor: 83500n,
    totalMinor: 84780n,
    deposits: [],
    dueMinor: 84780n,
  });
  for (const page of (await readPdf(await invoicePdf(invoice))).pages) {
    const foot = margin + 34;
    const body = page.texts.filter(({ baseline }) => baseline > foot);
    const lowest = body.toSorted((a, b) => a.baseline - b.baseline)[0]?.text;
    expect(['Headed', 'Code', 'Repair', 'Labor', 'Materials', 'Amount']).not.toContain(lowest);
  }
});

test('names of many alphabets are printed as they are', async () => {
  const name = 'Łódź Žižek Nguyễn Ağaoğlu Þórsdóttir Παπαδόπουλος Жуковский';
  const { heard } = await readPdf(await invoicePdf(sampleInvoice({ buyer: { name, lines: [] } })));
  expect(heard).toContain(name);
});

test('what the typeface lacks is printed as its code, and readers get the true text', async () => {
  const buyer = { name: '王明 Motors', lines: [] };
  const bytes = await invoicePdf(sampleInvoice({ buyer }));
  const { heard } = await readPdf(bytes);
  expect(heard).toContain('[U+738B U+660E] Motors');
  const actual = Buffer.from('\ufeff王明 Motors', 'utf16le').swap16();
  expect(Buffer.from(bytes).includes(Buffer.concat([Buffer.from('/ActualText ('), actual]))).toBe(true);
});

test('a credit note says what it takes back, from which invoice, and how it was reckoned', async () => {
  const { heard } = await readPdf(await creditNotePdf(sampleCreditNote()));
  expectInOrder(heard, [
    'Credit note CN-0003',
    'GW-0021 of Oct 12, 2026',
    'Seam opened again',
    'Remove and install 2021 Hollis Meridian, gray',
    '$62.50',
    'Alder County state tax, 8.6 % of $62.50',
    '$5.38',
    '$67.88',
    '$67.88 credited to invoice GW-0021',
    'Issued 172.80, recomputed 104.92: the difference is credited.',
  ]);
});

test('figures that do not add up are not printed', async () => {
  await expect(statementPdf(openItemStatement({ closingMinor: 15001n }))).rejects.toThrow('closes at 15001');
  await expect(
    statementPdf(longStatement(3, { content: { kind: 'balance_forward', entries: [] } })),
  ).rejects.toThrow('entries lead to 0');
  await expect(invoicePdf(sampleInvoice({ dueMinor: 1n }))).rejects.toThrow('due: the parts come to 12280');
  await expect(creditNotePdf(sampleCreditNote({ taxMinor: 1n }))).rejects.toThrow('CN-0003');
});

test('what is neither PNG nor JPEG is refused', async () => {
  const { seller } = sampleInvoice();
  const broken = sampleInvoice({ seller: { ...seller, logo: new Uint8Array([1, 2, 3]) } });
  await expect(invoicePdf(broken)).rejects.toThrow('neither PNG nor JPEG');
});

const longWords =
  'A very long sentence that goes on about what was found and why it was done this way. '.repeat(12);

const longParty = {
  name: `Extraordinarily Long Names & Daughters ${'of the Greater Alder Falls Region '.repeat(6)}`,
  lines: ['AnUnbrokenAddressLineOfAHundredAndTwentyLetters'.repeat(3)],
};

function verboseInvoice() {
  const sample = sampleInvoice();
  const [vehicle] = sample.vehicles;
  const [line] = vehicle?.lines ?? [];
  if (vehicle === undefined || line === undefined) throw new Error('the sample has a vehicle and a line');
  const found = Array.from({ length: 60 }, (_, index) => `Found ${index + 1}.`).join('\n');
  const acceptance = {
    outcome: 'Accepted',
    name: longParty.name,
    role: '',
    on: day('2026-10-09'),
    remark: longWords,
  };
  const lines = [{ ...line, description: found, trail: longWords }];
  return sampleInvoice({
    buyer: longParty,
    vehicles: [{ ...vehicle, vehicle: longParty.name, numbers: longWords, lines, acceptance }],
  });
}

function hex(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('hex');
}

function expectInOrder(heard: readonly string[], words: readonly string[]): void {
  let from = 0;
  for (const each of words) {
    const at = heard.indexOf(each, from);
    expect(at, `“${each}” after line ${from} of:\n${heard.join('\n')}`).toBeGreaterThan(-1);
    from = at + 1;
  }
}

/** Within the margins; and no two pieces of text within 6 points of height touch each other. */
function expectClear({ pages }: ReadPdf): void {
  for (const { size, texts } of pages) {
    const [width, height] = size;
    for (const { text, x, baseline, width: wide } of texts) {
      expect(x, text).toBeGreaterThanOrEqual(margin - 0.1);
      expect(x + wide, text).toBeLessThanOrEqual(width - margin + 0.1);
      expect(baseline, text).toBeGreaterThanOrEqual(margin);
      expect(baseline, text).toBeLessThanOrEqual(height - margin);
    }
    const ordered = texts.toSorted((a, b) => b.baseline - a.baseline);
    for (const [index, upper] of ordered.entries())
      for (const lower of ordered.slice(index + 1)) {
        if (upper.baseline - lower.baseline > 6) break;
        const apart = upper.x + upper.width <= lower.x + 0.1 || lower.x + lower.width <= upper.x + 0.1;
        expect(apart, `“${upper.text}” and “${lower.text}”`).toBe(true);
      }
  }
}
