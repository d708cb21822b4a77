import type { AcceptanceRow } from '@grainwright/db';
import { ok, type Result } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readMailAddress } from '../mail/mail-address.ts';
import { readOptionalWords } from '../read-input.ts';

/** How to reach the signer: nothing of it is needed. Refuses with `invalid_input`. */
export function readSignerContact(said: {
  readonly signerEmail?: string;
  readonly signerPhone?: string;
}): Result<Pick<AcceptanceRow, 'signerEmail' | 'signerPhone'>> {
  const email = said.signerEmail?.trim() ?? '';
  return everyResult({
    signerEmail: email === '' ? ok('') : readMailAddress(email, 'signer_email'),
    signerPhone: readOptionalWords(said.signerPhone ?? '', 'signer_phone', 'the telephone number', 40),
  });
}
