import { sumMinor } from '@grainwright/domain';
import type { EvidenceLine, EvidencePackModel, EvidencePrices } from './evidence-pack-model.ts';
import {
  type Across,
  boxesWidth,
  drawEvidencePictures,
  drawRow,
  rowHeight,
} from './evidence-pack-pictures.ts';
import { drawAnswers, drawProof } from './evidence-pack-proof.ts';
import { drawFacts, factsHeight } from './facts.ts';
import { dayWords, moneyWords } from './figures.ts';
import { drawLetterhead } from './letterhead.ts';
import { child, madeSheet, makeRoom, paragraph, type Sheet } from './sheet.ts';
import { styles } from './styles.ts';
import { drawTable } from './table.ts';

/**
 * The proof of one repair as a tagged PDF: on two pages where it can be, else on as few as it needs, its pictures as
 * large as those allow. The same model gives the same bytes. Throws where the prices do not add up.
 */
export async function evidencePackPdf(model: EvidencePackModel): Promise<Uint8Array> {
  if (model.prices !== null) assertAddsUp(model.number, model.prices);
  let best = await madeEvidence(model, 2);
  for (const across of [3, 4] as const) {
    if (best.pages <= pagesWanted) break;
    const next = await madeEvidence(model, across);
    if (next.pages < best.pages) best = next;
  }
  return best.bytes;
}

const pagesWanted = 2;

async function madeEvidence(
  model: EvidencePackModel,
  across: Across,
): Promise<{ readonly pages: number; readonly bytes: Uint8Array }> {
  const { size, seller, buyer, number, asOf } = model;
  const facts = {
    size,
    title: `Evidence of ${number}, ${buyer.name}`,
    author: seller.name,
    on: asOf,
    foot: `${seller.name} · Evidence of ${number} · ${buyer.name} · as of ${dayWords(asOf)}`,
    lastFoot: '',
  };
  let pages = 0;
  const bytes = await madeSheet(facts, (sheet) => {
    const head = { seller, buyer, title: 'Evidence', subtitle: number, facts: model.facts };
    drawLetterhead(sheet, { ...head, compact: true });
    drawVehicle(sheet, model, across);
    for (const line of model.lines) drawLine(sheet, line, across);
    if (model.prices !== null) drawPrices(sheet, model.prices);
    drawAnswers(sheet, model.answers);
    drawProof(sheet, model.proof);
    pages = sheet.pdf.bufferedPageRange().count;
  });
  return { pages, bytes };
}

function assertAddsUp(number: string, { rows, totalMinor }: EvidencePrices): void {
  const added = sumMinor(rows.map(({ amountMinor }) => amountMinor ?? 0n));
  if (added !== totalMinor)
    throw new Error(`evidence of ${number}: the parts come to ${added}, not to ${totalMinor}`);
}

/** What it is and how it stood there: beside each other where there is room for both. */
function drawVehicle(sheet: Sheet, { vehicle, vehiclePictures }: EvidencePackModel, across: Across): void {
  const section = child(sheet, sheet.root, 'Sect');
  const free = across - vehiclePictures.length;
  const isBeside = vehiclePictures.length > 0 && free > 1;
  const width = isBeside ? boxesWidth(sheet, across, free) : sheet.width;
  const { y } = sheet;
  paragraph(sheet, section, { text: vehicle.words, style: styles.heading, role: 'H2', width });
  drawFacts(sheet, section, vehicle.facts, { dense: true, width });
  sheet.y += 4;
  const { words: of } = vehicle;
  if (isBeside) {
    const factsEnd = sheet.y;
    sheet.y = y;
    drawRow(sheet, section, of, { pictures: vehiclePictures, across, free });
    sheet.y = Math.max(sheet.y, factsEnd);
  } else drawEvidencePictures(sheet, section, { of, pictures: vehiclePictures, further: 0 }, across);
  sheet.y += 6;
}

/** Heading, facts and the first row of pictures stay together. */
function drawLine(sheet: Sheet, line: EvidenceLine, across: Across): void {
  const { name: of, pictures, furtherPictures: further } = line;
  const first = rowHeight(sheet, { pictures: pictures.slice(0, across), across });
  makeRoom(sheet, styles.heading.leading + factsHeight(sheet, line.facts) + 4 + first);
  const section = child(sheet, sheet.root, 'Sect');
  paragraph(sheet, section, { text: of, style: styles.heading, role: 'H2' });
  drawFacts(sheet, section, line.facts, { dense: true });
  sheet.y += 4;
  drawEvidencePictures(sheet, section, { of, pictures, further }, across);
  sheet.y += 6;
}

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
    hold: againstNewPart.length * 2 * styles.body.leading,
  });
  sheet.y += 4;
  for (const text of againstNewPart) paragraph(sheet, section, { text, style: styles.body });
  sheet.y += 10;
}
