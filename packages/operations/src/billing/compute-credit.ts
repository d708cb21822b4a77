import {
  type FoundInvoice,
  findRemainingBasis,
  listLetGoOfInvoice,
  sumCreditedOfInvoice,
} from '@grainwright/db';
import {
  type Credit,
  creditByDifference,
  type Day,
  displayMoney,
  type InvoiceBasis,
  type InvoiceId,
  ok,
  type Result,
  refuse,
  sumMinor,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import { storedBasis } from '../stored-prices.ts';
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
 * wrong put right, everything else frozen. Refuses with `wrong_state` a document that is void or bills no work and a
 * credit of what was let go, and what `creditByDifference` refuses.
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
  const owed = await withinOwed(scope, invoice, credit.value.totalMinor);
  if (!owed.ok) return owed;
  return ok({ credit: credit.value, reason: reason.value, issuedOn: issuedOn.value });
}

/** What was let go was never paid: credited as well, it would be given back as money, and its tax taken back twice. */
async function withinOwed(
  { tx }: Scope,
  { id, number, currency, totalMinor }: FoundInvoice,
  creditMinor: bigint,
): Promise<Result<true>> {
  const letGo = await listLetGoOfInvoice(tx, id);
  const goneMinor = sumMinor(letGo.map((each) => each.amountMinor));
  const mostMinor = totalMinor - (await sumCreditedOfInvoice(tx, id)).totalMinor - goneMinor;
  if (goneMinor === 0n || creditMinor <= mostMinor) return ok(true);
  const shown = (amountMinor: bigint) => displayMoney(amountMinor, currency);
  const writtenMinor = sumMinor(
    letGo.filter((each) => each.kind !== 'discount').map((each) => each.amountMinor),
  );
  const words = `This credit comes to ${shown(creditMinor)}, and ${shown(goneMinor)} of ${number} was let go.`;
  if (writtenMinor > 0n)
    return refuse('wrong_state', `${words} Recover the ${shown(writtenMinor)} written off first.`);
  return refuse(
    'wrong_state',
    mostMinor > 0n
      ? `${words} The credit can be ${shown(mostMinor)} at most.`
      : `${words} Nothing of it is left to credit.`,
  );
}

/** What an invoice is computed from after its credits; null for a document that bills no work. */
export async function readRemaining({ tx }: Scope, id: InvoiceId): Promise<InvoiceBasis | null> {
  const stored = await findRemainingBasis(tx, id);
  return stored === null ? null : storedBasis(stored);
}
