import type { SignedAcceptance } from '@grainwright/operations';
import { fieldLink } from '../../../look/buttons.ts';
import type { Html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import { workOrderPath } from '../work-words.ts';
import { signedHeading, signedSheet } from './signed-sheet.ts';

/** What the signer keeps, while they hold the technician's phone. */
export function signedView(frame: Frame, signed: SignedAcceptance): Html {
  return fieldPage({
    ...frame,
    title: 'Your answer',
    heading: signedHeading(signed),
    lead: signed.shown.vehicle.description,
    current: null,
    turnedRound: true,
    body: signedSheet({ business: frame.me.business, signed }),
    primaryAction: fieldLink({ label: 'Hand the phone back', href: workOrderPath(signed.workOrder) }),
  });
}
