import { acceptanceOutcomes, type Problem } from '@grainwright/domain';
import type { SignedVisitView } from '@grainwright/operations';
import { instantShown } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { sealFrame } from '../../../look/seam.ts';
import { definitionList } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { copiesShown } from '../../work-order/copies-shown.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { copyForm, copyNext, type TypedCopy } from '../acceptance/copy-parts.ts';

export interface SignedVisitPage {
  readonly frame: Frame;
  readonly signed: SignedVisitView;
  /** `/field/visits/…/signatures/…` */
  readonly path: string;
  readonly copy: { readonly typed: TypedCopy; readonly problem: Problem | null };
}

/** What the signer keeps of one signature over several vehicles, and where their copy goes. */
export function signedVisitView({ frame, signed, path, copy }: SignedVisitPage): Html {
  const { timeZone } = frame.me.business;
  const isFirst = signed.copies.length === 0;
  const next = copyNext(isFirst, '/field');
  return fieldPage({
    ...frame,
    title: 'Your answer',
    heading: 'Thank you',
    lead: `${signed.accountName}, ${signed.vehicles.length} ${signed.vehicles.length === 1 ? 'vehicle' : 'vehicles'}`,
    current: null,
    turnedRound: true,
    scripts: [frame.assets.sending],
    body: html`${notice('done', `The repairs are ${acceptanceOutcomes[signed.outcome]}`)}
      ${copyForm({
        action: `${path}/copy`,
        csrfToken: frame.csrfToken,
        ...copy,
        ...next,
      })}
      ${sealFrame(html`<h2>Keep a copy</h2>
        ${definitionList([
          ...(signed.remark === '' ? [] : [{ term: 'Remark', value: signed.remark }]),
          { term: 'Signed by', value: signed.signerName },
          { term: 'On', value: instantShown(signed.signedAt, timeZone) },
          { term: 'Repaired by', value: `${frame.me.business.name}, ${frame.me.business.phone}` },
        ])}
        <ul>${signed.vehicles.map(
          (each) =>
            html`<li><a href="/field/work-orders/${each.workOrderId}/acceptance/${each.acceptanceId}">${workOrderNumber(each.number)}</a>, ${each.vehicle}${each.ownNumber !== '' && `, ${each.ownNumber}`}</li>`,
        )}</ul>
        <p>SHA-256 of what was shown and signed of all vehicles together: <code>${signed.digest}</code></p>`)}
      ${!isFirst && html`<h2>Where your copy went</h2>${copiesShown(signed.copies, timeZone)}`}
      <p>You can print this page too, or ask for it on paper. What you signed can’t be changed any more.</p>
      ${next.beside}`,
    primaryAction: next.primaryAction,
  });
}
