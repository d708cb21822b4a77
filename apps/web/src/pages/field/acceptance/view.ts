import { acceptanceOutcomes, type Problem, photoPurposes, signerRoles } from '@grainwright/domain';
import type { PicturedPart, PicturedPhoto, ShownAcceptance } from '@grainwright/operations';
import { beforeAfter, type Picture, pictureRow } from '../../../look/before-after.ts';
import { fieldButton } from '../../../look/buttons.ts';
import { dayShown } from '../../../look/figures.ts';
import {
  errorSummary,
  hiddenCsrf,
  hiddenField,
  radioCards,
  textArea,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { signatureField } from '../../../look/signature.ts';
import { definitionList } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { workOrderPath } from '../work-words.ts';
import { vehicleShown, workShown } from './shown-parts.ts';

export interface AcceptanceForm {
  readonly acceptanceId: string;
  readonly outcome: string;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: string;
  readonly strokes: string;
  readonly confirmed: boolean;
  readonly overrideReason: string;
}

export interface AcceptancePage {
  readonly frame: Frame & { readonly signatureScript: string; readonly sendingScript: string };
  readonly acceptance: ShownAcceptance;
  readonly form: AcceptanceForm;
  readonly problem: Problem | null;
}

/** The phone is turned round: whoever accepts holds it. Nothing leads elsewhere, and there are no prices unless the business chose so. */
export function acceptanceView(page: AcceptancePage): Html {
  const { frame, acceptance } = page;
  return fieldPage({
    ...frame,
    title: 'Your vehicle’s repair',
    heading: 'Please look at the repair',
    lead: acceptance.shown.vehicle.description,
    current: null,
    turnedRound: true,
    scripts: [frame.signatureScript, frame.sendingScript],
    body: html`
      ${definitionList([
        { term: 'Repaired by', value: frame.me.business.name },
        { term: 'Work order', value: workOrderNumber(acceptance.workOrder.number) },
        { term: 'Date', value: dayShown(frame.me.today) },
      ])}
      ${vehicleShown(acceptance.shown)}
      <h2>What was done</h2>
      ${workShown(acceptance.shown)}
      <h2>Before and after</h2>
      ${acceptance.parts.length === 0 ? html`<p>There are no pictures of this work. Look at the vehicle itself.</p>` : acceptance.parts.map(partShown)}
      ${answerForm(page)}`,
    primaryAction: fieldButton({ label: 'Give my answer', form: 'acceptance' }),
  });
}

/** The first picture before and the last one after are the pair; the others stand below it. */
function partShown({ label, before, after }: PicturedPart): Html {
  const first = before[0] ?? null;
  const last = after.at(-1) ?? null;
  const others = [...before.slice(1), ...after.slice(0, -1)];
  return html`<h3>${label}</h3>
    ${beforeAfter(first && picture(first, label), last && picture(last, label))}
    ${others.length > 0 && pictureRow(others.map((photo) => ({ ...picture(photo, label), caption: photoPurposes[photo.purpose] })))}`;
}

/** The original stands in on the technician's own phone until the copies are made. */
function picture({ id, purpose, ready }: PicturedPhoto, label: string): Picture {
  return { src: `/photos/${id}/${ready ? 'view' : 'original'}`, alt: `${photoPurposes[purpose]}: ${label}` };
}

const fields = [
  'outcome',
  'remark',
  'signer_name',
  'signer_role',
  'signature',
  'confirmed',
  'override_reason',
];

function answerForm({ frame, acceptance, form, problem }: AcceptancePage): Html {
  const { errorOf, summary } = problemsOf(problem, fields);
  return html`<form id="acceptance" method="post" action="${workOrderPath(acceptance.workOrder)}/acceptance" data-sending="Sending…">
    <h2>Your answer</h2>
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('id', form.acceptanceId)}
    ${hiddenField('shown_digest', acceptance.digest)}
    <p>${acceptance.shown.text.text}</p>
    ${radioCards({
      name: 'outcome',
      label: 'How do you find it?',
      value: form.outcome,
      required: true,
      error: errorOf('outcome'),
      choices: Object.entries(acceptanceOutcomes).map(([value, word]) => ({ value, label: capital(word) })),
    })}
    ${textArea({
      name: 'remark',
      label: 'Remark',
      hint: 'Needed with a remark, and when you do not accept: what remains to be put right.',
      value: form.remark,
      error: errorOf('remark'),
      maxLength: 2000,
    })}
    ${signerFields({ acceptance, form }, errorOf)}
    ${signatureField({
      strokesName: 'signature',
      typedName: 'signer_name',
      confirmName: 'confirmed',
      label: 'Your signature',
      confirmation: 'I give this answer myself. My name, or what I drew, counts as my signature.',
      hint: 'Draw with your finger.',
      strokes: form.strokes,
      typed: form.signerName,
      confirmed: form.confirmed,
      errors: { strokes: errorOf('signature'), typed: errorOf('signer_name'), confirm: errorOf('confirmed') },
    })}
    ${
      problem?.code === 'contradiction' &&
      textField({
        name: 'override_reason',
        label: 'For the technician: why it is right as it is',
        value: form.overrideReason,
        error: errorOf('override_reason'),
        maxLength: 500,
      })
    }
  </form>`;
}

/** By the account's terms it is settled who signs; where either may, the signer says which. */
function signerFields(
  { acceptance, form }: Pick<AcceptancePage, 'acceptance' | 'form'>,
  errorOf: (field: string) => string | undefined,
): Html {
  if (acceptance.signer !== null)
    return html`<p>You sign as the ${signerRoles[acceptance.signer]}.</p>${hiddenField('signer_role', acceptance.signer)}`;
  return radioCards({
    name: 'signer_role',
    label: 'You are the',
    value: form.signerRole,
    required: true,
    error: errorOf('signer_role'),
    choices: Object.entries(signerRoles).map(([value, label]) => ({ value, label: capital(label) })),
  });
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
