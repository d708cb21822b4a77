import { sumOpenDeposits } from '@grainwright/db';
import {
  addDays,
  type Day,
  type InvoiceLine,
  invoiceLines,
  lesserMinor,
  ok,
  parseDay,
  type Result,
  sumMinor,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { chosenOf, computedOf } from './write-invoice.ts';

/** What an invoice would come to. Amounts are minor units of `currency`. */
export interface InvoicePreview {
  readonly issuedOn: Day;
  readonly dueOn: Day;
  readonly currency: string;
  /** With minimums. */
  readonly repairsMinor: bigint;
  readonly afterHoursMinor: bigint;
  readonly rushMinor: bigint;
  /** What lifts visits to their minimum. */
  readonly visitMinimumMinor: bigint;
  readonly tripMinor: bigint;
  readonly feesMinor: bigint;
  readonly taxMinor: bigint;
  readonly totalMinor: bigint;
  /** What deposits would take off it. */
  readonly prepaidMinor: bigint;
}

/**
 * What an invoice of these work orders comes to, before it is issued; refuses as `issueInvoice` does. It only looks:
 * nothing is locked, and nobody waits for it.
 */
export function previewInvoice(
  services: Services,
  actor: Actor,
  input: { readonly workOrderIds: readonly WorkOrderId[]; readonly issuedOn?: string | undefined },
): Promise<Result<InvoicePreview>> {
  return performAsStaff(services, actor, 'issue_invoice', async (scope) => {
    const asked = (input.issuedOn ?? '').trim();
    const day = asked === '' ? ok(null) : parseDay(asked, 'issued_on');
    if (!day.ok) return day;
    const chosen = await chosenOf(scope, input.workOrderIds);
    if (!chosen.ok) return chosen;
    const computed = await computedOf(scope, chosen.value, day.value);
    if (!computed.ok) return computed;
    const { work, invoice, issuedOn } = computed.value;
    const lines = invoiceLines(invoice);
    const totalMinor = invoice.totals.withTaxMinor;
    const heldMinor = await sumOpenDeposits(scope.tx, {
      accountId: work.account.id,
      workOrderIds: input.workOrderIds,
      through: issuedOn,
    });
    return ok({
      issuedOn,
      dueOn: addDays(issuedOn, work.account.termsDays),
      currency: scope.business.currency,
      repairsMinor: sumOf(lines, ['repair', 'minimum']),
      afterHoursMinor: sumOf(lines, ['after_hours']),
      rushMinor: sumOf(lines, ['rush']),
      visitMinimumMinor: sumOf(lines, ['visit_minimum']),
      tripMinor: sumOf(lines, ['trip']),
      feesMinor: sumOf(lines, ['fee']),
      taxMinor: invoice.totals.taxMinor,
      totalMinor,
      prepaidMinor: lesserMinor(heldMinor, totalMinor),
    });
  });
}

function sumOf(lines: readonly InvoiceLine[], kinds: readonly InvoiceLine['kind'][]): bigint {
  return sumMinor(lines.filter((line) => kinds.includes(line.kind)).map((line) => line.netMinor));
}
