import { type AcceptanceShown, type OwnNumberKind, ownNumberKinds } from '@grainwright/domain';
import { money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { definitionList } from '../../../look/tables.ts';

/** Which vehicle it is, as it is signed for. */
export function vehicleShown({ vehicle }: AcceptanceShown): Html {
  const { vin, lastEight, numbers } = vehicle;
  return definitionList([
    { term: 'Vehicle', value: vehicle.description },
    ...(vin !== null ? [{ term: 'VIN', value: code(vin) }] : []),
    ...(vin === null && lastEight !== null ? [{ term: 'VIN ends in', value: code(lastEight) }] : []),
    ...numbers.map(({ kind, number }) => ({ term: kindWords(kind), value: code(number) })),
  ]);
}

/** What was done, line by line; with prices only where the business chose to show them. */
export function workShown({ work, prices }: AcceptanceShown): Html {
  if (prices === null) return html`<ul>${work.map(({ text }) => html`<li>${text}</li>`)}</ul>`;
  const { currency, netMinor, totalMinor } = prices;
  return html`<ul>${work.map(({ text }, index) => html`<li>${text} ${money(BigInt(netMinor[index] ?? '0'), currency)}</li>`)}</ul>
    <p>Total with trip and tax: <b>${money(BigInt(totalMinor), currency)}</b></p>`;
}

function code(text: string): Html {
  return html`<span class="code">${text}</span>`;
}

function kindWords(kind: string): string {
  const isKind = (candidate: string): candidate is OwnNumberKind => Object.hasOwn(ownNumberKinds, candidate);
  const words = isKind(kind) ? ownNumberKinds[kind] : kind;
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
