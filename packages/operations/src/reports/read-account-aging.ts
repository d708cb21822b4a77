import { findStatementAccount, listOpenItems, type OpenItemRow, sumAccountCredit } from '@grainwright/db';
import { type AccountId, type AgedItem, type Aging, age, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { readAsOf } from './read-aging.ts';

export interface ReadAccountAgingInput {
  readonly accountId: AccountId;
  /** A day as text; null for today. */
  readonly asOf: string | null;
}

/** What one account owed on a day, document by document. Amounts are minor units of `currency`. */
export interface AccountAgingView extends Omit<Aging, 'items'> {
  readonly accountId: AccountId;
  readonly name: string;
  readonly currency: string;
  /** Oldest due first; the longest list that is shown has 1,000. */
  readonly items: readonly (AgedItem & Pick<OpenItemRow, 'disputedMinor'>)[];
}

const itemsMax = 1000;

/** The open items behind a row of the aging. */
export function readAccountAging(
  services: Services,
  actor: Actor,
  input: ReadAccountAgingInput,
): Promise<Result<AccountAgingView>> {
  return performAsStaff(services, actor, 'see_statements', async ({ tx, business, today }) => {
    const account = await findStatementAccount(tx, input.accountId);
    if (account === null) return refuse('not_found', 'There is no such account.');
    const asOf = readAsOf(input.asOf, today);
    if (!asOf.ok) return asOf;
    const open = await listOpenItems(tx, input.accountId, asOf.value, itemsMax);
    const creditMinor = (await sumAccountCredit(tx, asOf.value)).get(input.accountId) ?? 0n;
    const aging = age({
      asOf: asOf.value,
      basis: business.agingBasis,
      // The sums are those of that day already, so nothing is left to settle.
      items: open.map((item) => ({
        ...item,
        postedOn: asOf.value,
        amountMinor: item.openMinor,
        settlements: [],
      })),
      credits: [{ on: asOf.value, amountMinor: creditMinor }],
    });
    const disputed = new Map(open.map((item) => [item.invoiceId, item.disputedMinor]));
    return ok({
      ...aging,
      accountId: input.accountId,
      name: account.name,
      currency: business.currency,
      items: aging.items.map((item) => ({ ...item, disputedMinor: disputed.get(item.invoiceId) ?? 0n })),
    });
  });
}
