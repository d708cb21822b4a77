import type { LineToRepeat } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';

/** One tap writes the last line of the visit once more, or leads to what has to be tested or measured here first. */
export function repeatForm(page: {
  readonly csrfToken: string;
  readonly workOrderId: string;
  readonly lineId: string;
  readonly last: LineToRepeat | null;
}): Html | null {
  const { csrfToken, workOrderId, lineId, last } = page;
  if (last === null) return null;
  return html`<form method="post" action="/field/work-orders/${workOrderId}/lines/repeat" data-sending="Repeating…">
    ${hiddenCsrf(csrfToken)}${hiddenField('line_id', lineId)}
    ${quietButton({ label: `Repeat the last line: ${last.words}` })}
  </form>`;
}
