import type { EvidenceAnswer, EvidenceProof, EvidenceSignature } from './evidence-pack-model.ts';
import { dayWords } from './figures.ts';
import { child, type Element, makeRoom, paragraph, type Sheet } from './sheet.ts';
import { colors, styles } from './styles.ts';
import { drawTable } from './table.ts';
import { linesOf } from './text.ts';

/** Who said what, in the order in which they did, each with the mark that they made. */
export function drawAnswers(sheet: Sheet, answers: readonly EvidenceAnswer[]): void {
  for (const answer of answers) {
    const section = child(sheet, sheet.root, 'Sect');
    const factsHeight = answer.facts.reduce((sum, { value }) => {
      return sum + linesOf(sheet.pdf, value, styles.body, sheet.width - 92).length * styles.body.leading + 5;
    }, 0);
    const signatureHeight = answer.signature === null ? 0 : signatureBox.height + 6;
    makeRoom(sheet, styles.heading.leading + factsHeight + signatureHeight);
    drawTable(sheet, section, {
      heading: { words: answer.heading, role: 'H2' },
      header: false,
      whole: true,
      columns: [
        { header: '', width: 82, names: true },
        { header: '', width: 'rest' },
      ],
      rows: answer.facts.map(({ term, value }) => [
        [{ text: term, style: { ...styles.body, color: colors.quiet } }],
        value,
      ]),
    });
    sheet.y += 4;
    if (answer.signature !== null) drawSignature(sheet, section, answer.signature);
    sheet.y += 12;
  }
}

const signatureBox = { width: 180, height: 44 } as const;

/** The strokes as they were drawn, as a figure with the signer’s name. */
function drawSignature(sheet: Sheet, section: Element, { name, path, viewBox }: EvidenceSignature): void {
  const [left = 0, top = 0, width = 1, height = 1] = viewBox.split(' ').map(Number);
  const scale = Math.min(signatureBox.width / width, signatureBox.height / height, 1);
  const [x, y] = [sheet.left, sheet.y];
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
  sheet.y += signatureBox.height + 2;
}

/** How anybody checks it, and the digests of everything that was sealed. */
export function drawProof(sheet: Sheet, proof: EvidenceProof): void {
  const section = child(sheet, sheet.root, 'Sect');
  const columns = (first: string) => [
    { header: 'No.', width: 34, names: true },
    { header: first, width: 'rest' as const },
    { header: 'SHA-256', width: 292 },
  ];
  const rows = (of: EvidenceProof['seals']) =>
    of.map(({ number, words, sha256 }) => [
      [{ text: String(number), style: styles.small }],
      [{ text: words, style: styles.small }],
      [{ text: sha256, style: styles.small }],
    ]);
  drawHowToCheck(sheet, section, proof);
  drawTable(sheet, section, {
    heading: {
      words: 'Seals',
      role: 'H2',
      under:
        'Each seal holds an answer with all that it was given to, is signed, and names the seal before it.',
    },
    columns: columns('Seal'),
    rows: rows(proof.seals),
  });
  sheet.y += 12;
  if (proof.pictures.length > 0) {
    drawTable(sheet, section, {
      heading: {
        words: 'Pictures',
        role: 'H2',
        under:
          'The digest of each picture as it was taken, byte for byte. Any change to it gives another digest.',
      },
      columns: columns('Picture'),
      rows: rows(proof.pictures),
    });
  }
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
    heading: { words: 'How to check this', role: 'H2' },
    header: false,
    whole: true,
    hold: howToCheck.length * 2 * styles.body.leading,
    columns: [
      { header: '', width: 82, names: true },
      { header: '', width: 'rest' },
    ],
    rows: facts.map(([term = '', value = '']) => [
      [{ text: term, style: styles.small }],
      [{ text: value, style: styles.small }],
    ]),
  });
  sheet.y += 5;
  for (const text of howToCheck) paragraph(sheet, section, { text, style: styles.body });
  sheet.y += 12;
}
