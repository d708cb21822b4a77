import { findParkedReceipt, insertParkedReceipt, type ParkedReceiptRow } from '@grainwright/db';
import {
  formatMinor,
  ok,
  type ReceiptId,
  type Result,
  receiptOfUnknownPayer,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type ParkedReceiptView, parkedReceiptViewOf } from './parked-receipt-view.ts';
import { postEntries } from './post-entries.ts';
import { placeOf, readAmount, readMethod, readMoneyDay, readReference } from './receipt-input.ts';

export interface ParkReceiptInput {
  /** Made by the client: the same id with the same content again is the same receipt. */
  readonly receiptId: ReceiptId;
  readonly method: string;
  readonly amount: string;
  readonly receivedOn: string;
  readonly reference: string;
  /** What the check or the bank says of whoever sent it; may be empty. */
  readonly payer: string;
}

/** Records money whose payer nobody knows yet. It is nobody's credit until it is assigned. */
export function parkReceipt(
  services: Services,
  actor: Actor,
  input: ParkReceiptInput,
): Promise<Result<ParkedReceiptView>> {
  return performAsStaff(services, actor, 'record_payment', async (scope) => {
    const row = parkedRow(scope, input);
    if (!row.ok) return row;
    const { id, amountMinor, currency, method, receivedOn } = row.value;
    if (!(await insertParkedReceipt(scope.tx, row.value))) return parkedBefore(scope, row.value);
    await record(
      scope,
      'receipt_parked',
      { kind: 'parked_receipt', id },
      { amount: formatMinor(amountMinor, currency) },
    );
    const entry = receiptOfUnknownPayer({ on: receivedOn, amountMinor, place: placeOf(method) });
    const posted = await postEntries(scope, [entry], 'received_on');
    return posted.ok ? ok(await parkedReceiptViewOf(scope, id)) : posted;
  });
}

function parkedRow(scope: Scope, input: ParkReceiptInput): Result<ParkedReceiptRow> {
  const { currency } = scope.business;
  const read = everyResult({
    method: readMethod(input.method),
    amountMinor: readAmount(input.amount, currency, 'amount'),
    receivedOn: readMoneyDay(scope, input.receivedOn, 'received_on'),
    reference: readReference(input.reference),
    payer: readOptionalWords(input.payer, 'payer', 'who it seems to be from', 200),
  });
  if (!read.ok) return read;
  const recorded = { recordedBy: scope.actor.personId, recordedAt: scope.now };
  return ok({ id: input.receiptId, currency, ...read.value, ...recorded });
}

async function parkedBefore(scope: Scope, row: ParkedReceiptRow): Promise<Result<ParkedReceiptView>> {
  const found = await findParkedReceipt(scope.tx, row.id);
  if (found === null) throw new Error('a receipt that was just there is gone');
  const { assigned: _assigned, ...stored } = found;
  const { method, amountMinor, receivedOn, reference, payer } = row;
  if (sameContent(stored, { method, amountMinor, receivedOn, reference, payer }))
    return ok(await parkedReceiptViewOf(scope, row.id));
  return refuse('id_reused', 'That id is another receipt already.', 'id');
}
