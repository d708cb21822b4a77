import { type Result, refuse, type SignatureMark } from '@grainwright/domain';
import type { FormValues } from '../../../plugins/forms.ts';
import { readStrokes } from './strokes.ts';

/** Drawn where something was drawn, else the typed name and its confirmation. */
export function markOf(values: FormValues): Result<SignatureMark> {
  const drawn = values.text('signature');
  if (drawn === '')
    return {
      ok: true,
      value: { kind: 'typed', name: values.text('signer_name'), confirmed: values.checked('confirmed') },
    };
  const strokes = readStrokes(drawn);
  return strokes === null
    ? refuse('invalid_input', 'That drawing can’t be read. Clear it and sign again.', 'signature')
    : { ok: true, value: { kind: 'drawn', strokes } };
}
