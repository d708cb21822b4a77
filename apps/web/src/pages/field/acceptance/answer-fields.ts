import { acceptanceOutcomes, type Problem, type SignerRole, signerRoles } from '@grainwright/domain';
import { hiddenField, radioCards, textArea, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { signatureField } from '../../../look/signature.ts';
import type { TypedAnswer } from './typed-answer.ts';

export const answerFieldNames = [
  'outcome',
  'remark',
  'signer_name',
  'signer_role',
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
  readonly problem: Problem | null;
  readonly errorOf: (field: string) => string | undefined;
}

/** How they find it, who they are, and the signature. */
export function answerFields({ typed, signer, outcomes, remarkHint, problem, errorOf }: AnswerFields): Html {
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
