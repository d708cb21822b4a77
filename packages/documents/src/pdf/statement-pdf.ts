import { agingBuckets, sealedDayWords, sumMinor } from '@grainwright/domain';
import { agingBucketNames } from '../statement-csv.ts';
import { type Closing, closingHeight, drawClosing, drawNote } from './closing.ts';
import { dayWords, moneyWords, monthWords } from './figures.ts';
import { drawLetterhead } from './letterhead.ts';
import { child, decorate, madeSheet, makeRoom, paragraph, type Sheet } from './sheet.ts';
import type { StatementEntry, StatementItem, StatementModel } from './statement-model.ts';
import { colors, styles } from './styles.ts';
import { type Cell, drawTable } from './table.ts';
import { linesOf } from './text.ts';

/**
 * A statement as a tagged PDF, of open items or with the balance brought forward. The same model gives the same
 * bytes. Throws when the model’s figures do not lead from its opening to its closing balance.
 */
export async function statementPdf(model: StatementModel): Promise<Uint8Array> {
  assertProven(model);
  const { size, seller, buyer, month, number, to } = model;
  const name = ['Statement', number].filter((part) => part !== '').join(' ');
  const facts = {
    size,
    title: `${name}, ${monthWords(month)}, ${buyer.name}`,
    author: seller.name,
    on: to,
    foot: `${seller.name} · ${name}, ${monthWords(month)} · ${buyer.name}`,
    lastFoot: cutWords(model),
  };
  return madeSheet(facts, (sheet) => {
    drawLetterhead(sheet, {
      seller,
      buyer,
      title: 'Statement',
      subtitle: monthWords(month),
      facts: [
        ...(number === '' ? [] : [{ term: 'Statement', value: number }]),
        { term: 'From', value: dayWords(model.from) },
        { term: 'Through', value: dayWords(to) },
      ],
    });
    drawBalance(sheet, model);
    drawContent(sheet, model);
    const asides = asideWords(model);
    const closing = closingWords(model);
    const closingsHeight = closingHeight(sheet, closing) + asidesHeight(sheet, asides);
    drawAging(sheet, model, closingsHeight);
    makeRoom(sheet, closingsHeight);
    drawAsides(sheet, asides);
    drawClosing(sheet, closing);
    drawNote(sheet, model.note);
  });
}

function assertProven(model: StatementModel): void {
  const { openingMinor, chargesMinor, creditsMinor, paymentsMinor, closingMinor, aging, content } = model;
  const toldMinor = openingMinor + chargesMinor - creditsMinor - paymentsMinor;
  if (toldMinor !== closingMinor)
    throw new Error(`the statement's totals lead to ${toldMinor}, it closes at ${closingMinor}`);
  const agedMinor = sumMinor(Object.values(aging.buckets)) + aging.unappliedMinor;
  if (agedMinor !== closingMinor)
    throw new Error(`the statement's aging comes to ${agedMinor}, it closes at ${closingMinor}`);
  if (content.kind === 'open_item') return;
  const enteredMinor = openingMinor + sumMinor(content.entries.map((entry) => entry.amountMinor));
  if (enteredMinor !== closingMinor)
    throw new Error(`the statement's entries lead to ${enteredMinor}, it closes at ${closingMinor}`);
}

function cutWords({ posting, digest }: StatementModel): string {
  return [`Cut at posting ${posting}`, ...(digest === null ? [] : [`SHA-256 ${digest}`])].join(' · ');
}

function drawBalance(sheet: Sheet, model: StatementModel): void {
  const money = (amountMinor: bigint) => moneyWords(amountMinor, model.currency);
  const column = (header: string) => ({ header, width: (sheet.width - 40) / 5, figure: true });
  const closing: Cell =
    model.closingMinor < 0n
      ? [
          { text: money(model.closingMinor), style: styles.strong },
          { text: 'a credit', style: styles.small },
        ]
      : [{ text: money(model.closingMinor), style: styles.strong }];
  drawTable(sheet, child(sheet, sheet.root, 'Sect'), {
    heading: { words: 'Balance', role: 'H2' },
    whole: true,
    columns: [
      column('Opening balance'),
      column('+ Charges'),
      column('− Credits'),
      column('− Payments'),
      column('= Closing balance'),
    ],
    rows: [
      [
        money(model.openingMinor),
        money(model.chargesMinor),
        money(model.creditsMinor),
        money(model.paymentsMinor),
        closing,
      ],
    ],
  });
  sheet.y += 18;
}

function drawContent(sheet: Sheet, model: StatementModel): void {
  const { content } = model;
  if (content.kind === 'open_item') drawItems(sheet, model, content.items);
  else drawEntries(sheet, model, content.entries);
  sheet.y += 18;
}

