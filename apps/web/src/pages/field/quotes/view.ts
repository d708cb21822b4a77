import type { Problem } from '@grainwright/domain';
import type { PartToQuote, QuotesView, QuoteView, WorkOrderView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import { money } from '../../../look/figures.ts';
import {
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  numberField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { quoteOrigin, replacementBeside } from '../../work-order/replacement-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { lastQuoteForm } from './last-quote.ts';

/** What is typed of a quote. */
export interface TypedQuote {
  readonly amount: string;
  readonly partPrice: string;
  readonly fittingHours: string;
  readonly hourlyRate: string;
  readonly note: string;
}

export interface QuotesPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly quoted: QuotesView;
  /** The part that is asked about; null where every part has its quote. */
  readonly asked: PartToQuote | null;
  readonly quoteId: string;
  readonly typed: TypedQuote;
  readonly problem: Problem | null;
}

export const quoteFields = ['amount', 'part_price', 'fitting_hours', 'hourly_rate', 'note'] as const;

/** What a new part would cost, fitted: asked part by part, and what stands already. */
export function quotesPage(page: QuotesPage): Html {
  const { frame, view, quoted, asked, problem } = page;
  const { summary } = problemsOf(problem, quoteFields);
  const back = `/field/work-orders/${view.id}`;
  return fieldPage({
    ...frame,
    title: `New parts, ${workOrderNumber(view.number)}`,
    heading: 'What would a new part cost, fitted?',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      ${!quoted.open && notice('info', 'It stays as it was quoted', 'The work has been accepted.')}
      ${asked && quoteForm(page, asked)}
      ${standing(page)}
      ${others(page)}
      ${replacementBeside(view)}
      <p>${quietLink({ label: 'Back to the work order', href: back })}</p>`,
    primaryAction:
      asked === null
        ? fieldLink({ label: 'Back to the work order', href: back })
        : fieldButton({ label: 'Keep the quote', form: 'quote' }),
  });
}

function quoteForm(page: QuotesPage, asked: PartToQuote): Html {
  const { frame, view, quoted, quoteId, typed, problem } = page;
  const { errorOf } = problemsOf(problem, quoteFields);
  const word = (name: string) => ({ name, error: errorOf(name) });
  const address = `/field/work-orders/${view.id}/quotes`;
  const { currency } = quoted;
  return html`<section><h2>${asked.words}</h2>
    ${lastQuoteForm({ frame, address, currency, quoteId, part: asked })}
    <form method="post" action="${address}" id="quote" data-sending="Keeping…">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', quoteId)}
      ${hiddenField('part', asked.placed.part)}${hiddenField('side', asked.placed.side ?? '')}
      ${moneyField({ ...word('amount'), label: 'Part and labor', hint: 'In all, before tax, as quoted', currency, value: typed.amount })}
      ${textField({ ...word('note'), label: 'Who quoted it', required: false, value: typed.note, maxLength: 500, autocomplete: 'off' })}
      ${fieldGroup(
        'Or as it is made up',
        html`${moneyField({ ...word('part_price'), label: 'The part', currency, value: typed.partPrice })}
          ${numberField({ ...word('fitting_hours'), label: 'Labor to fit it', unit: 'h', value: typed.fittingHours })}
          ${moneyField({ ...word('hourly_rate'), label: 'An hour costs', currency, value: typed.hourlyRate })}`,
      )}
    </form></section>`;
}

function standing({ frame, view, quoted }: QuotesPage): Html | null {
  if (quoted.quotes.length === 0) return null;
  return html`<section><h2>Quoted</h2>
    ${quoted.quotes.map(
      (
        quote,
      ) => html`<p>${quote.words}: <strong>${money(quote.amountMinor, quoted.currency)}</strong>${whyNot(quote)}<br>
        <span class="hint">${[quoteOrigin(quote, quoted.currency), sourceOf(quote)].filter((part) => part !== '').join('; ')}</span></p>
        ${quoted.open && takeBack(frame, view, quote)}`,
    )}</section>`;
}

function whyNot({ counts }: QuoteView): string {
  return counts ? '' : ', not counted: that part is not repaired';
}

function sourceOf({ takenFrom }: QuoteView): string {
  return takenFrom === null ? '' : workOrderNumber(takenFrom.number);
}

function takeBack(frame: Frame, view: WorkOrderView, quote: QuoteView): Html {
  return html`<form method="post" action="/field/work-orders/${view.id}/quotes/${quote.id}/take-back">
    ${hiddenCsrf(frame.csrfToken)}${quietButton({ label: `Take back: ${quote.words}` })}</form>`;
}

/** The parts that have no quote yet, besides the one that is asked about; and those that can be quoted anew. */
function others({ view, quoted, asked }: QuotesPage): Html | null {
  const parts = quoted.open ? quoted.parts.filter(({ words }) => words !== asked?.words) : [];
  if (parts.length === 0) return null;
  const href = ({ placed }: PartToQuote) =>
    `/field/work-orders/${view.id}/quotes?${new URLSearchParams({ part: placed.part, side: placed.side ?? '' })}`;
  return html`<section><h2>Other parts</h2><div class="buttons">${parts.map((part) =>
    quietLink({
      label: part.quote === null ? `Quote: ${part.words}` : `Quote anew: ${part.words}`,
      href: href(part),
    }),
  )}</div></section>`;
}
