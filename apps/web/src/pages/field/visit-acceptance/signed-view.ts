import { acceptanceOutcomes } from '@grainwright/domain';
import type { SignedVisitView } from '@grainwright/operations';
import { fieldLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { sealFrame } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

/** What the signer keeps of one signature over several vehicles. */
export function signedVisitView(frame: Frame, signed: SignedVisitView): Html {
  return fieldPage({
    ...frame,
    title: 'Your answer',
    heading: 'Thank you',
    lead: `${signed.accountName}, ${signed.vehicles.length} ${signed.vehicles.length === 1 ? 'vehicle' : 'vehicles'}`,
    current: null,
    turnedRound: true,
    body: html`${notice('done', `The repairs are ${acceptanceOutcomes[signed.outcome]}`)}
      ${sealFrame(html`<h2>Keep a copy</h2>
        ${definitionList([
          ...(signed.remark === '' ? [] : [{ term: 'Remark', value: signed.remark }]),
          { term: 'Signed by', value: signed.signerName },
          { term: 'On', value: instantShown(signed.signedAt, frame.me.business.timeZone) },
          { term: 'Repaired by', value: `${frame.me.business.name}, ${frame.me.business.phone}` },
        ])}
        <ul>${signed.vehicles.map(
          (each) =>
            html`<li><a href="/field/work-orders/${each.workOrderId}/acceptance/${each.acceptanceId}">${workOrderNumber(each.number)}</a>, ${each.vehicle}${each.ownNumber !== '' && `, ${each.ownNumber}`}</li>`,
        )}</ul>
        <p>SHA-256 of what was shown and signed of all vehicles together: <code>${signed.digest}</code></p>`)}
      <p>Take a picture of this page, or print it. What you signed can’t be changed any more.</p>`,
    primaryAction: fieldLink({ label: 'Hand the phone back', href: '/field' }),
  });
}
