import { type Day, sumMinor } from '@grainwright/domain';
import { closingHeight, drawClosing, drawNote, drawSums } from './closing.ts';
import { dayWords, moneyWords } from './figures.ts';
import type { DocumentTax } from './invoice-model.ts';
import { type DocumentParty, type DocumentSeller, drawLetterhead } from './letterhead.ts';
import { child, madeSheet, makeRoom, type PageSize, paragraph, type Sheet } from './sheet.ts';
import { styles } from './styles.ts';
import { drawTable } from './table.ts';
import { taxWords } from './tax-words.ts';

/** A credit note as it is printed. Amounts are minor units of `currency`, above zero for what is taken back. */
export interface CreditNoteModel {
  readonly size: PageSize;
  readonly seller: DocumentSeller;
  readonly buyer: DocumentParty;
  readonly number: string;
  readonly issuedOn: Day;
  readonly invoice: { readonly number: string; readonly issuedOn: Day };
  readonly currency: string;
  readonly reason: string;
  readonly lines: readonly CreditNoteLine[];
  readonly taxes: readonly DocumentTax[];
  readonly netMinor: bigint;
  readonly taxMinor: bigint;
  /** `netMinor + taxMinor`. */
  readonly totalMinor: bigint;
  /** How the credit was reckoned: the invoice as issued less the invoice as it should have been. May be empty. */
  readonly explanation: string;
  readonly note: string;
}

export interface CreditNoteLine {
  readonly code: string;
  readonly description: string;
  /** Which vehicle it was on; empty for what the visit added. */
  readonly vehicle: string;
  readonly netMinor: bigint;
}

/** A credit note as a tagged PDF. The same model gives the same bytes. Throws when its figures do not add up. */
export async function creditNotePdf(model: CreditNoteModel): Promise<Uint8Array> {
  assertAddsUp(model);
  const { size, seller, buyer, number, issuedOn, invoice } = model;
  const facts = {
    size,
    title: `Credit note ${number}, ${buyer.name}`,
    author: seller.name,
    on: issuedOn,
    foot: `${seller.name} · Credit note ${number} · ${buyer.name}`,
    lastFoot: '',
  };
  return madeSheet(facts, (sheet) => {
    drawLetterhead(sheet, {
      seller,
      buyer,
      title: 'Credit note',
      subtitle: number,
      facts: [
        { term: 'Issued', value: dayWords(issuedOn) },
        { term: 'For invoice', value: `${invoice.number} of ${dayWords(invoice.issuedOn)}` },
      ],
    });
    drawReason(sheet, model.reason);
    drawLines(sheet, model);
    const credited = moneyWords(model.totalMinor, model.currency);
    const closing = {
      words: `${credited} credited to invoice ${invoice.number}`,
      under: model.explanation === '' ? [] : [model.explanation],
    };
    drawSums(sheet, sumsOf(model), closingHeight(sheet, closing));
    drawClosing(sheet, closing);
    drawNote(sheet, model.note);
  });
}

function assertAddsUp(model: CreditNoteModel): void {
  const { number, lines, taxes, netMinor, taxMinor, totalMinor } = model;
  const linesMinor = sumMinor(lines.map((line) => line.netMinor));
  const taxesMinor = sumMinor(taxes.map((tax) => tax.taxMinor));
  if (linesMinor !== netMinor || taxesMinor !== taxMinor || netMinor + taxMinor !== totalMinor)
    throw new Error(`credit note ${number}: ${linesMinor} and ${taxesMinor} tax do not make ${totalMinor}`);
}

function drawReason(sheet: Sheet, reason: string): void {
  makeRoom(sheet, styles.heading.leading + styles.body.leading);
  const section = child(sheet, sheet.root, 'Sect');
  paragraph(sheet, section, { text: 'Reason', style: styles.heading, role: 'H2' });
  paragraph(sheet, section, { text: reason, style: styles.body });
  sheet.y += 18;
}

function drawLines(sheet: Sheet, { lines, currency }: CreditNoteModel): void {
  if (lines.length === 0) return;
  drawTable(sheet, child(sheet, sheet.root, 'Sect'), {
    heading: { words: 'Taken back', role: 'H2' },
    columns: [
      { header: 'Code', width: 76, names: true },
      { header: 'Line', width: 'rest' },
      { header: 'Credit', width: 80, figure: true },
    ],
    rows: lines.map((line) => [
      line.code,
      [
        { text: line.description, style: styles.body },
        { text: line.vehicle, style: styles.small },
      ],
      moneyWords(line.netMinor, currency),
    ]),
  });
  sheet.y += 18;
}

function sumsOf({ netMinor, taxes, totalMinor, currency }: CreditNoteModel) {
  return [
    { term: 'Before tax', value: moneyWords(netMinor, currency) },
    ...taxes.map((tax) => ({ term: taxWords(tax, currency), value: moneyWords(tax.taxMinor, currency) })),
    { term: 'Total credit', value: moneyWords(totalMinor, currency), strong: true },
  ];
}
