import { allows } from '@grainwright/domain';
import { reworkable, type WorkOrderView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { type Html, html } from '../../../look/html.ts';
import type { Frame } from '../../person.ts';
import { nextVehicleAddress } from '../write-up/next-vehicle.ts';

/** One more vehicle of the visit that this one belongs to. */
export function nextVehicleOf({ account, site, visit }: WorkOrderView): string {
  return nextVehicleAddress({ accountId: account.id, siteId: site.id, ...visit });
}

/** What else may happen to the work at this point, besides the one thing to do next. */
export function turnLinks({ me }: Frame, view: WorkOrderView): Html | null {
  const links = linksOf(view).filter(({ needs }) => allows(me.role, needs));
  if (links.length === 0) return null;
  return html`<section><h2>Something else?</h2>
    <div class="buttons">${links.map(({ label, href }) => quietLink({ label, href }))}</div></section>`;
}

interface TurnLink {
  readonly label: string;
  readonly href: string;
  readonly needs: 'record_no_show' | 'write_up' | 'start_work' | 'take_acceptance' | 'give_links';
}

function linksOf(view: WorkOrderView): readonly TurnLink[] {
  const path = `/field/work-orders/${view.id}`;
  const before = ['written_up', 'awaiting_approval', 'approved'].includes(view.state);
  const working = view.state === 'in_work' || view.state === 'done';
  const keys = before || view.state === 'in_work' ? view.lines.filter((line) => line.keyRemote) : [];
  return [
    ...(view.state === 'awaiting_approval'
      ? []
      : [{ label: 'Next vehicle here', href: nextVehicleOf(view), needs: 'write_up' } as const]),
    ...keys.map(
      (line): TurnLink => ({
        label: `Test: ${line.words}`,
        href: `${path}/key-test/${line.id}`,
        needs: 'write_up',
      }),
    ),
    ...(before
      ? [{ label: 'Vehicle not there', href: `${path}/not-there`, needs: 'record_no_show' } as const]
      : []),
    ...(working
      ? [{ label: 'Stopped on purpose', href: `${path}/stop-points`, needs: 'start_work' } as const]
      : []),
    ...(view.toSignAtOnce > 1
      ? [
          {
            label: `One signature for ${view.toSignAtOnce} finished vehicles`,
            href: `/field/visits/${view.visit.id}/acceptance`,
            needs: 'take_acceptance',
          } as const,
        ]
      : []),
    ...(view.state === 'done'
      ? [
          {
            label: 'The owner has left: send a link',
            href: `${path}/owner-link`,
            needs: 'give_links',
          } as const,
          { label: 'Nobody signs', href: `${path}/not-signed`, needs: 'take_acceptance' } as const,
        ]
      : []),
    ...(reworkable.includes(view.state) && view.reworkOf === null
      ? [{ label: 'It came back: rework', href: `${path}/rework`, needs: 'write_up' } as const]
      : []),
  ];
}
