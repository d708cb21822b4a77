import { lesserMinor, sumMinor } from '../money/money.ts';

/** How many documents at most are looked through, and how many of them a suggestion holds: a few, or all. */
const documentsMax = 60;
const fewMax = 4;

/**
 * Which open documents an amount pays exactly, by their places in `openMinor`: one of them, else all, else two to four.
 * Of several answers the one with the earliest documents; none where nothing fits. Give them oldest first, as they are
 * usually paid.
 */
export function matchAmount(amountMinor: bigint, openMinor: readonly bigint[]): readonly number[] {
  if (amountMinor <= 0n) return [];
  const one = openMinor.indexOf(amountMinor);
  if (one !== -1) return [one];
  if (openMinor.length > 1 && sumMinor(openMinor) === amountMinor) return openMinor.map((_, place) => place);
  const looked = openMinor.slice(0, documentsMax);
  for (let size = 2; size <= Math.min(fewMax, looked.length); size += 1) {
    const found = chosenOf(looked, size, amountMinor, 0);
    if (found !== null) return found;
  }
  return [];
}

function chosenOf(
  openMinor: readonly bigint[],
  size: number,
  amountMinor: bigint,
  from: number,
): readonly number[] | null {
  if (size === 1) {
    const place = openMinor.indexOf(amountMinor, from);
    return place === -1 ? null : [place];
  }
  for (let place = from; place <= openMinor.length - size; place += 1) {
    const open = openMinor[place] ?? 0n;
    if (open >= amountMinor) continue;
    const rest = chosenOf(openMinor, size - 1, amountMinor - open, place + 1);
    if (rest !== null) return [place, ...rest];
  }
  return null;
}

/** A document that was ticked; `writtenMinor` is null where no amount was written for it. */
export interface TickedDocument {
  readonly openMinor: bigint;
  readonly writtenMinor: bigint | null;
}

/**
 * What of an amount goes to each ticked document: what is written, and where nothing is, as much as is open and still
 * left, in their order. Zero where nothing is left.
 */
export function spreadAmount(amountMinor: bigint, ticked: readonly TickedDocument[]): readonly bigint[] {
  let leftMinor = amountMinor - sumMinor(ticked.map((each) => each.writtenMinor ?? 0n));
  return ticked.map(({ openMinor, writtenMinor }) => {
    if (writtenMinor !== null) return writtenMinor;
    const goesMinor = leftMinor > 0n ? lesserMinor(openMinor, leftMinor) : 0n;
    leftMinor -= goesMinor;
    return goesMinor;
  });
}
