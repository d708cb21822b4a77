import { ok, type Result, refuse } from '@grainwright/domain';

/** The code of a tier or a care factor. */
export function readCode(text: string): Result<string> {
  return /^[a-z_]{1,20}$/.test(text)
    ? ok(text)
    : refuse('invalid_input', 'Write a code of one to twenty small letters, like trade.', 'code');
}

/** The code of a rate, as it is printed on documents. */
export function readRateCode(text: string): Result<string> {
  return /^[A-Z0-9-]{1,12}$/.test(text)
    ? ok(text)
    : refuse(
        'invalid_input',
        'Write a code of one to twelve capitals, figures and dashes, like VC-M.',
        'code',
      );
}
