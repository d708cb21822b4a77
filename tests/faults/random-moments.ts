/** Numbers below 1, the same for the same seed: mulberry32, a generator in the public domain (from memory). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** What is counted: bytes that were sent, changes in the folder of the objects, rows that were committed. */
export type Progress = 'sent' | 'stored' | 'committed';

export interface Moments {
  /** Tells that something went on; when the moment has come, it strikes. */
  count(progress: Progress, by?: number): void;
}

const kinds: readonly (readonly [Progress, most: number])[] = [
  ['sent', 120_000],
  ['stored', 12],
  ['stored', 40],
  ['committed', 6],
];

/** Strikes at moments that are measured in what went on, never in time. The next one is drawn when one has struck. */
export function moments(random: () => number, strike: (moment: string) => void): Moments {
  const draw = () => {
    const [progress, most] = kinds[Math.floor(random() * kinds.length)] ?? ['stored', 12];
    return { progress, after: 1 + Math.floor(random() * most), left: 0 };
  };
  let moment = draw();
  moment.left = moment.after;
  return {
    count(progress, by = 1) {
      if (progress !== moment.progress) return;
      moment.left -= by;
      if (moment.left > 0) return;
      const struck = moment;
      moment = draw();
      moment.left = moment.after;
      strike(`after ${struck.after} ${struck.progress}`);
    },
  };
}
