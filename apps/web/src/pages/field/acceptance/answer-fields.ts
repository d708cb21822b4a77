import {
  type AcceptanceShown,
  acceptanceOutcomes,
  type Problem,
  type SignerRole,
  signerRoles,
} from '@grainwright/domain';
import { hiddenField, radioCards, textArea, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { signatureField } from '../../../look/signature.ts';
import type { TypedAnswer } from './typed-answer.ts';

export const answerFieldNames = [
  'outcome',
  'remark',
  'signer_name',
  'signer_role',
  'signer_email',
  'signer_phone',
  'signature',
  'confirmed',
  'override_reason',
];

export interface AnswerFields {
  readonly typed: TypedAnswer;
  /** Who has to sign; null where either may. */
  readonly signer: SignerRole | null;
  /** What can be answered: all, or only a yes. */
  readonly outcomes: readonly (keyof typeof acceptanceOutcomes)[];
  readonly remarkHint: string;
  /** What is said and agreed to above the signature. */
  readonly words: Pick<AcceptanceShown, 'text' | 'consent'>;
  /** How the signer may be reached; by a link it is known where that went. */
  readonly contact: 'email_and_phone' | 'another_email';
  readonly problem: Problem | null;
  readonly errorOf: (field: string) => string | undefined;
}

/** How they find it, who they are, and the signature. */
export function answerFields(fields: AnswerFields): Html {
  const { typed, signer, outcomes, remarkHint, problem, errorOf } = fields;
  return html`${radioCards({
    name: 'outcome',
    label: 'How do you find it?',
    value: typed.outcome,
    required: true,
    error: errorOf('outcome'),
    choices: outcomes.map((value) => ({ value, label: capital(acceptanceOutcomes[value]) })),
  })}
    ${textArea({ name: 'remark', label: 'Remark', hint: remarkHint, value: typed.remark, error: errorOf('remark'), maxLength: 2000 })}
    ${signerFields(signer, typed, errorOf)}
    ${contactFields(fields)}
    ${wordsSigned(fields.words)}
    ${signatureField({
      strokesName: 'signature',
      typedName: 'signer_name',
      confirmName: 'confirmed',
      label: 'Your signature',
      confirmation: 'I give this answer myself. My name, or what I drew, counts as my signature.',
      hint: 'Draw with your finger.',
      strokes: typed.strokes,
      typed: typed.signerName,
      confirmed: typed.confirmed,
      errors: { strokes: errorOf('signature'), typed: errorOf('signer_name'), confirm: errorOf('confirmed') },
    })}
    ${
      problem?.code === 'contradiction' &&
      textField({
        name: 'override_reason',
        label: 'For the technician: why it is right as it is',
        value: typed.overrideReason,
        error: errorOf('override_reason'),
        maxLength: 500,
      })
    }`;
}

/** Above the signature: what the answer says, and what is agreed to by giving it on a screen. */
export function wordsSigned({ text, consent }: AnswerFields['words']): Html {
  return html`<div class="words-signed"><p>${text.text}</p>${consent && html`<p><b>Signing on a screen.</b> ${consent.text}</p>`}</div>`;
}

/** For the signer's copy; nobody has to be reachable. */
function contactFields({ typed, contact, errorOf }: AnswerFields): Html {
  const another = contact === 'another_email';
  return html`${textField({
    name: 'signer_email',
    label: another ? 'Another e-mail address for your copy' : 'Your e-mail address',
    hint: another
      ? 'Without one it goes where this link went, if that was an e-mail address.'
      : 'For your copy, if you want one',
    type: 'email',
    value: typed.signerEmail,
    error: errorOf('signer_email'),
    maxLength: 254,
    autocomplete: 'off',
  })}
    ${
      !another &&
      textField({
        name: 'signer_phone',
        label: 'Your phone',
        hint: 'To ask you, or to text you your copy',
        type: 'tel',
        value: typed.signerPhone,
        error: errorOf('signer_phone'),
        maxLength: 40,
        autocomplete: 'off',
      })
    }`;
}

/** By the account's terms it is settled who signs; where either may, the signer says which. */
function signerFields(
  signer: SignerRole | null,
  typed: TypedAnswer,
  errorOf: (field: string) => string | undefined,
): Html {
  if (signer !== null)
    return html`<p>You sign as the ${signerRoles[signer]}.</p>${hiddenField('signer_role', signer)}`;
  return radioCards({
    name: 'signer_role',
    label: 'You are the',
    value: typed.signerRole,
    required: true,
    error: errorOf('signer_role'),
    choices: Object.entries(signerRoles).map(([value, label]) => ({ value, label: capital(label) })),
  });
}

function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
