import {
  displayPercent,
  type FittedPart,
  formatDecimal,
  savings,
  typicalReplacement,
} from '@grainwright/domain';
import type { QuotedView, QuoteView, WorkOrderView } from '@grainwright/operations';
import { money, moneyText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';

/** A work order’s quotes beside what was approved of it, else beside its estimate; nothing where nothing is repaired. */
export function replacementBeside(
  view: Pick<WorkOrderView, 'quotes' | 'replacement' | 'estimate' | 'decision' | 'currency'>,
): Html | null {
  const { estimate, decision } = view;
  const repairMinor =
    decision === null ? estimate?.price.visit.netMinor : decision.totalMinor - decision.taxMinor;
  if (repairMinor === undefined || repairMinor === 0n) return null;
  return againstReplacement(view, repairMinor, view.currency);
}

/**
 * What new parts would cost, fitted, against the repair, both before tax: as money and per cent. Without a quote the
 * usual range stands there as typical, and nothing is saved against it.
 */
export function againstReplacement(
  { quotes, replacement }: QuotedView,
  repairMinor: bigint,
  currency: string,
): Html {
  if (replacement === null) return withoutQuote(currency);
  const counted = quotes.filter(({ counts }) => counts);
  const [only, ...others] = counted;
  const quoted =
    others.length === 0 && only !== undefined
      ? html`<p>A new part, fitted, was quoted at ${money(replacement.minor, currency)}${madeOf(only, currency)}.
          ${againstRepair(replacement.minor, repairMinor, currency)}</p>`
      : html`<ul>${counted.map((quote) => html`<li>${quote.words}: ${money(quote.amountMinor, currency)}${madeOf(quote, currency)}</li>`)}</ul>
          <p>New parts, fitted, were quoted at ${money(replacement.minor, currency)} together.
          ${againstRepair(replacement.minor, repairMinor, currency)}</p>`;
  return html`${quoted}${replacement.unquoted.length > 0 && html`<p class="hint">Not quoted, though it is repaired as well: ${replacement.unquoted.join('; ')}.</p>`}`;
}

/** A quote against a repair in one line, for lists: “$940.00: $656.57 less, 69.8 %, before tax”. */
export function savedShown(quotedMinor: bigint, repairMinor: bigint, currency: string): Html {
  const saved = savings(quotedMinor, repairMinor);
  const quoted = money(quotedMinor, currency);
  if (saved === null) return quoted;
  if (saved.savedMinor < 0n)
    return html`${quoted}: ${money(-saved.savedMinor, currency)} more than that, before tax`;
  return html`${quoted}: ${money(saved.savedMinor, currency)} less, ${displayPercent(saved.percent)}, before tax`;
}

function againstRepair(quotedMinor: bigint, repairMinor: bigint, currency: string): Html {
  const repair = html`This repair is ${money(repairMinor, currency)} before tax`;
  const saved = savings(quotedMinor, repairMinor);
  if (saved === null) return html`${repair}.`;
  if (saved.savedMinor < 0n)
    return html`${repair}: ${money(-saved.savedMinor, currency)} more than the part.`;
  return html`${repair}: <strong>${money(saved.savedMinor, currency)} less, ${displayPercent(saved.percent)}</strong>.`;
}

function withoutQuote(currency: string): Html {
  const none = 'No quote for a new part is on record.';
  if (currency !== typicalReplacement.currency) return html`<p class="hint">${none}</p>`;
  const { fromMinor, toMinor } = typicalReplacement;
  return html`<p class="hint">${none} Typical is ${moneyText(fromMinor, currency)} to ${moneyText(toMinor, currency)} or more, fitted; that is no quote, and no saving is counted against it.</p>`;
}

/** How a quote came about, in brackets; nothing where only its sum is known. */
function madeOf(quote: QuoteView, currency: string): string {
  const words = quoteOrigin(quote, currency);
  return words === '' ? '' : ` (${words})`;
}

/** Part and labor, who quoted it, and where it was taken from. */
export function quoteOrigin(
  { fitted, note, origin }: Pick<QuoteView, 'fitted' | 'note' | 'origin'>,
  currency: string,
): string {
  return [
    fitted === null ? '' : fittedWords(fitted, currency),
    note,
    origin === 'last_time' ? 'as quoted the last time for this part and kind of vehicle' : '',
  ]
    .filter((part) => part !== '')
    .join('; ');
}

/** E.g. “part $742.00 and 1.2 h at $165.00”. */
export function fittedWords({ partMinor, hours, hourlyMinor }: FittedPart, currency: string): string {
  return `part ${moneyText(partMinor, currency)} and ${formatDecimal(hours)} h at ${moneyText(hourlyMinor, currency)}`;
}
