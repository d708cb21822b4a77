import { type FoundInvoice, findRemainingBasis } from '@grainwright/db';
import {
  type Credit,
  creditByDifference,
  type Day,
  type InvoiceBasis,
  type InvoiceId,
  ok,
  type Result,
  refuse,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { fromStoredJson } from '../stored-json.ts';
import { stands } from './open-invoice.ts';
import { type CorrectionInput, readCorrection } from './read-correction.ts';
import { readEventDay } from './read-event-day.ts';

export interface WantedCredit extends CorrectionInput {
  readonly reason: string;
  /** An earlier day of a month that is open; null: today. */
  readonly issuedOn: string | null;
}

export interface ComputedCredit {
  readonly credit: Credit;
  readonly reason: string;
  readonly issuedOn: Day;
}

/**
 * What a credit note comes to: the invoice as it stands after its credits less the invoice computed again with what was
 * wrong put right, everything else frozen. Refuses with `wrong_state` a document that is void or bills no work, and
 * what `creditByDifference` refuses.
 */
export async function computeCredit(
  scope: Scope,
  invoice: FoundInvoice,
  wanted: WantedCredit,
): Promise<Result<ComputedCredit>> {
  const standing = stands(invoice);
  if (!standing.ok) return standing;
  const basis = await readRemaining(scope, invoice.id);
  if (basis === null)
    return refuse(
      'wrong_state',
      `${invoice.number} bills no work, so there is no line to credit. Write it off.`,
    );
  const reason = readWords(wanted.reason, 'reason', 'the reason for the credit', 500);
  if (!reason.ok) return reason;
  const since = { day: invoice.issuedOn, what: invoice.number };
  const issuedOn = readEventDay(scope, wanted.issuedOn, since, 'issued_on');
  if (!issuedOn.ok) return issuedOn;
  const correction = await readCorrection(scope, invoice.accountId, basis, wanted);
  if (!correction.ok) return correction;
  const credit = creditByDifference(basis, correction.value);
  if (!credit.ok) return credit;
  return ok({ credit: credit.value, reason: reason.value, issuedOn: issuedOn.value });
}

/** What an invoice is computed from after its credits; null for a document that bills no work. */
export async function readRemaining({ tx }: Scope, id: InvoiceId): Promise<InvoiceBasis | null> {
  const stored = await findRemainingBasis(tx, id);
  return stored === null ? null : fromStoredJson<InvoiceBasis>(stored);
}
