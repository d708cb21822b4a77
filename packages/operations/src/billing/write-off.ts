import { findWriteOff, insertWriteOff, sumStandingWriteOffs } from '@grainwright/db';
import {
  buildInvoice,
  type Day,
  displayMoney,
  formatMinor,
  type InvoiceId,
  ok,
  parseMoney,
  type Result,
  refuse,
  type TaxAmount,
  type WriteOffId,
  type WriteOffKind,
  writeOffKinds,
  writeOffShare,
  writtenOff,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { readRemaining } from './compute-credit.ts';
import type { InvoiceView } from './invoice-view.ts';
import { creditIsApplied, type OpenedInvoice, openInvoice, stands } from './open-invoice.ts';
import { postEntries } from './post-entries.ts';
import { readEventDay } from './read-event-day.ts';
import { readInvoiceOf } from './read-invoice.ts';
import { settleInvoices } from './settle-invoices.ts';

export interface WriteOffInput {
  /** Made by the client: the same id with the same content again is the same write-off. */
  readonly writeOffId: WriteOffId;
  readonly invoiceId: InvoiceId;
  readonly amount: string;
  readonly kind: string;
  /** May be empty for a small difference. */
  readonly reason: string;
  /** Null: today. */
  readonly on: string | null;
}

interface WantedWriteOff {
  readonly kind: WriteOffKind;
  readonly amountMinor: bigint;
  readonly reason: string;
  readonly on: Day;
}

/**
 * Lets go of a part of an invoice: a debt that will not be paid, or the small difference that a payment left open, up
 * to what the business allows. Work whose invoice a bad debt settles is written off; a small difference leaves it paid.
 * Refuses with `wrong_state`, `invalid_money`, `over_payment`, `dates_out_of_order`, `month_closed`, `id_reused`.
 */
export function writeOff(
  services: Services,
  actor: Actor,
  input: WriteOffInput,
): Promise<Result<InvoiceView>> {
  return performAsStaff(services, actor, 'write_off', async (scope) => {
    const opened = await openInvoice(scope, input.invoiceId);
    if (!opened.ok) return opened;
    const { invoice, locked } = opened.value;
    const wanted = readWriteOff(scope, opened.value, input);
    if (!wanted.ok) return wanted;
    const { kind, amountMinor, reason, on } = wanted.value;
    const before = await findWriteOff(scope.tx, input.writeOffId);
    if (before !== null)
      return sameContent(before, { invoiceId: invoice.id, kind, amountMinor, reason }) &&
        (input.on === null || before.writtenOffOn === on)
        ? readInvoiceOf(scope, invoice.id)
        : refuse('id_reused', 'That id is another write-off already.', 'id');
    const allowed = allowedToLetGo(scope, opened.value, wanted.value);
    if (!allowed.ok) return allowed;
    const applied = await creditIsApplied(scope, opened.value, amountMinor);
    if (!applied.ok) return applied;
    const source = { unappliedMinor: amountMinor, currency: invoice.currency, receivedOn: on };
    const settled = await settleInvoices(
      scope,
      source,
      [{ invoice: locked, amountMinor, field: 'amount' }],
      on,
      { type: kind === 'bad_debt' ? 'written_off' : 'settled' },
    );
    if (!settled.ok) return settled;
    const taxes = await reclaimedTaxes(scope, invoice.id, amountMinor);
    const written = await write(scope, opened.value, input.writeOffId, wanted.value, taxes);
    return written.ok ? readInvoiceOf(scope, invoice.id) : written;
  });
}

function readWriteOff(
  scope: Scope,
  { invoice }: OpenedInvoice,
  input: WriteOffInput,
): Result<WantedWriteOff> {
  const kind = Object.keys(writeOffKinds).find((each): each is WriteOffKind => each === input.kind);
  if (kind === undefined)
    return refuse('invalid_input', 'Say why it is let go: a bad debt or a small difference.', 'kind');
  const amount = parseMoney(input.amount, { currency: invoice.currency, field: 'amount' });
  if (!amount.ok) return amount;
  const words = kind === 'bad_debt' ? readWords : readOptionalWords;
  const reason = words(input.reason, 'reason', 'why it will not be paid', 500);
  if (!reason.ok) return reason;
  const on = readEventDay(scope, input.on, { day: invoice.issuedOn, what: invoice.number }, 'on');
  if (!on.ok) return on;
  return ok({ kind, amountMinor: amount.value, reason: reason.value, on: on.value });
}

function allowedToLetGo(
  { business }: Scope,
  { invoice, locked }: OpenedInvoice,
  { kind, amountMinor }: WantedWriteOff,
): Result<true> {
  const standing = stands(invoice);
  if (!standing.ok || kind === 'bad_debt') return standing;
  const most = business.smallDifferenceMinor;
  if (amountMinor > most)
    return refuse(
      'invalid_money',
      `A small difference is ${displayMoney(most, invoice.currency)} at most here. Write a larger amount off as a bad debt.`,
      'amount',
    );
  if (amountMinor !== locked.openMinor)
    return refuse(
      'invalid_money',
      `A small difference is what is left open, ${displayMoney(locked.openMinor, invoice.currency)}.`,
      'amount',
    );
  return ok(true);
}

/** The sales tax in it, where the business's policy takes that back; a document that bills no work has none. */
async function reclaimedTaxes(
  scope: Scope,
  invoiceId: InvoiceId,
  amountMinor: bigint,
): Promise<readonly TaxAmount[]> {
  if (!scope.business.writeOffReclaimsTax) return [];
  const basis = await readRemaining(scope, invoiceId);
  if (basis === null) return [];
  const { tax, totals } = buildInvoice(basis);
  const taxes = tax.areas.flatMap(({ areaCode, components }) =>
    components.map(({ name, amountMinor: taxMinor }) => ({
      areaCode,
      component: name,
      amountMinor: taxMinor,
    })),
  );
  const charged = { netMinor: totals.withoutTaxMinor, taxes };
  return writeOffShare(amountMinor, charged, await sumStandingWriteOffs(scope.tx, invoiceId));
}

async function write(
  scope: Scope,
  { invoice }: OpenedInvoice,
  id: WriteOffId,
  { kind, amountMinor, reason, on }: WantedWriteOff,
  taxes: readonly TaxAmount[],
): Promise<Result<true>> {
  const row = {
    id,
    accountId: invoice.accountId,
    invoiceId: invoice.id,
    kind,
    amountMinor,
    reason,
    writtenOffOn: on,
    writtenOffBy: scope.actor.personId,
    writtenOffAt: scope.now,
  };
  if (!(await insertWriteOff(scope.tx, row, taxes)))
    return refuse('id_reused', 'That id is another write-off already.', 'id');
  await record(
    scope,
    'written_off',
    { kind: 'invoice', id: invoice.id },
    { number: invoice.number, amount: formatMinor(amountMinor, invoice.currency), kind, reason },
  );
  const loss = { party: invoice.accountId, on, invoiceId: invoice.id, amountMinor, taxes };
  return postEntries(scope, [writtenOff(loss)], 'on');
}
