import {
  acceptanceOutcomes,
  isUuid,
  ok,
  type Result,
  refuse,
  type SignatureMark,
  signerRoles,
} from '@grainwright/domain';
import type { SignedAnswer } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';
import { readStrokes } from './strokes.ts';

/** The answer as it was chosen, typed and drawn, and kept when the form comes back. */
export interface TypedAnswer {
  readonly id: string;
  readonly outcome: string;
  readonly remark: string;
  readonly signerName: string;
  readonly signerRole: string;
  readonly strokes: string;
  readonly confirmed: boolean;
  readonly overrideReason: string;
  readonly signerEmail: string;
  readonly signerPhone: string;
}

export const nothingAnswered: Omit<TypedAnswer, 'id'> = {
  outcome: '',
  remark: '',
  signerName: '',
  signerRole: '',
  strokes: '',
  confirmed: false,
  overrideReason: '',
  signerEmail: '',
  signerPhone: '',
};

export function typedAnswer(values: FormValues, newId: () => string): TypedAnswer {
  return {
    id: isUuid(values.text('id')) ? values.text('id') : newId(),
    outcome: values.text('outcome'),
    remark: values.text('remark'),
    signerName: values.text('signer_name'),
    signerRole: values.text('signer_role'),
    strokes: values.text('signature'),
    confirmed: values.checked('confirmed'),
    overrideReason: values.text('override_reason'),
    signerEmail: values.text('signer_email'),
    signerPhone: values.text('signer_phone'),
  };
}

/** The answer to send; refused where the form was not whole. */
export function answerIn(values: FormValues, device: string): Result<SignedAnswer> {
  const outcome = values.text('outcome');
  if (!isKey(acceptanceOutcomes, outcome))
    return refuse('invalid_input', 'Choose how you find the repair.', 'outcome');
  const signerRole = values.text('signer_role');
  if (!isKey(signerRoles, signerRole)) return refuse('invalid_input', 'Choose who you are.', 'signer_role');
  const mark = markOf(values);
  if (!mark.ok) return mark;
  return ok({
    outcome,
    remark: values.text('remark'),
    signerName: values.text('signer_name'),
    signerRole,
    mark: mark.value,
    overrideReason: values.text('override_reason'),
    signerEmail: values.text('signer_email'),
    signerPhone: values.text('signer_phone'),
    device,
  });
}

/** Drawn where something was drawn, else the typed name and its confirmation. */
function markOf(values: FormValues): Result<SignatureMark> {
  const drawn = values.text('signature');
  if (drawn === '')
    return ok({ kind: 'typed', name: values.text('signer_name'), confirmed: values.checked('confirmed') });
  const strokes = readStrokes(drawn);
  return strokes === null
    ? refuse('invalid_input', 'That drawing can’t be read. Clear it and sign again.', 'signature')
    : ok({ kind: 'drawn', strokes });
}

function isKey<Key extends string>(words: Readonly<Record<Key, string>>, text: string): text is Key {
  return Object.hasOwn(words, text);
}
