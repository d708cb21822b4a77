import type { Problem } from '@grainwright/domain';
import type { SignedToHandOver } from '@grainwright/operations';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import { workOrderPath } from '../work-words.ts';
import { copyForm, copyNext, type TypedCopy } from './copy-parts.ts';
import { signedHeading, signedSheet } from './signed-sheet.ts';

export interface SignedPage {
  readonly frame: Frame;
  readonly signed: SignedToHandOver;
  readonly copy: { readonly typed: TypedCopy; readonly problem: Problem | null };
}

/** What the signer keeps, while they hold the technician's phone, and where their copy goes. */
export function signedView({ frame, signed, copy }: SignedPage): Html {
  const path = workOrderPath(signed.workOrder);
  const next = copyNext(signed.copies.length === 0, path);
  return fieldPage({
    ...frame,
    title: 'Your answer',
    heading: signedHeading(signed),
    lead: signed.shown.vehicle.description,
    current: null,
    turnedRound: true,
    scripts: [frame.assets.pictures, frame.assets.divider, frame.assets.sending],
    body: html`${copyForm({
      action: `${path}/acceptance/${signed.answer.id}/copy`,
      csrfToken: frame.csrfToken,
      ...copy,
      ...next,
    })}
    ${signedSheet({ business: frame.me.business, signed })}
    ${next.beside}`,
    primaryAction: next.primaryAction,
  });
}
