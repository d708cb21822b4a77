import {
  countWaitingOfContacts,
  type FoundInvoice,
  findDispute,
  findInvoice,
  insertDispute,
  listInvoiceLines,
  lockDisputesOf,
} from '@grainwright/db';
import {
  type Day,
  type DisputeId,
  type DisputeReason,
  displayMoney,
  disputeReasons,
  formatMinor,
  type InvoiceId,
  type LineId,
  ok,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { type Actor, perform, record, type Scope } from '../perform.ts';
import { readOptionalWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type DisputeView, disputeView } from './dispute-view.ts';
import { stands } from './open-invoice.ts';
import { readEventDay } from './read-event-day.ts';

export interface OpenDisputeInput {
  /** Made by the client: the same id with the same content again is the same dispute. */
  readonly disputeId: DisputeId;
  readonly invoiceId: InvoiceId;
  /** The repair it is about; null: another charge, or an amount without a line. */
  readonly lineId: LineId | null;
  readonly amount: string;
  readonly reason: string;
  readonly note: string;
  /** The day the business learned of it; null: today. What a contact opens is of today. */
  readonly on: string | null;
}

interface WantedDispute {
  readonly lineId: LineId | null;
  readonly amountMinor: bigint;
  readonly reason: DisputeReason;
  readonly note: string;
  readonly openedOn: Day;
}

/**
 * Says that a part of an invoice is not agreed with: a contact of the account about its own invoices, or staff when
 * less was paid than was due. Never more than is open and not in dispute yet; the rest is collected as usual. Refuses
 * with `invalid_money`, `over_payment`, `dates_out_of_order`, `wrong_state`, `id_reused`.
 */
export function openDispute(
  services: Services,
  actor: Actor,
  input: OpenDisputeInput,
): Promise<Result<DisputeView>> {
  return perform(services, actor, 'dispute_invoice', async (scope) => {
    const { tx } = scope;
    await lockDisputesOf(tx, input.invoiceId);
    const invoice = await findInvoice(tx, input.invoiceId);
    if (invoice === null || (actor.accountId !== null && invoice.accountId !== actor.accountId))
      return refuse('not_found', 'There is no such invoice.');
    const wanted = await readDispute(scope, invoice, input);
    if (!wanted.ok) return wanted;
    const { openedOn, ...content } = wanted.value;
    const before = await findDispute(tx, input.disputeId);
    if (before !== null)
      return sameContent(before, { ...content, invoiceId: invoice.id }) &&
        (input.on === null || before.openedOn === openedOn)
        ? ok(disputeView(scope, before))
        : refuse('id_reused', 'That id is another dispute already.', 'id');
    const free = leftToDispute(invoice, content.amountMinor);
    if (!free.ok) return free;
    const few = await notTooMany(scope, invoice);
    if (!few.ok) return few;
    return write(scope, invoice, input.disputeId, wanted.value);
  });
}

async function readDispute(
  scope: Scope,
  invoice: FoundInvoice,
  input: OpenDisputeInput,
): Promise<Result<WantedDispute>> {
  const reason = readReason(scope, input.reason);
  if (!reason.ok) return reason;
  const amount = parseMoney(input.amount, { currency: invoice.currency, field: 'amount' });
  if (!amount.ok) return amount;
  if (amount.value <= 0n) return refuse('invalid_money', 'Write an amount above zero.', 'amount');
  const note = readOptionalWords(input.note, 'note', 'what is wrong', 2000);
  if (!note.ok) return note;
  const { lineId } = input;
  const lines = lineId === null ? [] : await listInvoiceLines(scope.tx, invoice.id);
  if (lineId !== null && !lines.some((line) => line.lineId === lineId))
    return refuse('invalid_input', 'That line is not on this invoice. Open the invoice again.', 'line_id');
  const asked = scope.actor.accountId === null ? input.on : null;
  const on = readEventDay(scope, asked, { day: invoice.issuedOn, what: invoice.number }, 'on');
  if (!on.ok) return on;
  return ok({
    lineId,
    amountMinor: amount.value,
    reason: reason.value,
    note: note.value,
    openedOn: on.value,
  });
}

/** That a discount was taken, or that nobody said why, is what the business notes of a short payment. */
const contactReasons: readonly DisputeReason[] = ['disputed', 'error'];

function readReason({ actor }: Scope, text: string): Result<DisputeReason> {
  const reason = Object.keys(disputeReasons).find((each): each is DisputeReason => each === text);
  if (reason !== undefined && (actor.accountId === null || contactReasons.includes(reason)))
    return ok(reason);
  return refuse('invalid_input', 'Choose why it is not paid.', 'reason');
}

function leftToDispute(invoice: FoundInvoice, amountMinor: bigint): Result<true> {
  const standing = stands(invoice);
  if (!standing.ok) return standing;
  const { number, currency, openMinor, claimedMinor } = invoice;
  const leftMinor = openMinor - claimedMinor;
  if (amountMinor <= leftMinor) return ok(true);
  const shown = displayMoney(leftMinor, currency);
  return refuse(
    'over_payment',
    leftMinor > 0n
      ? `Only ${shown} of ${number} is open and not in dispute yet. Dispute that much at most.`
      : `Nothing of ${number} is open that is not in dispute already.`,
    'amount',
  );
}

/** More of them on one invoice is nobody's question any more. */
const waitingOfContactsMax = 20;

async function notTooMany({ tx, actor }: Scope, { id, number }: FoundInvoice): Promise<Result<true>> {
  if (actor.accountId === null || (await countWaitingOfContacts(tx, id)) < waitingOfContactsMax)
    return ok(true);
  return refuse(
    'wrong_state',
    `${waitingOfContactsMax} disputes on ${number} wait for an answer already. Wait for the answers to those.`,
  );
}

async function write(
  scope: Scope,
  { id: invoiceId, accountId, number, currency }: FoundInvoice,
  id: DisputeId,
  wanted: WantedDispute,
): Promise<Result<DisputeView>> {
  const { tx, actor, now } = scope;
  const by = { byContact: actor.accountId !== null, openedBy: actor.personId, openedAt: now };
  if (!(await insertDispute(tx, { id, accountId, invoiceId, ...wanted, ...by })))
    return refuse('id_reused', 'That id is another dispute already.', 'id');
  const amount = formatMinor(wanted.amountMinor, currency);
  const detail = { number, amount, reason: wanted.reason };
  await record(scope, 'dispute_opened', { kind: 'invoice', id: invoiceId }, detail);
  const found = await findDispute(tx, id);
  if (found === null) throw new Error('the dispute just opened is not there');
  return ok(disputeView(scope, found));
}
