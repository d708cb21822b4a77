import { findBusiness, listLedgerLines, type TenantTransaction } from '@grainwright/db';
import { ledgerCsv } from '@grainwright/documents';
import {
  firstDay,
  lastDay,
  type Month,
  ok,
  parseMonth,
  type Result,
  refuse,
  sumMinor,
  type TenantId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import type { ExportedFile } from '../statements/export-statement.ts';

/** The journal of a month as CSV for another ledger. Its debits equal its credits: it throws otherwise. */
export function exportLedger(
  services: Services,
  actor: Actor,
  input: { readonly month: string },
): Promise<Result<ExportedFile>> {
  return performAsStaff(services, actor, 'see_ledger', async ({ tx, business }) => {
    const month = parseMonth(input.month.trim());
    return month.ok ? ok(await ledgerFile(tx, month.value, business.currency)) : month;
  });
}

/** As `exportLedger`, for administration: it asks for no person. */
export function exportLedgerOf(
  services: Services,
  tenantId: TenantId,
  month: Month,
): Promise<Result<ExportedFile>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const business = await findBusiness(tx);
    if (business === null) return refuse('not_found', 'There is no such business.');
    return ok(await ledgerFile(tx, month, business.currency));
  });
}

async function ledgerFile(tx: TenantTransaction, month: Month, currency: string): Promise<ExportedFile> {
  const lines = await listLedgerLines(tx, { from: firstDay(month), to: lastDay(month) });
  const differenceMinor = sumMinor(lines.map((line) => line.amountMinor));
  if (differenceMinor !== 0n) throw new Error(`the journal of ${month} differs by ${differenceMinor}`);
  return {
    fileName: `ledger-${month}.csv`,
    mediaType: 'text/csv; charset=utf-8; header=present',
    text: ledgerCsv({ month, currency, lines }),
  };
}