function drawItems(sheet: Sheet, model: StatementModel, items: readonly StatementItem[]): void {
  const section = child(sheet, sheet.root, 'Sect');
  const heading = { words: `Open as of ${dayWords(model.to)}`, role: 'H2' } as const;
  if (items.length === 0) {
    drawNothing(sheet, heading.words, 'Nothing is open: every invoice up to then is settled.');
    return;
  }
  const money = (amountMinor: bigint) => moneyWords(amountMinor, model.currency);
  const total = (amount: (item: StatementItem) => bigint) => money(sumMinor(items.map(amount)));
  drawTable(sheet, section, {
    heading,
    columns: [
      { header: 'Date', width: 56 },
      { header: 'Number', width: 56, names: true },
      { header: 'Your numbers', width: 'rest' },
      { header: 'Due', width: 56 },
      { header: 'Days late', width: 36, figure: true },
      { header: 'Amount', width: 58, figure: true },
      { header: 'Paid or credited', width: 58, figure: true },
      { header: 'Open', width: 60, figure: true },
    ],
    rows: items.map((item) => [
      dayWords(item.issuedOn),
      item.number,
      [{ text: item.theirNumbers, style: styles.aside }],
      dayWords(item.dueOn),
      item.daysPastDue === 0 ? 'not due' : String(item.daysPastDue),
      money(item.amountMinor),
      money(-item.settledMinor),
      openCell(item, money),
    ]),
    totals: [
      [
        '',
        'Total',
        '',
        '',
        '',
        total((item) => item.amountMinor),
        total((item) => -item.settledMinor),
        total((item) => item.openMinor),
      ],
    ],
  });
}

function openCell(item: StatementItem, money: (amountMinor: bigint) => string): Cell {
  if (item.disputedMinor === 0n) return money(item.openMinor);
  return [
    { text: money(item.openMinor), style: styles.body },
    { text: `disputed ${money(item.disputedMinor)}`, style: styles.notice },
  ];
}

function drawEntries(sheet: Sheet, model: StatementModel, entries: readonly StatementEntry[]): void {
  const money = (amountMinor: bigint) => moneyWords(amountMinor, model.currency);
  let balanceMinor = model.openingMinor;
  const rows = entries.map((entry): readonly Cell[] => {
    balanceMinor += entry.amountMinor;
    const words = `${entry.words} ${entry.document}`.trimEnd();
    return [dayWords(entry.on), words, entry.theirNumbers, money(entry.amountMinor), money(balanceMinor)];
  });
  drawTable(sheet, child(sheet, sheet.root, 'Sect'), {
    heading: { words: 'What happened this month', role: 'H2' },
    columns: [
      { header: 'Date', width: 62 },
      { header: 'Entry', width: 'rest', names: true },
      { header: 'Your numbers', width: 120 },
      { header: 'Amount', width: 72, figure: true },
      { header: 'Balance', width: 76, figure: true },
    ],
    rows: [[dayWords(model.from), 'Opening balance', '', '', money(model.openingMinor)], ...rows],
    totals: [[dayWords(model.to), 'Closing balance', '', '', money(model.closingMinor)]],
  });
}

function drawNothing(sheet: Sheet, heading: string, words: string): void {
  makeRoom(sheet, styles.heading.leading + styles.body.leading);
  const section = child(sheet, sheet.root, 'Sect');
  paragraph(sheet, section, { text: heading, style: styles.heading, role: 'H2' });
  paragraph(sheet, section, { text: words, style: styles.body });
}

/** What is owed by age; below it, what credit there is and how both come to the closing balance. Nothing owed, no table. */
function drawAging(sheet: Sheet, model: StatementModel, hold: number): void {
  const { aging, currency, closingMinor } = model;
  const amounts = agingBuckets.map((bucket) => aging.buckets[bucket]);
  if (amounts.every((amountMinor) => amountMinor === 0n)) return;
  const largestMinor = amounts.toSorted((a, b) => (a < b ? -1 : 1)).at(-1) ?? 0n;
  const width = 260;
  const barLeft = sheet.left + width + 16;
  const barSpan = sheet.width - width - 16;
  const credit =
    aging.unappliedMinor === 0n
      ? []
      : [
          ['Credit not yet applied', moneyWords(aging.unappliedMinor, currency)],
          ['Closing balance', moneyWords(closingMinor, currency)],
        ];
  drawTable(sheet, child(sheet, sheet.root, 'Sect'), {
    heading: { words: agingHeadings[aging.basis], role: 'H2' },
    whole: true,
    hold: hold + afterAging,
    width,
    columns: [
      { header: 'Age', width: 'rest', names: true },
      { header: 'Open', width: 90, figure: true },
    ],
    rows: agingBuckets.map((bucket) => [
      agingBucketNames[bucket],
      moneyWords(aging.buckets[bucket], currency),
    ]),
    totals: [['Total open', moneyWords(sumMinor(amounts), currency)], ...credit],
    beside: (row, box) => {
      const share = shareOf(amounts[row] ?? 0n, largestMinor);
      if (share === 0) return;
      drawBar(sheet, { x: barLeft, y: box.y + 4, width: barSpan * share, height: box.height - 8 }, row > 0);
    },
  });
  sheet.y += afterAging;
}

