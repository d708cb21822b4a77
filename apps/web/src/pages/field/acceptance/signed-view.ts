import { acceptanceOutcomes, signerRoles } from '@grainwright/domain';
import type { SignedAcceptance } from '@grainwright/operations';
import { fieldLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { sealFrame } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { workOrderPath } from '../work-words.ts';
import { vehicleShown, workShown } from './shown-parts.ts';

/** What the signer keeps: the answer, to what, by whom, and the digest that binds them. */
export function signedView(frame: Frame, signed: SignedAcceptance): Html {
  const { answer, shown, workOrder } = signed;
  const accepted = answer.outcome !== 'not_accepted';
  return fieldPage({
    ...frame,
    title: 'Your answer',
    heading: accepted ? 'Thank you' : 'Your answer is kept',
    lead: shown.vehicle.description,
    current: null,
    turnedRound: true,
    body: html`
      ${notice(
        accepted ? 'done' : 'info',
        `The repair is ${acceptanceOutcomes[answer.outcome]}`,
        accepted ? null : 'The repair business will put it right and ask you again.',
      )}
      ${sealFrame(html`
        <h2>Keep a copy</h2>
        ${vehicleShown(shown)}
        ${workShown(shown)}
        ${definitionList([
          { term: 'Answer', value: acceptanceOutcomes[answer.outcome] },
          ...(answer.remark === '' ? [] : [{ term: 'Remark', value: answer.remark }]),
          { term: 'Signed by', value: `${answer.signerName}, ${signerRoles[answer.signerRole]}` },
          { term: 'On', value: instantShown(answer.acceptedAt, frame.me.business.timeZone) },
          { term: 'Repaired by', value: `${frame.me.business.name}, ${frame.me.business.phone}` },
          { term: 'Work order', value: `WO-${workOrder.number}` },
          { term: 'Pictures shown', value: String(shown.photos.length) },
        ])}
        ${
          answer.drawn &&
          html`<svg class="drawn-signature" viewBox="${answer.drawn.viewBox}" role="img" aria-label="The signature as drawn">
          <path d="${answer.drawn.path}" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"/></svg>`
        }
        <p>${shown.text.text}</p>
        <p>SHA-256 of what was shown and signed: <code>${answer.digest}</code></p>`)}
      ${
        signed.expect.length > 0 &&
        html`<h2>What to expect</h2>
        ${signed.expect.map((sentence) => html`<p>${sentence}</p>`)}`
      }
      <p>Take a picture of this page, or print it. What you signed can’t be changed any more.</p>`,
    primaryAction: fieldLink({ label: 'Hand the phone back', href: workOrderPath(workOrder) }),
  });
}
