import { type Day, movedStop, type VisitId } from '@grainwright/domain';
import type { StopView } from '@grainwright/operations';
import { quietButton } from '../../look/buttons.ts';
import { hiddenCsrf, hiddenField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';

export interface OrderButtons {
  /** Where the new order goes. */
  readonly action: string;
  readonly csrfToken: string;
  readonly day: Day;
  /** All stops of the technician’s day, in their order. */
  readonly stops: readonly StopView[];
}

/** Moves a stop by one place: each button sends the whole day in its new order, so that nothing added meanwhile is lost. */
export function orderButtons({ action, csrfToken, day, stops }: OrderButtons, stop: StopView): Html | null {
  if (stops.length < 2) return null;
  const ids = stops.map(({ visitId }) => visitId);
  const [earlier, later] = [movedStop(ids, stop.visitId, 'earlier'), movedStop(ids, stop.visitId, 'later')];
  const whose = html`<span class="heard">: ${stop.account.name}, ${stop.site.name}</span>`;
  const form = (order: readonly VisitId[], label: string) => html`<form method="post" action="${action}">
      ${hiddenCsrf(csrfToken)}${hiddenField('day', day)}${hiddenField('technician_id', stop.technician.id)}
      ${order.map((id) => hiddenField('visit_ids', id))}
      ${quietButton({ label: html`${label}${whose}` })}
    </form>`;
  return html`<div class="buttons">
    ${earlier && form(earlier, 'Earlier')}
    ${later && form(later, 'Later')}
  </div>`;
}
