import { acceptanceOutcomes } from '@grainwright/domain';
import type { OwnerLinkView, WorkOrderView } from '@grainwright/operations';
import { dayShown, dayText } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';

/** How a link to a vehicle's owner stands. */
export function ownerLinkWords({ stands, lastDay, outcome }: OwnerLinkView): Html {
  switch (stands) {
    case 'open':
      return html`open, not answered yet`;
    case 'answered':
      return html`answered${outcome !== null && html`, ${acceptanceOutcomes[outcome]}`}`;
    case 'taken_back':
      return html`taken back`;
    case 'no_answer':
      return html`no answer by ${dayShown(lastDay)}`;
  }
}

/** What the owner's answer at a distance waits for, as long as the work does. */
export function ownerLinkNotice({ id, state, ownerLinks }: WorkOrderView): Html | null {
  const [last] = ownerLinks;
  if (state !== 'done' || last === undefined || last.stands === 'answered') return null;
  const again = html`<a href="/field/work-orders/${id}/owner-link">Links to the owner</a>`;
  if (last.stands === 'no_answer')
    return notice(
      'problem',
      `No answer by ${dayText(last.lastDay)}`,
      html`<p>${last.ownerName} did not answer. That is no acceptance: ask again.</p><p>${again}</p>`,
    );
  if (last.stands === 'taken_back') return notice('info', 'The link to the owner was taken back', again);
  return notice(
    'info',
    'The owner is asked',
    html`<p>${last.ownerName} can answer by a link until ${dayShown(last.lastDay)}.</p><p>${again}</p>`,
  );
}
