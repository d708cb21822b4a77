import { sumMinor } from '@grainwright/domain';
import type { EvidenceLine, EvidencePackModel, EvidencePrices } from './evidence-pack-model.ts';
import { drawEvidencePictures, picturesHeight } from './evidence-pack-pictures.ts';
import { drawAnswers, drawProof } from './evidence-pack-proof.ts';
import { dayWords, moneyWords } from './figures.ts';
import { type DocumentFact, drawLetterhead } from './letterhead.ts';
import { child, type Element, madeSheet, makeRoom, paragraph, type Sheet } from './sheet.ts';
import { styles, type TextStyle } from './styles.ts';
import { drawTable } from './table.ts';
import { linesOf } from './text.ts';

/**
 * The proof of one repair as a tagged PDF. The same model gives the same bytes. Throws where the prices do not add up.
 */
export async function evidencePackPdf(model: EvidencePackModel): Promise<Uint8Array> {
  const { size, seller, buyer, number, asOf } = model;
  if (model.prices !== null) assertAddsUp(number, model.prices);
  const facts = {
    size,
    title: `Evidence of ${number}, ${buyer.name}`,
    author: seller.name,
    on: asOf,
    foot: `${seller.name} · Evidence of ${number} · ${buyer.name} · as of ${dayWords(asOf)}`,
    lastFoot: '',
  };
  return madeSheet(facts, (sheet) => {
    drawLetterhead(sheet, { seller, buyer, title: 'Evidence', subtitle: number, facts: model.facts });
    drawVehicle(sheet, model);
    for (const line of model.lines) drawLine(sheet, line);
    if (model.prices !== null) drawPrices(sheet, model.prices);
    drawAnswers(sheet, model.answers);
    drawProof(sheet, model.proof);
  });
}

function assertAddsUp(number: string, { rows, totalMinor }: EvidencePrices): void {
  const added = sumMinor(rows.map(({ amountMinor }) => amountMinor ?? 0n));
  if (added !== totalMinor)
    throw new Error(`evidence of ${number}: the parts come to ${added}, not to ${totalMinor}`);
}

function drawVehicle(sheet: Sheet, { vehicle, vehiclePictures }: EvidencePackModel): void {
  const section = child(sheet, sheet.root, 'Sect');
  paragraph(sheet, section, { text: vehicle.words, style: styles.heading, role: 'H2' });
  drawFacts(sheet, section, vehicle.facts);
  sheet.y += 6;
  drawEvidencePictures(sheet, section, { of: vehicle.words, pictures: vehiclePictures, further: 0 });
  sheet.y += 8;
}

/** Heading, facts and the first row of pictures stay together. */
function drawLine(sheet: Sheet, line: EvidenceLine): void {
  const factsHeight = line.facts.reduce((sum, { value }) => {
    return sum + linesOf(sheet.pdf, value, styles.body, sheet.width - 92).length * styles.body.leading + 6;
  }, 0);
  const first = line.pictures.slice(0, 3);
  makeRoom(sheet, styles.heading.leading + factsHeight + picturesHeight(sheet, first) + 4);
  const section = child(sheet, sheet.root, 'Sect');
  paragraph(sheet, section, { text: line.name, style: styles.heading, role: 'H2' });
  drawFacts(sheet, section, line.facts);
  sheet.y += 6;
  const { name: of, pictures, furtherPictures: further } = line;
  drawEvidencePictures(sheet, section, { of, pictures, further });
  sheet.y += 8;
}

function drawFacts(sheet: Sheet, section: Element, facts: readonly DocumentFact[]): void {
  if (facts.length === 0) return;
  drawTable(sheet, section, {
    header: false,
    columns: [
      { header: '', width: 82, names: true },
      { header: '', width: 'rest' },
    ],
    rows: facts.map(({ term, value }) => [[{ text: term, style: quietBody }], value]),
  });
}

const quietBody: TextStyle = { ...styles.body, color: styles.small.color };

function drawPrices(sheet: Sheet, prices: EvidencePrices): void {
  const { currency, rows, totalMinor, againstNewPart } = prices;
  const section = child(sheet, sheet.root, 'Sect');
  drawTable(sheet, section, {
    heading: { words: 'What was approved, and for how much', role: 'H2' },
    columns: [
      { header: 'Work', width: 'rest', names: true },
      { header: 'Answer', width: 150 },
      { header: 'Amount', width: 80, figure: true },
    ],
    rows: rows.map(({ words, answer, amountMinor }) => [
      words,
      answer,
      amountMinor === null ? 'not billed' : moneyWords(amountMinor, currency),
    ]),
    totals: [['Approved', '', moneyWords(totalMinor, currency)]],
    hold: againstNewPart.length * styles.body.leading,
  });
  sheet.y += 5;
  for (const text of againstNewPart) paragraph(sheet, section, { text, style: styles.body });
  sheet.y += 14;
}
