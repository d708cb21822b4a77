import { findAccount, insertOpenDocument, takeNumber } from '@grainwright/db';
import {
  type AccountId,
  type Day,
  feeCharged,
  type InvoiceId,
  type JournalEntry,
  toId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';

/** A charge that is a document of its own and due at once. */
export interface FeeToCharge {
  readonly accountId: AccountId;
  readonly kind: 'return_fee' | 'late_charge';
  readonly amountMinor: bigint;
  readonly on: Day;
  /** What it is for, as the customer reads it. */
  readonly subject: string;
}

export interface ChargedFeeDocument {
  readonly id: InvoiceId;
  readonly number: string;
  readonly entry: JournalEntry;
}

/** Writes the document of a fee, numbered without gaps among the fees, and answers the entry to post. */
export async function chargeFee(scope: Scope, fee: FeeToCharge): Promise<ChargedFeeDocument> {
  const { tx, business, actor, now } = scope;
  const { accountId, kind, amountMinor, on, subject } = fee;
  const account = await findAccount(tx, accountId);
  if (account === null) throw new Error('a payment without its account');
  const id = toId<InvoiceId>(scope.newId());
  const sequence = await takeNumber(tx, 'fee');
  const number = `${business.feePrefix}${sequence}`;
  const { name, address, phone, email } = business;
  const inserted = await insertOpenDocument(tx, {
    id,
    sequence,
    number,
    accountId,
    issuedOn: on,
    dueOn: on,
    currency: business.currency,
    seller: toStoredJson({ name, address, phone, email }),
    buyer: toStoredJson({ name: account.name, address: account.billingAddress, phone: '', email: '' }),
    netMinor: amountMinor,
    taxMinor: 0n,
    totalMinor: amountMinor,
    issuedBy: actor.personId,
    issuedAt: now,
    kind,
    subject,
  });
  if (!inserted) throw new Error(`there is a ${number} already`);
  return { id, number, entry: feeCharged({ party: accountId, on, kind, invoiceId: id, amountMinor }) };
}
