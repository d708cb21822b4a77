import {
  brokenNumbering,
  creditOfLetGo,
  findBusiness,
  type Mismatch,
  scatteredPayments,
  sumsByLedgerAccount,
  type TenantTransaction,
  unbalancedEntries,
  unexplainedDocuments,
  wrongCreditNoteBalances,
  wrongDisputes,
  wrongInvoiceBalances,
  wrongLetGo,
  wrongParkedReceipts,
  wrongPaymentBalances,
  wrongVoids,
} from '@grainwright/db';
import { dayAt, ok, type Result, refuse, sumMinor, type TenantId } from '@grainwright/domain';
import type { Services } from '../services.ts';
import { checkStatements } from '../statements/check-statements.ts';

/** What the check looked at, and a sentence for everything that does not hold; none is the only good answer. */
export interface LedgerReport {
  readonly business: string;
  readonly ledgerAccounts: number;
  readonly customerAccounts: number;
  readonly statements: number;
  readonly faults: readonly string[];
}

/**
 * Proves a business's books: every entry and all of them together balance, what is kept as open and unapplied is
 * the sum of the ledger, numbers have no gaps, and the statement equation holds for every account and month, each
 * month opening as the one before closed. For administration: it asks for no person.
 */
export function checkLedger(services: Services, tenantId: TenantId): Promise<Result<LedgerReport>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const business = await findBusiness(tx);
    if (business === null) return refuse('not_found', 'There is no such business.');
    const sums = await sumsByLedgerAccount(tx);
    const differenceMinor = sumMinor(sums.map((sum) => sum.amountMinor));
    const today = dayAt(services.now(), business.timeZone);
    const statements = await checkStatements({ tx, business, today });
    return ok({
      business: business.name,
      ledgerAccounts: sums.length,
      customerAccounts: statements.accounts,
      statements: statements.checked,
      faults: [
        ...(differenceMinor === 0n ? [] : [`the ledger's balances sum to ${differenceMinor}, not to zero`]),
        ...(await checkRows(tx)),
        ...statements.faults,
      ],
    });
  });
}

/** A sentence for every row that is not the sum of what it stands for. */
export async function checkRows(tx: TenantTransaction): Promise<readonly string[]> {
  const mismatches: readonly (readonly Mismatch[])[] = [
    await unbalancedEntries(tx),
    await wrongInvoiceBalances(tx),
    await wrongPaymentBalances(tx),
    await scatteredPayments(tx),
    await wrongParkedReceipts(tx),
    await unexplainedDocuments(tx),
    await wrongCreditNoteBalances(tx),
    await wrongLetGo(tx),
    await creditOfLetGo(tx),
    await wrongVoids(tx),
    await wrongDisputes(tx),
    await brokenNumbering(tx),
  ];
  return mismatches.flat().map(({ what, stands, shouldBe }) => `${what}: ${stands} instead of ${shouldBe}`);
}
