import { allows, formatMinor, type Problem } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { instantShown, money } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, moneyField, selectField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

/** What was typed in the consent, which came back. */
export interface FloorTyped {
  readonly lineId: string;
  readonly price: string;
  readonly reason: string;
  readonly problem: Problem;
}

/** Prices below the business’s floor: what can’t be sent yet, what the owner consented to, and the owner’s own form. */
export function floorPart(frame: Frame, view: WorkOrderView, typed: FloorTyped | null): Html | null {
  const { floored, consents } = view.priceNotes;
  const below = floored.filter(({ refused }) => refused !== null);
  const asksOwner = allows(frame.me.role, 'consent_below_floor') && floored.length > 0;
  if (below.length === 0 && consents.length === 0 && !asksOwner) return null;
  return html`<section id="floor"><h2>Floor</h2>
    ${below.map(({ refused }) => notice('problem', 'Not to be sent as it is', refused ?? ''))}
    ${consents.length > 0 && consented(frame, view)}
    ${asksOwner && consentForm(frame, view, typed)}
  </section>`;
}

function consented({ me }: Frame, view: WorkOrderView): Html {
  const { currency, priceNotes, lines } = view;
  return dataTable({
    caption: 'Consented to',
    rows: priceNotes.consents,
    empty: html``,
    columns: [
      {
        header: 'Line',
        names: true,
        cell: ({ lineId }) => lines.find(({ id }) => id === lineId)?.words ?? 'A line since taken away',
      },
      { header: 'Why', cell: ({ reason }) => reason },
      { header: 'Who', cell: ({ by }) => by },
      { header: 'When', cell: ({ at }) => instantShown(at, me.business.timeZone) },
      { header: 'Floor', figure: true, cell: ({ floorMinor }) => money(floorMinor, currency) },
      { header: 'Price', figure: true, cell: ({ priceMinor }) => money(priceMinor, currency) },
    ],
  });
}

/** It holds for one line at one price and above. */
function consentForm(frame: Frame, view: WorkOrderView, typed: FloorTyped | null): Html {
  const { floored } = view.priceNotes;
  const first = floored.find(({ refused }) => refused !== null);
  const { errorOf, summary } = problemsOf(typed?.problem ?? null, ['line_id', 'price', 'reason']);
  const asked = first === undefined ? '' : formatMinor(first.priceMinor, view.currency);
  return html`<form class="unprinted" method="post" action="/office/work-orders/${view.id}/floor-consent" novalidate>
    ${errorSummary(summary)}${hiddenCsrf(frame.csrfToken)}
    ${selectField({
      name: 'line_id',
      label: 'Consent to a price below the floor of',
      empty: 'Choose the line',
      required: true,
      error: errorOf('line_id'),
      value: typed?.lineId ?? first?.lineId,
      choices: floored.map((line) => ({
        value: line.lineId,
        label: `${line.words}, floor ${formatMinor(line.floorMinor, view.currency)}`,
      })),
    })}
    ${moneyField({
      name: 'price',
      label: 'Price before further repairs',
      hint: 'A lower one needs another consent',
      currency: view.currency,
      required: true,
      error: errorOf('price'),
      value: typed?.price ?? asked,
    })}
    ${textField({ name: 'reason', id: 'floor-reason', label: 'Why it may be charged', required: true, maxLength: 500, error: errorOf('reason'), value: typed?.reason, autocomplete: 'off' })}
    <div class="buttons">${quietButton({ label: 'Consent to this price' })}</div>
  </form>`;
}
