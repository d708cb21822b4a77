import type { EvidenceAnswer, EvidenceProof, EvidenceSignature } from './evidence-pack-model.ts';
import { drawFacts, factsHeight } from './facts.ts';
import { dayWords } from './figures.ts';
import { child, type Element, makeRoom, type Sheet } from './sheet.ts';
import { colors, styles } from './styles.ts';
import { type CellPart, drawTable } from './table.ts';

/** Who said what, in the order in which they did, each with the mark that they made. */
export function drawAnswers(sheet: Sheet, answers: readonly EvidenceAnswer[]): void {
  for (const answer of answers) drawAnswer(sheet, answer);
}

function drawAnswer(sheet: Sheet, { heading, facts, signature, answered }: EvidenceAnswer): void {
  const section = child(sheet, sheet.root, 'Sect');
  const width = signature === null ? sheet.width : sheet.width - signatureBox.width - 12;
  const factsEnd = styles.heading.leading + factsHeight(sheet, facts, { width });
  const signatureEnd = signature === null ? 0 : signatureBox.height;
  makeRoom(sheet, Math.max(factsEnd, signatureEnd) + factsHeight(sheet, answered, { style: styles.fine }));
  const { y, pdf } = sheet;
  const { page } = pdf;
  drawFacts(sheet, section, facts, { dense: true, width, heading: { words: heading, role: 'H2' } });
  // Facts of more than a page: the mark goes below them then.
  const top = pdf.page === page ? y : sheet.y;
  if (signature !== null) {
    drawSignature(sheet, section, signature, { x: sheet.left + width + 12, y: top });
    sheet.y = Math.max(sheet.y, top + signatureBox.height);
  }
  drawFacts(sheet, section, answered, { dense: true, style: styles.fine });
  sheet.y += 9;
}

const signatureBox = { width: 150, height: 60 } as const;

/** The strokes as they were drawn, as a figure with the signer’s name. */
function drawSignature(
  sheet: Sheet,
  section: Element,
  { name, path, viewBox }: EvidenceSignature,
  { x, y }: { readonly x: number; readonly y: number },
): void {
  const [left = 0, top = 0, width = 1, height = 1] = viewBox.split(' ').map(Number);
  const scale = Math.min(signatureBox.width / width, signatureBox.height / height, 1);
  // The types of pdfkit leave out what its structure elements take for figures.
  const options: PDFKit.Mixins.StructureElementOptions & { placement: string; bbox: readonly number[] } = {
    alt: `Signature of ${name}`,
    placement: 'Block',
    bbox: [x, y, x + signatureBox.width, y + signatureBox.height],
  };
  const figure = sheet.pdf.struct('Figure', options);
  section.add(figure);
  figure.add(() => {
    sheet.pdf
      .save()
      .translate(x, y)
      .scale(scale)
      .translate(-left, -top)
      .lineWidth(2)
      .lineCap('round')
      .lineJoin('round')
      .path(path)
      .stroke(colors.ink)
      .restore();
  });
}

/** How anybody checks it, and the digests of everything that was sealed, in one block at the end. */
export function drawProof(sheet: Sheet, proof: EvidenceProof): void {
  const section = child(sheet, sheet.root, 'Sect');
  drawHowToCheck(sheet, section, proof);
  const rows = (kind: string, of: EvidenceProof['seals']) =>
    of.map(({ number, words, sha256 }) => [
      inDigests(`${kind} ${number}`),
      inDigests(words),
      inDigests(sha256),
    ]);
  drawTable(sheet, section, {
    heading: {
      words: 'Digests',
      role: 'H2',
      under: [
        'A seal is signed, holds an answer with all that it was given to, and names the seal before it. A picture’s is that of the file as taken.',
        ...proof.picturesSealed,
      ].join(' '),
    },
    dense: true,
    columns: [
      { header: 'Of', width: 46, names: true },
      { header: 'What', width: 'rest' },
      { header: 'SHA-256', width: digestWidth },
    ],
    rows: [...rows('Seal', proof.seals), ...rows('Picture', proof.pictures)],
  });
}

const digestWidth = 258;

function inDigests(text: string): readonly CellPart[] {
  return [{ text, style: styles.digest }];
}

function drawHowToCheck(sheet: Sheet, section: Element, { day, keyId, howToCheck }: EvidenceProof): void {
  const facts = [
    ...(day === null
      ? []
      : [
          ['Sealed day', dayWords(day.day)],
          ['Its root', day.root],
          ['Its digest', day.sha256],
        ]),
    ['Signing key', keyId],
  ];
  drawTable(sheet, section, {
    heading: { words: 'How to check this', role: 'H2', under: howToCheck.join(' ') },
    header: false,
    dense: true,
    whole: true,
    columns: [
      { header: '', width: 46, names: true },
      { header: '', width: 'rest' },
    ],
    rows: facts.map((words) => words.map(inDigests)),
  });
  sheet.y += 10;
}
