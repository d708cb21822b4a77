import { findInvoiceOfWorkFrom } from '@grainwright/db';
import { type Day, dayWords, ok, type Result, refuse } from '@grainwright/domain';
import type { Scope } from '../perform.ts';

/** Refuses a change of a place's taxes from a day on which, or after which, work done there is invoiced already. */
export async function checkNotInvoiced({ tx }: Scope, areaCode: string, from: Day): Promise<Result<void>> {
  const invoice = await findInvoiceOfWorkFrom(tx, areaCode, from);
  if (invoice === null) return ok(undefined);
  return refuse(
    'dates_out_of_order',
    `${invoice.number} taxed work of ${dayWords(invoice.workedOn)} in ${areaCode} already, and what is invoiced stays. Choose a later day, and ask your adviser how to correct what was invoiced.`,
    'valid_from',
  );
}
