/**
 * ageStrip(partsMinor, largestMinor): one bar of what is owed, its parts from not yet due to longest overdue, as long
 * as it is of the largest one. The figures stand in the table beside it, so it is not read out.
 */
import { type Html, html } from './html.ts';

const shades = ['age--0', 'age--1', 'age--2', 'age--3', 'age--4'] as const;

export function ageStrip(partsMinor: readonly bigint[], largestMinor: bigint): Html | false {
  if (largestMinor <= 0n || partsMinor.every((part) => part <= 0n)) return false;
  let x = 0;
  const bars = partsMinor.map((part, index) => {
    const width = part <= 0n ? 0 : Math.max(1, Number((part * 1000n) / largestMinor));
    const bar =
      width > 0 &&
      html`<rect class="${shades[index] ?? 'age--4'}" x="${x}" y="1" width="${width}" height="12"/>`;
    x += width;
    return bar;
  });
  return html`<svg class="age-strip" width="100%" height="14" viewBox="0 0 1000 14" preserveAspectRatio="none"
    aria-hidden="true" focusable="false">${bars}</svg>`;
}
