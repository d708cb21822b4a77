import type { Problem } from '@grainwright/domain';
import type { OwnersPage } from '@grainwright/operations';
import type { Assets } from '../../../look/assets.ts';
import { fieldButton } from '../../../look/buttons.ts';
import { errorSummary, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage, plainPage } from '../../../look/layout.ts';
import { definitionList } from '../../../look/tables.ts';
import { answerFieldNames, answerFields } from '../../field/acceptance/answer-fields.ts';
import { picturedParts } from '../../field/acceptance/pictured-parts.ts';
import { vehicleShown, workShown } from '../../field/acceptance/shown-parts.ts';
import {
  type SignedSheet,
  signedHeading,
  signedSheet,
  whatToExpect,
} from '../../field/acceptance/signed-sheet.ts';
import type { TypedAnswer } from '../../field/acceptance/typed-answer.ts';
import { problemsOf } from '../../form-problems.ts';
import { pictureState } from '../../work-order/photo-state.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface OwnersPageShown {
  readonly page: OwnersPage;
  /** Of the link: `/link/…` */
  readonly path: string;
  readonly assets: Assets['urls'];
  readonly typed: TypedAnswer;
  readonly problem: Problem | null;
}

/** What the vehicle's owner sees under their link: the work to answer to, their copy of the answer, or that it is over. */
export function ownersPage(shown: OwnersPageShown): Html {
  const { page } = shown;
  switch (page.stands) {
    case 'open':
      return toAnswer(shown, page);
    case 'answered':
      return answered(shown, page);
    case 'closed':
      return closed(shown, page);
  }
}

type Standing<Stands extends OwnersPage['stands']> = Extract<OwnersPage, { stands: Stands }>;

/** As on the technician's phone that is turned round: nothing leads elsewhere, and there are no prices. */
function toAnswer({ path, assets, typed, problem }: OwnersPageShown, page: Standing<'open'>): Html {
  const { business, workOrder, shown } = page;
  return fieldPage({
    title: 'Your vehicle’s repair',
    heading: 'Please look at the repair',
    lead: shown.vehicle.description,
    ...frameFor(business.name, assets),
    scripts: [assets.pictures, assets.divider, assets.signature, assets.sending],
    body: html`
      ${definitionList([
        {
          term: 'Repaired by',
          value: [business.name, business.phone].filter((part) => part !== '').join(', '),
        },
        { term: 'Work order', value: workOrderNumber(workOrder.number) },
      ])}
      ${vehicleShown(shown)}
      <h2>What was done</h2>
      ${workShown(shown)}
      <h2>Before and after</h2>
      ${picturedParts(page.parts, ownersPictures(path).pictureOf)}
      ${whatToExpect(page.expect)}
      ${answerForm({ path, page, typed, problem })}`,
    primaryAction: fieldButton({ label: 'Give my answer', form: 'acceptance' }),
  });
}

interface AnswerForm extends Pick<OwnersPageShown, 'path' | 'typed' | 'problem'> {
  readonly page: Standing<'open'>;
}

function answerForm({ path, page, typed, problem }: AnswerForm): Html {
  const { errorOf, summary } = problemsOf(problem, answerFieldNames);
  return html`<form id="acceptance" method="post" action="${path}/acceptance" data-sending="Sending…">
    <h2>Your answer</h2>
    ${errorSummary(summary)}
    ${hiddenField('id', typed.id)}
    ${hiddenField('shown_digest', page.digest)}
    ${answerFields({
      typed,
      signer: page.signer,
      outcomes: ['accepted', 'accepted_with_remark', 'not_accepted'],
      remarkHint: 'Needed with a remark, and when you do not accept: what remains to be put right.',
      // Nobody is there to say why a signature stands all the same.
      problem: null,
      words: page.shown,
      contact: 'another_email',
      errorOf,
    })}
    <p class="hint">You answer once. Afterwards this link shows your copy.</p>
  </form>`;
}

function answered({ path, assets }: OwnersPageShown, { business, signed }: Standing<'answered'>): Html {
  return fieldPage({
    title: 'Your answer',
    heading: signedHeading(signed),
    lead: signed.shown.vehicle.description,
    ...frameFor(business.name, assets),
    scripts: [assets.pictures, assets.divider],
    body: signedSheet({ business, signed, ...ownersPictures(path) }),
  });
}

function closed({ assets }: OwnersPageShown, { business, workOrder, why }: Standing<'closed'>): Html {
  const words =
    why === 'already_accepted'
      ? 'This repair is accepted already, so nothing has to be answered here any more.'
      : 'This repair was taken up again, so there is nothing to answer yet. You will be asked anew when it is finished.';
  const reached = [business.phone, business.email].filter((part) => part !== '').join(', ');
  return plainPage({
    title: 'Your vehicle’s repair',
    heading: 'Nothing to answer here now',
    lead: workOrder.vehicle,
    body: html`<p>${words}</p>${reached !== '' && html`<p>Questions: ${reached}</p>`}`,
    assets,
    business: business.name,
  });
}

/** Where pictures and signatures come from under a link. */
export function ownersPictures(path: string): Required<Pick<SignedSheet, 'pictureOf' | 'signatures'>> {
  return {
    pictureOf: (photo) => ({ src: `${path}/photos/${photo.id}/view`, ...pictureState(photo) }),
    signatures: `${path}/signatures`,
  };
}

/** Nobody is signed in here; the head names the business alone. */
export function frameFor(business: string, assets: Assets['urls']) {
  return { person: { name: '', business }, csrfToken: '', assets, current: null, turnedRound: true };
}
