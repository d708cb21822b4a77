import {
  type AccountPriceRow,
  type AccountRow,
  type CertificateRow,
  type ContactListRow,
  findAccount,
  findTaxAreaCode,
  findTier,
  listAccountPrices,
  listCertificates,
  listContacts,
  listSites,
  type SiteRow,
  type TierRow,
} from '@grainwright/db';
import { type AccountId, type Day, daysBetween, ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';

/** Where a certificate stands on a day. `ending` warns thirty days ahead: from the day after its last, tax is charged. */
export type CertificateStanding = 'not_yet' | 'valid' | 'ending' | 'expired';

export interface AccountView {
  readonly account: AccountRow;
  readonly tier: TierRow;
  readonly taxAreaCode: string;
  readonly sites: readonly SiteRow[];
  readonly contacts: readonly (ContactListRow & { readonly hasEnded: boolean })[];
  readonly certificates: readonly (CertificateRow & { readonly standing: CertificateStanding })[];
  readonly prices: readonly AccountPriceRow[];
  readonly today: Day;
  readonly currency: string;
}

/** Everything about one account, as the staff see it. */
export function readAccount(services: Services, actor: Actor, id: AccountId): Promise<Result<AccountView>> {
  return performAsStaff(services, actor, 'see_accounts', async ({ tx, today, business }) => {
    const account = await findAccount(tx, id);
    if (account === null) return refuse('not_found', 'There is no such account.');
    const tier = await findTier(tx, account.tierCode);
    if (tier === null) throw new Error('an account names a tier that is not there');
    const contacts = await listContacts(tx, id);
    const certificates = await listCertificates(tx, id);
    return ok({
      account,
      tier,
      taxAreaCode: await findTaxAreaCode(tx, account.taxAreaId),
      sites: await listSites(tx, id),
      contacts: contacts.map((each) => ({
        ...each,
        hasEnded: each.endedOn !== null && each.endedOn <= today,
      })),
      certificates: certificates.map((each) => ({ ...each, standing: standingOf(each, today) })),
      prices: await listAccountPrices(tx, id),
      today,
      currency: business.currency,
    });
  });
}

const warnedDays = 30;

function standingOf({ validFrom, validTo }: CertificateRow, today: Day): CertificateStanding {
  if (today < validFrom) return 'not_yet';
  if (validTo === null) return 'valid';
  const daysLeft = daysBetween(today, validTo);
  if (daysLeft < 0) return 'expired';
  return daysLeft <= warnedDays ? 'ending' : 'valid';
}
