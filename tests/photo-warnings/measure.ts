import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { hammingDistance, type PhotoMeasures, photoBounds, printDifference } from '@grainwright/domain';
import { type DrawnPicture, drawPicture, measurePhoto } from '@grainwright/evidence';
import sharp, { type Sharp } from 'sharp';

/**
 * Measures drawn trim, and what blur, noise, night, glare and saving again make of it, and writes the table from which the
 * bounds of the warnings were taken into docs/photo-warnings.md: `npm run measure:warnings`.
 */

const parts: readonly Pick<DrawnPicture, 'part' | 'trim' | 'damage'>[] = [
  { part: 'tailgate_lining', trim: 'graphite', damage: 'cut' },
  { part: 'door_panel', trim: 'charcoal', damage: 'scuff' },
  { part: 'seat_bolster', trim: 'sand', damage: 'wear' },
  { part: 'dash', trim: 'charcoal', damage: 'crack' },
  { part: 'steering_wheel', trim: 'graphite', damage: 'scuff' },
  { part: 'quarter_trim', trim: 'sand', damage: 'burn' },
];

type Change = (picture: Buffer, drawn: (change: Partial<DrawnPicture>) => Promise<Buffer>) => Promise<Buffer>;

const saved = (picture: Sharp, quality = 88) => picture.jpeg({ quality }).toBuffer();
const resized = async (picture: Buffer, width: number) =>
  saved(sharp(await sharp(picture).resize(width).toBuffer()).resize(1600));

const changes: Readonly<Record<string, Change>> = {
  'as taken, 1600 × 1200': async (picture) => picture,
  'as taken, 800 × 600': (_, drawn) => drawn({ coarse: true }),
  'saved again, quality 50': (picture) => saved(sharp(picture), 50),
  'made smaller, 1200 × 900': (picture) => saved(sharp(picture).resize(1200)),
  'made 10 % lighter': (picture) => saved(sharp(picture).linear(1.1, 0)),
  'noise, σ 15': (picture) => noisy(picture),
  'Gaussian blur, σ 2.5': (picture) => saved(sharp(picture).blur(2.5)),
  'Gaussian blur, σ 4': (picture) => saved(sharp(picture).blur(4)),
  'Gaussian blur, σ 6': (picture) => saved(sharp(picture).blur(6)),
  'Gaussian blur, σ 6, and noise, σ 15': async (picture) => noisy(await sharp(picture).blur(6).toBuffer()),
  'made 400 wide and large again': (picture) => resized(picture, 400),
  'made 200 wide and large again': (picture) => resized(picture, 200),
  'night: 30 % of the light': (picture) => saved(sharp(picture).linear(0.3, 0)),
  'night: 15 % of the light': (picture) => saved(sharp(picture).linear(0.15, 0)),
  'glare: 250 % of the light and 60 more': (picture) => saved(sharp(picture).linear(2.5, 60)),
  'cut by 2 % on each side': (picture) =>
    saved(sharp(picture).extract({ left: 32, top: 24, width: 1536, height: 1152 })),
  'the same part of another vehicle': (_, drawn) => drawn({ seed: 8 }),
  'the same place, after heat with a ruler': (_, drawn) => drawn({ stage: 'after_heat' }),
  'the same place, filled': (_, drawn) => drawn({ stage: 'progress' }),
  'the same place, after the repair': (_, drawn) => drawn({ stage: 'after' }),
};

async function noisy(picture: Buffer): Promise<Buffer> {
  const { data, info } = await sharp(picture).raw().toBuffer({ resolveWithObject: true });
  let state = 1_234_567;
  const next = () => {
    // Numerical Recipes’ linear congruential generator.
    state = (state * 1_664_525 + 1_013_904_223) % 2 ** 32;
    return state / 2 ** 32;
  };
  for (let at = 0; at < data.length; at += 1) {
    // Six of them, centered, have a standard deviation of √½.
    const deviate = (next() + next() + next() + next() + next() + next() - 3) * Math.SQRT2;
    data[at] = Math.max(0, Math.min(255, Math.round((data[at] ?? 0) + 15 * deviate)));
  }
  const { width, height, channels } = info;
  return saved(sharp(data, { raw: { width, height, channels } }));
}

interface Row {
  readonly measures: PhotoMeasures;
  readonly distance: number;
  readonly difference: number;
}

async function measureAll(): Promise<ReadonlyMap<string, readonly Row[]>> {
  const rows = new Map<string, Row[]>(Object.keys(changes).map((name) => [name, []]));
  for (const part of parts) {
    const drawn = (change: Partial<DrawnPicture>) =>
      drawPicture({
        ...part,
        inches: 2.2,
        stage: 'before',
        seed: 7,
        takenAtLocal: '2026-08-05T14:03:09',
        takenAtOffset: '-05:00',
        ...change,
      });
    const picture = await drawn({});
    const first = await measurePhoto(picture);
    for (const [name, change] of Object.entries(changes)) {
      const measures = await measurePhoto(await change(picture, drawn));
      const distance = hammingDistance(first.hash, measures.hash);
      rows.get(name)?.push({ measures, distance, difference: printDifference(first.print, measures.print) });
    }
  }
  return rows;
}

function lineOf(name: string, rows: readonly Row[]): string {
  const span = (values: readonly number[], digits: number) => {
    const [least, most] = [Math.min(...values), Math.max(...values)].map((value) => value.toFixed(digits));
    return least === most ? least : `${least} – ${most}`;
  };
  const count = (holds: (row: Row) => boolean) => `${rows.filter(holds).length} of ${rows.length}`;
  const isDark = ({ measures }: Row) => measures.dark > photoBounds.darkMost;
  const isCopy = ({ distance, difference }: Row) =>
    distance <= photoBounds.hashDistanceMost && difference < photoBounds.printDifferenceMost;
  return [
    '',
    name,
    span(
      rows.map(({ measures }) => measures.sharpness),
      0,
    ),
    count((row) => !isDark(row) && row.measures.sharpness < photoBounds.sharpnessLeast),
    span(
      rows.map(({ measures }) => 100 * measures.dark),
      0,
    ),
    count(isDark),
    span(
      rows.map(({ measures }) => 100 * measures.washedOut),
      0,
    ),
    count(({ measures }) => measures.washedOut > photoBounds.washedOutMost),
    span(
      rows.map(({ distance }) => distance),
      0,
    ),
    span(
      rows.map(({ difference }) => difference),
      1,
    ),
    count(isCopy),
    '',
  ]
    .join(' | ')
    .trim();
}

const target = fileURLToPath(new URL('../../docs/photo-warnings.md', import.meta.url));
const begin = '<!-- measured: npm run measure:warnings -->';
const text = await readFile(target, 'utf8');
const head = text.slice(0, text.indexOf(begin) + begin.length);
const titles =
  '| what was done to the picture | sharpness | called blurred | dark, % | called too dark | white, % | called washed out | hash differs in | fields differ by | called a copy |\n|---|---|---|---|---|---|---|---|---|---|';
const rows = [...(await measureAll())].map(([name, each]) => lineOf(name, each));
await writeFile(target, `${head}\n\n${[titles, ...rows].join('\n')}\n`);
