/**
 * agingBars({caption, buckets, currency}): what is owed by age, as a table whose rows end in bars, so that the
 * figures and the picture can't differ. A bucket is {label, amountMinor, overdue}.
 */
import { money } from './figures.ts';
import { type Html, html } from './html.ts';

export interface AgingBucket {
  readonly label: string;
  readonly amountMinor: bigint;
  /** False for what is not due yet: its bar is hollow. */
  readonly overdue: boolean;
}

export function agingBars(aging: {
  readonly caption: string;
  readonly buckets: readonly AgingBucket[];
  readonly currency: string;
}): Html {
  const totalMinor = aging.buckets.reduce((sum, bucket) => sum + bucket.amountMinor, 0n);
  const mostMinor = largestMinor(aging.buckets.map((bucket) => bucket.amountMinor));
  const row = (bucket: AgingBucket) => html`<tr>
      <th scope="row">${bucket.label}</th>
      <td class="figure">${money(bucket.amountMinor, aging.currency)}</td>
      <td class="aging-bar">${bar(permille(bucket.amountMinor, mostMinor), bucket.overdue)}</td>
    </tr>`;
  return html`<table class="table aging">
    <caption>${aging.caption}</caption>
    <thead><tr><th scope="col">Age</th><th scope="col" class="figure">Open</th><td></td></tr></thead>
    <tbody>${aging.buckets.map(row)}</tbody>
    <tfoot><tr><th scope="row">Total open</th><td class="figure">${money(totalMinor, aging.currency)}</td><td></td></tr></tfoot>
  </table>`;
}

/** Zero where there is none. */
export function largestMinor(amountsMinor: readonly bigint[]): bigint {
  return amountsMinor.toSorted((a, b) => (a < b ? -1 : a > b ? 1 : 0)).at(-1) ?? 0n;
}

/** A thousandth of the largest at least, where there is anything at all; nothing for a credit. */
function permille(partMinor: bigint, mostMinor: bigint): number {
  if (partMinor <= 0n) return 0;
  const share = (partMinor * 1000n) / mostMinor;
  return Number(share === 0n ? 1n : share);
}

function bar(share: number, overdue: boolean): Html | false {
  if (share === 0) return false;
  return html`<svg width="100%" height="14" viewBox="0 0 1000 14" preserveAspectRatio="none" aria-hidden="true" focusable="false">
    <rect class="${overdue ? 'bar bar--overdue' : 'bar'}" x="0" y="1" width="${share}" height="12"/>
  </svg>`;
}
