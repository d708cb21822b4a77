import { dayAt } from '@grainwright/domain';
import type { LastQuoteView, PartToQuote } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { dayText, moneyText } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import type { Frame } from '../../person.ts';
import { quoteOrigin } from '../../work-order/replacement-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface LastQuoteForm {
  readonly frame: Frame;
  readonly address: string;
  readonly currency: string;
  /** For the quote, made with the page: sent twice it is the same one. */
  readonly quoteId: string;
  readonly part: PartToQuote;
}

/** What the part cost the last time, taken with one tap. Null where none was quoted yet. */
export function lastQuoteForm({ frame, address, currency, quoteId, part }: LastQuoteForm): Html | null {
  const { placed, last } = part;
  if (last === null) return null;
  const day = dayText(dayAt(last.givenAt, frame.me.business.timeZone));
  return html`<form method="post" action="${address}" data-sending="Keeping…">
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', quoteId)}${hiddenField('taken_from', last.id)}
    ${hiddenField('part', placed.part)}${hiddenField('side', placed.side ?? '')}
    ${quietButton({ label: `Last time: ${moneyText(last.amountMinor, currency)} on ${day}` })}
    <p class="hint">${whose(last, part, currency)}</p>
  </form>`;
}

function whose(last: LastQuoteView, { placed, words }: PartToQuote, currency: string): string {
  const side = last.placed?.side ?? null;
  const year = last.modelYear === null ? '' : `, a ${last.modelYear} model`;
  return [
    `${words}: ${workOrderNumber(last.number)}${year}`,
    side === placed.side ? '' : `of the ${side ?? 'part without a side'}`,
    quoteOrigin({ fitted: last.fitted, note: last.note, origin: 'typed' }, currency),
  ]
    .filter((part) => part !== '')
    .join('; ');
}
