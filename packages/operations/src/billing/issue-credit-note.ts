import {
  findCreditNote,
  insertCreditApplication,
  insertCreditNote,
  listInvoiceLines,
  reduceCreditNoteBalance,
  takeNumber,
} from '@grainwright/db';
import {
  type ApplicationId,
  type CreditNoteId,
  canonicalJson,
  creditApplied,
  creditNoteIssued,
  formatMinor,
  type InvoiceId,
  type JournalEntry,
  lesserMinor,
  ok,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { toStoredJson } from '../stored-json.ts';
import { type ComputedCredit, computeCredit, type WantedCredit } from './compute-credit.ts';
import { type CreditNoteParts, creditNoteDocument, creditNotePosting } from './credit-note-document.ts';
import { type CreditNoteView, creditNoteViewOf } from './credit-note-view.ts';
import { type OpenedInvoice, openInvoice } from './open-invoice.ts';
import { postEntries } from './post-entries.ts';
import { settleInvoices } from './settle-invoices.ts';

export interface IssueCreditNoteInput extends WantedCredit {
  /** Made by the client: the same id with the same content again is the same credit note. */
  readonly creditNoteId: CreditNoteId;
  readonly invoiceId: InvoiceId;
  /** Settle the invoice with it at once, up to what is open; the rest stays account credit. */
  readonly apply: boolean;
}

/**
 * Issues a credit note on an invoice: what stands of it less what it comes to with what was wrong put right. It becomes
 * account credit and, where asked, settles the invoice. Refuses with `wrong_state`, `invalid_money`, `price_by_hand`,
 * `dates_out_of_order`, `month_closed`, `id_reused`. Its number is without gaps: it is taken late, and goes back when
 * anything fails.
 */
export function issueCreditNote(
  services: Services,
  actor: Actor,
  input: IssueCreditNoteInput,
): Promise<Result<CreditNoteView>> {
  return performAsStaff(services, actor, 'issue_credit_note', async (scope) => {
    // Whoever credits the invoice at the same time waits here, and then computes against what this one leaves.
    const opened = await openInvoice(scope, input.invoiceId);
    if (!opened.ok) return opened;
    const before = await issuedBefore(scope, input);
    if (before !== null) return before;
    const computed = await computeCredit(scope, opened.value.invoice, input);
    if (!computed.ok) return computed;
    const { credit, issuedOn } = computed.value;
    const { openMinor } = opened.value.locked;
    const appliedMinor = input.apply ? lesserMinor(credit.totalMinor, openMinor) : 0n;
    const settled = await settle(scope, opened.value, computed.value, appliedMinor);
    if (!settled.ok) return settled;
    const entries = await write(scope, input, opened.value, computed.value, appliedMinor);
    if (!entries.ok) return entries;
    await record(
      scope,
      'credit_note_issued',
      { kind: 'credit_note', id: input.creditNoteId },
      {
        invoice: opened.value.invoice.number,
        total: formatMinor(credit.totalMinor, opened.value.invoice.currency),
        issued_on: issuedOn,
        reason: computed.value.reason,
      },
    );
    const posted = await postEntries(scope, entries.value, 'issued_on');
    if (!posted.ok) return posted;
    return ok(await creditNoteViewOf(scope, input.creditNoteId));
  });
}

async function issuedBefore(
  scope: Scope,
  input: IssueCreditNoteInput,
): Promise<Result<CreditNoteView> | null> {
  const found = await findCreditNote(scope.tx, input.creditNoteId);
  if (found === null) return null;
  if (canonicalJson(found.asked) === canonicalJson(toStoredJson(askedOf(input))))
    return ok(await creditNoteViewOf(scope, found.id));
  return refuse('id_reused', `That id is ${found.number} already, with other content.`, 'id');
}

function askedOf({ creditNoteId: _id, ...asked }: IssueCreditNoteInput) {
  return asked;
}

async function settle(
  scope: Scope,
  { invoice, locked }: OpenedInvoice,
  { credit, issuedOn }: ComputedCredit,
  appliedMinor: bigint,
): Promise<Result<true>> {
  if (appliedMinor === 0n) return ok(true);
  const source = { unappliedMinor: credit.totalMinor, currency: invoice.currency, receivedOn: issuedOn };
  const part = { invoice: locked, amountMinor: appliedMinor, field: 'apply' };
  const settled = await settleInvoices(scope, source, [part], issuedOn);
  return settled.ok ? ok(true) : settled;
}

async function write(
  scope: Scope,
  input: IssueCreditNoteInput,
  { invoice }: OpenedInvoice,
  computed: ComputedCredit,
  appliedMinor: bigint,
): Promise<Result<readonly JournalEntry[]>> {
  const { tx, now, actor } = scope;
  const parts: CreditNoteParts = {
    ...computed,
    id: input.creditNoteId,
    sequence: await takeNumber(tx, 'credit_note'),
    invoice,
    invoiceLines: await listInvoiceLines(tx, invoice.id),
    asked: toStoredJson(askedOf(input)),
  };
  if (!(await insertCreditNote(tx, creditNoteDocument(scope, parts))))
    return refuse('id_reused', 'That id is another credit note already.', 'id');
  const issued = creditNoteIssued(creditNotePosting(parts));
  if (appliedMinor === 0n) return ok([issued]);
  if ((await reduceCreditNoteBalance(tx, parts.id, appliedMinor)) === null)
    throw new Error('a new credit note has less than it was applied for');
  await insertCreditApplication(tx, {
    id: toId<ApplicationId>(scope.newId()),
    accountId: invoice.accountId,
    creditNoteId: parts.id,
    invoiceId: invoice.id,
    amountMinor: appliedMinor,
    appliedOn: computed.issuedOn,
    appliedBy: actor.personId,
    appliedAt: now,
  });
  const application = {
    party: invoice.accountId,
    on: computed.issuedOn,
    creditNoteId: parts.id,
    parts: [{ invoiceId: invoice.id, amountMinor: appliedMinor }],
  };
  return ok([issued, creditApplied(application)]);
}
