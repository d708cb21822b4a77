import { findAccountName, listAccountsToInvoice } from '@grainwright/db';
import {
  type AccountId,
  type Day,
  type InvoiceId,
  ok,
  type Problem,
  parseDay,
  type Result,
  refuse,
  toId,
} from '@grainwright/domain';
import { type Actor, performAsStaff, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import type { InvoiceView } from './invoice-view.ts';
import { type InvoiceToIssue, invoicesToIssue } from './invoices-to-issue.ts';
import { writeInvoice } from './write-invoice.ts';

export interface IssueReadyInput {
  /** Work up to this day, as text; of monthly accounts, months that end by it. Nothing or empty: today. */
  readonly through?: string | undefined;
  /** Nothing: of every account. */
  readonly accountIds?: readonly AccountId[] | undefined;
  /** The day the invoices bear, as text; nothing or empty: today. */
  readonly issuedOn?: string | undefined;
}

export interface IssuedRun {
  readonly through: Day;
  readonly issued: readonly InvoiceView[];
  /** What could not be issued, and why: a purchase order’s cap, a closed month. */
  readonly refused: readonly { readonly invoice: InvoiceToIssue; readonly problem: Problem }[];
  /** What is not ready yet. */
  readonly waiting: readonly InvoiceToIssue[];
}

/**
 * Issues every invoice that is ready by the accounts' rules, one after the other, each by itself: what is in the way of
 * one leaves the others alone. Run again, or by two people at once, it issues each thing once.
 */
export async function issueReady(
  services: Services,
  actor: Actor,
  input: IssueReadyInput,
): Promise<Result<IssuedRun>> {
  const planned = await performAsStaff(services, actor, 'issue_invoice', (scope) => plan(scope, input));
  if (!planned.ok) return planned;
  const issued: InvoiceView[] = [];
  const refused: { invoice: InvoiceToIssue; problem: Problem }[] = [];
  for (const invoice of planned.value.ready) {
    const written = await performAsStaff(services, actor, 'issue_invoice', (scope) =>
      writeInvoice(scope, {
        invoiceId: toId<InvoiceId>(services.newId()),
        workOrderIds: invoice.workOrders.map((workOrder) => workOrder.id),
        issuedOn: planned.value.issuedOn,
        byRule: 'run',
      }),
    );
    if (written.ok) issued.push(written.value);
    else if (written.problem.code !== 'already_invoiced') refused.push({ invoice, problem: written.problem });
  }
  return ok({ through: planned.value.through, issued, refused, waiting: planned.value.waiting });
}

interface Plan {
  readonly through: Day;
  readonly issuedOn: Day | null;
  readonly ready: readonly InvoiceToIssue[];
  readonly waiting: readonly InvoiceToIssue[];
}

async function plan(scope: Scope, input: IssueReadyInput): Promise<Result<Plan>> {
  const through = readDay(input.through, 'through');
  if (!through.ok) return through;
  const issuedOn = readDay(input.issuedOn, 'issued_on');
  if (!issuedOn.ok) return issuedOn;
  const upTo = through.value ?? scope.today;
  if (upTo > scope.today)
    return refuse('invalid_date', 'That day is still to come. Choose today or an earlier one.', 'through');
  for (const accountId of input.accountIds ?? [])
    if ((await findAccountName(scope.tx, accountId)) === null)
      return refuse('not_found', 'There is no such account.');
  const found: InvoiceToIssue[] = [];
  for (const accountId of input.accountIds ?? (await listAccountsToInvoice(scope.tx, upTo)))
    found.push(...(await invoicesToIssue(scope, { ...everything, accountIds: [accountId], through: upTo })));
  return ok({
    through: upTo,
    issuedOn: issuedOn.value,
    ready: found.filter((invoice) => invoice.waits === null),
    waiting: found.filter((invoice) => invoice.waits !== null),
  });
}

/** Of one account; far more than a month of work. */
const everything = { after: null, limit: 5000 };

function readDay(text: string | undefined, field: string): Result<Day | null> {
  return text === undefined || text.trim() === '' ? ok(null) : parseDay(text.trim(), field);
}
