import type { JoinedWorkOrder } from '@grainwright/db';
import { type GivenNumbers, ok, ownNumberKinds, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readOptionalWords } from '../read-input.ts';

/** What decides about an account's own number, and how to call the account in a refusal. */
export type NumberedAccount = Pick<
  JoinedWorkOrder['account'],
  'name' | 'ownNumberKind' | 'ownNumberRequired'
>;

/** Reads an account's numbers for one work order; empty text stays empty, unless the account needs its own number. */
export function readNumbers(input: GivenNumbers, account: NumberedAccount): Result<GivenNumbers> {
  return everyResult({
    ownNumber: readOwnNumber(input.ownNumber, account),
    roNumber: readOptionalWords(input.roNumber, 'ro_number', 'the RO number', 40),
    poNumber: readOptionalWords(input.poNumber, 'po_number', 'the PO number', 40),
  });
}

function readOwnNumber(text: string, account: NumberedAccount): Result<string> {
  const { ownNumberKind, ownNumberRequired } = account;
  const name = ownNumberKind === null ? 'own number' : ownNumberKinds[ownNumberKind];
  const read = readOptionalWords(text, 'own_number', `the ${name}`, 40);
  if (!read.ok) return read;
  if (read.value !== '' && ownNumberKind === null)
    return refuse(
      'invalid_input',
      `${account.name} gives vehicles no number of its own. Leave it empty, or write it as the RO or PO.`,
      'own_number',
    );
  if (read.value === '' && ownNumberRequired)
    return refuse('number_missing', `${account.name} needs its ${name} on every work order.`, 'own_number');
  return ok(read.value.replace(/\s+/g, ' '));
}
