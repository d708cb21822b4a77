import {
  type FoundInvoice,
  insertVoid,
  listCreditNotes,
  listInvoiceLines,
  listInvoiceTaxes,
  reduceInvoiceBalance,
} from '@grainwright/db';
import {
  dayWords,
  displayMoney,
  type InvoiceId,
  type IssuedInvoice,
  invoiceVoided,
  ok,
  type Result,
  refuse,
  sumMinor,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readWords } from '../read-input.ts';
import type { Services } from '../services.ts';
import { type InvoiceView, invoiceViewOf } from './invoice-view.ts';
import { type OpenedInvoice, openInvoice } from './open-invoice.ts';
import { postEntries } from './post-entries.ts';
import { readInvoiceOf } from './read-invoice.ts';
import { advanceWorkOf } from './settle-invoices.ts';

export interface VoidInvoiceInput {
  readonly invoiceId: InvoiceId;
  readonly reason: string;
}

/**
 * Takes an invoice back whole, today, with its number kept: what it posted is reversed, and its work orders are
 * accepted again and may be invoiced anew. Refuses with `wrong_state` while anything settles it or a credit note is on
 * it. Doing it again with the same reason changes nothing.
 */
export function voidInvoice(
  services: Services,
  actor: Actor,
  input: VoidInvoiceInput,
): Promise<Result<InvoiceView>> {
  return performAsStaff(services, actor, 'void_invoice', async (scope) => {
    const opened = await openInvoice(scope, input.invoiceId);
    if (!opened.ok) return opened;
    const reason = readWords(input.reason, 'reason', 'why it is void', 500);
    if (!reason.ok) return reason;
    const { invoice } = opened.value;
    if (invoice.voidedOn !== null)
      return invoice.voidReason === reason.value
        ? ok(await invoiceViewOf(scope, invoice))
        : refuse(
            'wrong_state',
            `${invoice.number} was voided on ${dayWords(invoice.voidedOn)}: ${invoice.voidReason}`,
          );
    const free = await nothingOnIt(scope, opened.value);
    if (!free.ok) return free;
    const taken = await takeBack(scope, invoice, reason.value);
    if (!taken.ok) return taken;
    return readInvoiceOf(scope, invoice.id);
  });
}

async function nothingOnIt(scope: Scope, { invoice, locked }: OpenedInvoice): Promise<Result<true>> {
  const { number, currency, totalMinor, kind } = invoice;
  if (kind !== 'invoice')
    return refuse('wrong_state', `${number} is no invoice for work. Write off what is not to be paid of it.`);
  const { tx } = scope;
  const [note] = await listCreditNotes(tx, { accountId: null, invoiceId: invoice.id, past: null, limit: 1 });
  if (note !== undefined)
    return refuse(
      'wrong_state',
      `${note.number} credits a part of ${number}, so it can’t be voided. Credit the rest as well.`,
    );
  if (locked.openMinor === totalMinor) return ok(true);
  const { settledBy, letGo, creditedBy } = await invoiceViewOf(scope, invoice);
  const lasting = [
    ...creditedBy.map(
      (each) => `${each.number} settles ${displayMoney(each.amountMinor, currency)} of it for good`,
    ),
    ...letGo
      .filter((each) => each.writeOffId === null)
      .map((each) => `a discount of ${displayMoney(each.amountMinor, currency)} was taken`),
  ];
  if (lasting.length > 0)
    return refuse('wrong_state', `${number} can’t be voided: ${lasting.join('; ')}. Credit it instead.`);
  const first = [
    ...settledBy.map(
      (each) =>
        `un-apply the ${displayMoney(each.amountMinor, currency)} received ${dayWords(each.receivedOn)}`,
    ),
    ...letGo.map(
      (each) => `recover the ${displayMoney(each.amountMinor, currency)} written off on ${dayWords(each.on)}`,
    ),
  ];
  return refuse(
    'wrong_state',
    `${number} is settled by ${displayMoney(totalMinor - locked.openMinor, currency)} already. First ${first.join('; ')}.`,
  );
}

async function takeBack(scope: Scope, invoice: FoundInvoice, reason: string): Promise<Result<true>> {
  const { tx, today, now, actor } = scope;
  const posting = await issuedPosting(scope, invoice);
  if ((await reduceInvoiceBalance(tx, invoice.id, invoice.totalMinor)) === null)
    throw new Error('less is open than was locked');
  const advanced = await advanceWorkOf(scope, [invoice.id], { type: 'invoice_voided' });
  if (!advanced.ok) return advanced;
  await insertVoid(tx, {
    invoiceId: invoice.id,
    voidedOn: today,
    reason,
    voidedBy: actor.personId,
    voidedAt: now,
  });
  await record(
    scope,
    'invoice_voided',
    { kind: 'invoice', id: invoice.id },
    { number: invoice.number, reason },
  );
  return postEntries(scope, [invoiceVoided(posting)]);
}

/** What the invoice posted when it was issued, drawn from what is printed on it, dated today. */
async function issuedPosting({ tx, today }: Scope, invoice: FoundInvoice): Promise<IssuedInvoice> {
  const lines = await listInvoiceLines(tx, invoice.id);
  const taxes = await listInvoiceTaxes(tx, invoice.id);
  const netOf = (kind: 'trip' | 'fee') =>
    sumMinor(lines.filter((line) => line.kind === kind).map((line) => line.netMinor));
  return {
    invoiceId: invoice.id,
    party: invoice.accountId,
    on: today,
    laborMinor: sumMinor(lines.map((line) => line.laborMinor)),
    materialsMinor: sumMinor(lines.map((line) => line.materialsMinor)),
    tripMinor: netOf('trip'),
    feeMinor: netOf('fee'),
    taxes: taxes.map(({ areaCode, component, taxMinor }) => ({ areaCode, component, amountMinor: taxMinor })),
  };
}
