import type { StatementModel } from '@grainwright/documents';
import { partyLines } from '../documents/party-lines.ts';
import type { StatementView } from './statement-view.ts';

/** A statement as it is printed. `logo` is the business's, PNG or JPEG; `publicUrl` where the service is reached. */
export function statementModel(
  view: StatementView,
  { logo, publicUrl }: { readonly logo: Uint8Array | null; readonly publicUrl: string },
): StatementModel {
  const { business, account, replacement, aging } = view;
  return {
    size: view.pageSize,
    seller: { name: business.name, lines: partyLines(business), logo },
    buyer: { name: account.name, lines: account.billingAddress.split('\n') },
    number: '',
    month: view.month,
    from: view.from,
    to: view.to,
    currency: view.currency,
    openingMinor: view.openingMinor,
    chargesMinor: view.chargesMinor,
    creditsMinor: view.creditsMinor,
    paymentsMinor: view.paymentsMinor,
    closingMinor: view.closingMinor,
    content:
      view.kind === 'open_item'
        ? { kind: 'open_item', items: aging.items }
        : { kind: 'balance_forward', entries: view.rows },
    aging,
    depositsHeldMinor: view.depositsHeldMinor,
    replacement: replacement.vehicles === 0 ? null : replacement,
    note: view.note,
    posting: view.posting,
    digest: view.frozen?.digest ?? null,
    sealedDay: view.frozen === null ? null : view.sealedDay,
    publicUrl,
  };
}
