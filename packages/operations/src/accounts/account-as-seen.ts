import { type AccountId, ok, type Result, refuse } from '@grainwright/domain';
import type { AccountTermsInput } from './account-terms.ts';

/** What somebody saw of an account before they changed it: terms as the account says them, as many as they like. */
export type AccountAsSeen = { readonly [Name in keyof AccountAsStored]?: AccountAsStored[Name] | undefined };

export interface AccountAsStored extends AccountTermsInput {
  readonly endedOn: string | null;
  readonly successorId: AccountId | null;
}

/** Refuses with `shown_changed` where the account says something else by now than what was seen. */
export function refuseChangedSince(stored: AccountAsStored, seen: AccountAsSeen | undefined): Result<void> {
  if (seen === undefined) return ok(undefined);
  const is = new Map<string, unknown>(Object.entries(stored));
  const changed = Object.entries(seen)
    .filter(([name, value]) => value !== undefined && written(is.get(name)) !== written(value))
    .map(([name]) => termNames.get(name) ?? name);
  if (changed.length === 0) return ok(undefined);
  const names = new Intl.ListFormat('en-US', { type: 'conjunction' }).format(changed);
  return refuse(
    'shown_changed',
    `Somebody changed this account since you opened it: ${names}. Nothing of yours is saved yet. Look at what it says now, then send again.`,
  );
}

function written(value: unknown): string {
  return value === null || value === undefined ? '' : String(value);
}

const termNames: ReadonlyMap<string, string> = new Map(
  Object.entries({
    shortName: 'the short name',
    name: 'the name',
    kind: 'the kind',
    billingAddress: 'the billing address',
    tierCode: 'the prices',
    taxAreaCode: 'the tax area',
    termsDays: 'the days to pay',
    statementKind: 'the statement',
    invoiceRule: 'the invoices',
    requiresRo: 'whether an RO number is needed',
    requiresPo: 'whether a PO number is needed',
    ownNumberKind: 'their number for a vehicle',
    ownNumberRequired: 'whether their number is needed',
    acceptanceRule: 'the acceptance',
    photoRule: 'the photos',
    showsPricesAtAcceptance: 'whether the signer sees prices',
    walkIn: 'whether they come in',
    noShowFee: 'the no-show fee',
    appliesMoneyItself: 'whether money is applied by itself',
    statementEmail: 'the e-mail address for statements',
    remindAfterHours: 'when they are reminded',
    groupId: 'the group',
    endedOn: 'the last day',
    successorId: 'the successor',
  } satisfies Record<keyof AccountAsStored, string>),
);
