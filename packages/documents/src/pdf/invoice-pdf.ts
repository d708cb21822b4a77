import { sumMinor } from '@grainwright/domain';
import { closingHeight, drawClosing, drawNote, drawSums, type Sum } from './closing.ts';
import { dayWords, moneyWords } from './figures.ts';
import type { DocumentAcceptance, InvoiceLine, InvoiceModel, InvoiceVehicle } from './invoice-model.ts';
import { drawLetterhead } from './letterhead.ts';
import { drawPictures } from './pictures.ts';
import { child, madeSheet, paragraph, type Sheet } from './sheet.ts';
import { styles } from './styles.ts';
import { type Cell, drawTable } from './table.ts';
import { taxWords } from './tax-words.ts';

/**
 * An invoice as a tagged PDF, as it was issued; its pictures at the end. The same model gives the same bytes. Throws
 * when the model’s figures do not add up.
 */
export async function invoicePdf(model: InvoiceModel): Promise<Uint8Array> {
  assertAddsUp(model);
  const { size, seller, buyer, number, issuedOn } = model;
  const facts = {
    size,
    title: `Invoice ${number}, ${buyer.name}`,
    author: seller.name,
    on: issuedOn,
    foot: `${seller.name} · Invoice ${number} · ${buyer.name}`,
    lastFoot: '',
  };
  return madeSheet(facts, (sheet) => {
    drawLetterhead(sheet, {
      seller,
      buyer,
      title: 'Invoice',
      subtitle: number,
      facts: [
        { term: 'Issued', value: dayWords(issuedOn) },
        { term: 'Due', value: dayWords(model.dueOn) },
        ...(model.workedOn === null ? [] : [{ term: 'Worked', value: dayWords(model.workedOn) }]),
        ...model.theirNumbers,
      ],
    });
    for (const vehicle of model.vehicles) drawVehicle(sheet, vehicle, model.currency);
    drawCharges(sheet, model);
    const closing = { words: closingWords(model), under: [] };
    drawSums(sheet, sumsOf(model), closingHeight(sheet, closing));
    drawClosing(sheet, closing);
    drawNote(sheet, model.note);
    for (const vehicle of model.vehicles) drawPictures(sheet, vehicle.vehicle, vehicle);
  });
}

function assertAddsUp(model: InvoiceModel): void {
  const { vehicles, charges, netMinor, taxes, taxMinor, totalMinor, deposits, dueMinor } = model;
  const sums: readonly (readonly [string, bigint, bigint])[] = [
    ...vehicles.map(
      ({ vehicle, lines, subtotalMinor }) =>
        [vehicle, sumMinor(lines.map((line) => line.netMinor)), subtotalMinor] as const,
    ),
    [
      'before tax',
      sumMinor([
        ...vehicles.map((vehicle) => vehicle.subtotalMinor),
        ...charges.map((charge) => charge.netMinor),
      ]),
      netMinor,
    ],
    ['tax', sumMinor(taxes.map((tax) => tax.taxMinor)), taxMinor],
    ['total', netMinor + taxMinor, totalMinor],
    ['due', totalMinor - sumMinor(deposits.map((deposit) => deposit.amountMinor)), dueMinor],
  ];
  for (const [name, added, printed] of sums)
    if (added !== printed)
      throw new Error(`invoice ${model.number}, ${name}: the parts come to ${added}, not to ${printed}`);
}

function drawVehicle(sheet: Sheet, vehicle: InvoiceVehicle, currency: string): void {
  const section = child(sheet, sheet.root, 'Sect');
  const { lines } = vehicle;
  const total = (amount: (line: InvoiceLine) => bigint) => moneyWords(sumMinor(lines.map(amount)), currency);
  drawTable(sheet, section, {
    heading: { words: vehicle.vehicle, role: 'H2', under: vehicle.numbers },
    columns: [
      { header: 'Code', width: 76, names: true },
      { header: 'Repair', width: 'rest' },
      { header: 'Labor', width: 66, figure: true },
      { header: 'Materials', width: 62, figure: true },
      { header: 'Amount', width: 70, figure: true },
    ],
    rows: lines.map((line) => [
      line.code,
      lineCell(line),
      moneyWords(line.laborMinor, currency),
      moneyWords(line.materialsMinor, currency),
      moneyWords(line.netMinor, currency),
    ]),
    totals: [
      [
        'This vehicle',
        '',
        total((line) => line.laborMinor),
        total((line) => line.materialsMinor),
        moneyWords(vehicle.subtotalMinor, currency),
      ],
    ],
  });
  if (vehicle.acceptance !== null) {
    sheet.y += 4;
    paragraph(sheet, section, { text: acceptanceWords(vehicle.acceptance), style: styles.body });
  }
  sheet.y += 18;
}

function lineCell({ description, trail }: InvoiceLine): Cell {
  return [
    { text: description, style: styles.body },
    { text: trail, style: styles.small },
  ];
}

function acceptanceWords({ outcome, name, role, on, remark }: DocumentAcceptance): string {
  const by = [name, role, dayWords(on)].filter((part) => part !== '').join(', ');
  return `${outcome} by ${by}.${remark === '' ? '' : ` “${remark}”`}`;
}

function drawCharges(sheet: Sheet, { charges, currency }: InvoiceModel): void {
  if (charges.length === 0) return;
  drawTable(sheet, child(sheet, sheet.root, 'Sect'), {
    heading: { words: 'For the visit', role: 'H2' },
    columns: [
      { header: 'Code', width: 76, names: true },
      { header: 'Charge', width: 'rest' },
      { header: 'Amount', width: 70, figure: true },
    ],
    rows: charges.map((line) => [line.code, lineCell(line), moneyWords(line.netMinor, currency)]),
  });
  sheet.y += 18;
}

function sumsOf(model: InvoiceModel): readonly Sum[] {
  const { vehicles, charges, netMinor, totalMinor, dueMinor, deposits } = model;
  const money = (amountMinor: bigint) => moneyWords(amountMinor, model.currency);
  const lines = [...vehicles.flatMap((vehicle) => vehicle.lines), ...charges];
  const laborMinor = sumMinor(lines.map((line) => line.laborMinor));
  const materialsMinor = sumMinor(lines.map((line) => line.materialsMinor));
  const otherMinor = netMinor - laborMinor - materialsMinor;
  const due =
    deposits.length === 0
      ? []
      : [
          ...deposits.map(({ words, amountMinor }) => ({ term: words, value: money(-amountMinor) })),
          { term: 'Due', value: money(dueMinor), strong: true },
        ];
  return [
    { term: 'Labor', value: money(laborMinor) },
    { term: 'Materials', value: money(materialsMinor) },
    ...(otherMinor === 0n ? [] : [{ term: 'Trip and fees', value: money(otherMinor) }]),
    { term: 'Before tax', value: money(netMinor) },
    ...model.taxes
      .filter((tax) => tax.baseMinor !== 0n)
      .map((tax) => ({ term: taxWords(tax, model.currency), value: money(tax.taxMinor) })),
    ...model.exemptions.map(({ words, baseMinor }) => ({
      term: `${words}, on ${money(baseMinor)}`,
      value: money(0n),
    })),
    { term: 'Total', value: money(totalMinor), strong: true },
    ...due,
  ];
}

function closingWords({ dueMinor, currency, dueOn }: InvoiceModel): string {
  if (dueMinor <= 0n) return 'Nothing is due. Thank you.';
  return `${moneyWords(dueMinor, currency)} due by ${dayWords(dueOn)}`;
}
