import type { WorkOrderState } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../look/buttons.ts';
import { type Html, html } from '../../look/html.ts';

const before: readonly WorkOrderState[] = ['written_up', 'awaiting_approval', 'declined'];

/** The evidence to keep; nothing before there is something to prove. */
export function evidenceLinks(
  { id, state, decision, acceptance }: Pick<WorkOrderView, 'id' | 'state' | 'decision' | 'acceptance'>,
  area: 'field' | 'office' | 'account',
): Html | null {
  if (acceptance === null && (decision === null || before.includes(state))) return null;
  const whatItHolds =
    area === 'account'
      ? 'The archive holds the pictures without the place where they were taken, and what was sealed.'
      : 'The archive holds the original pictures, with the places that cameras wrote into them, and what was sealed. The account gets one without places.';
  return html`<section class="unprinted"><h2>Evidence</h2>
    <p class="buttons">${quietLink({ label: 'Evidence as PDF', href: `/${area}/work-orders/${id}/evidence.pdf` })}
      ${quietLink({ label: 'Evidence pack, ZIP', href: `/${area}/work-orders/${id}/evidence.zip` })}
      ${area !== 'field' && quietLink({ label: 'Who did what', href: `/${area}/work-orders/${id}/trail` })}
      ${area === 'account' && quietLink({ label: 'Your seals', href: '/account/seals' })}</p>
    <p class="hint">${whatItHolds} Anybody can <a href="/verify">check an archive</a> without signing in.</p></section>`;
}