const afterAging = 14;

const agingHeadings = {
  due_date: 'Open by days past due',
  document_date: 'Open by days since the invoice',
} as const;

/** In thousandths; one at least where there is anything at all. */
function shareOf(amountMinor: bigint, largestMinor: bigint): number {
  if (amountMinor <= 0n) return 0;
  return Math.max(1, Number((amountMinor * 1000n) / largestMinor)) / 1000;
}

/** Hollow for what is not due yet. */
function drawBar(
  sheet: Sheet,
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  overdue: boolean,
): void {
  decorate(sheet, () => {
    const bar = sheet.pdf.lineWidth(0.8).rect(box.x, box.y, box.width, box.height);
    if (overdue) bar.fillAndStroke(colors.thread, colors.thread);
    else bar.stroke(colors.thread);
  });
}

function asideWords(model: StatementModel): readonly string[] {
  const money = (amountMinor: bigint) => moneyWords(amountMinor, model.currency);
  const { aging, depositsHeldMinor, replacement, sealedDay, publicUrl } = model;
  return [
    ...(aging.unappliedMinor === 0n
      ? []
      : [
          `${money(-aging.unappliedMinor)} of credit is not yet applied to an invoice. It is part of the closing balance.`,
        ]),
    ...(depositsHeldMinor === 0n
      ? []
      : [
          `We hold ${money(depositsHeldMinor)} in deposits for work not yet invoiced. They are not part of the balance.`,
        ]),
    ...(replacement === null || replacement.vehicles === 0 ? [] : [savingsWords(replacement, money)]),
    ...(sealedDay === null ? [] : sealedDayWords(sealedDay, publicUrl)),
  ];
}

function asidesHeight(sheet: Sheet, asides: readonly string[]): number {
  if (asides.length === 0) return 0;
  const lines = asides.flatMap((text) => linesOf(sheet.pdf, text, styles.body, sheet.width));
  return lines.length * styles.body.leading + asides.length * betweenAsides + afterAsides;
}

const betweenAsides = 4;
const afterAsides = 8;

function drawAsides(sheet: Sheet, asides: readonly string[]): void {
  if (asides.length === 0) return;
  const section = child(sheet, sheet.root, 'Sect');
  for (const text of asides) {
    paragraph(sheet, section, { text, style: styles.body });
    sheet.y += betweenAsides;
  }
  sheet.y += afterAsides;
}

function savingsWords(
  quoted: NonNullable<StatementModel['replacement']>,
  money: (amountMinor: bigint) => string,
): string {
  const vehicles = quoted.vehicles === 1 ? 'one vehicle' : `${quoted.vehicles} vehicles`;
  const savedMinor = quoted.quotedMinor - quoted.repairsMinor;
  const saved = savedMinor > 0n ? ` That is ${money(savedMinor)} less.` : '';
  return `New parts for ${vehicles} invoiced this month were quoted at ${money(quoted.quotedMinor)}; the repairs came to ${money(quoted.repairsMinor)}, before trip and tax.${saved}`;
}

/** A balance in the customer’s favor is a credit, not a bill. */
function closingWords(model: StatementModel): Closing {
  const { closingMinor, currency, to, content } = model;
  if (closingMinor < 0n)
    return {
      words: `Credit balance ${moneyWords(-closingMinor, currency)}: nothing to pay. Ask for a refund or use it on the next invoice.`,
      under: [],
    };
  if (closingMinor === 0n) return { words: `Nothing is owed as of ${dayWords(to)}.`, under: [] };
  const disputedMinor =
    content.kind === 'open_item' ? sumMinor(content.items.map((item) => item.disputedMinor)) : 0n;
  return {
    words: `${moneyWords(closingMinor, currency)} owed as of ${dayWords(to)}`,
    under: disputedMinor === 0n ? [] : [`Of it, ${moneyWords(disputedMinor, currency)} is disputed.`],
  };
}
