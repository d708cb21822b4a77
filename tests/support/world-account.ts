import type { AccountId, CertificateId, ContactRole, SiteId } from '@grainwright/domain';
import {
  type AddAccountInput,
  addAccount,
  addCertificate,
  addContact,
  addSite,
  type SignedInActor,
} from '@grainwright/operations';
import { must } from './must.ts';
import { actorFor, type Business } from './world-business.ts';

/** An account with one site and a contact of each role, who can all sign in with the business's `password`. */
export interface Account {
  readonly id: AccountId;
  readonly business: Business;
  readonly siteId: SiteId;
  readonly approver: SignedInActor;
  readonly payer: SignedInActor;
  readonly viewer: SignedInActor;
  /** `emailOf('approver')`. */
  emailOf(who: ContactRole): string;
}

export interface AccountOptions extends Partial<Omit<AddAccountInput, 'id'>> {
  /** Miles from the business to the account's site, as text; 12 unless given. */
  readonly miles?: string;
  /** The approver's limit, as text; null: no limit. 350.00 unless given. */
  readonly limit?: string | null;
  readonly certificate?: {
    kind: 'resale' | 'exempt_use';
    number: string;
    validFrom: string;
    validTo: string | null;
  };
}

let accounts = 0;

/** A glass installer of the trade tier in tax area A, net 15, the vehicle's owner has to accept; unless said otherwise. */
export async function anAccount(business: Business, options: AccountOptions = {}): Promise<Account> {
  accounts += 1;
  const { world, office } = business;
  const { miles = '12', limit = '350.00', certificate, ...terms } = options;
  const id = world.newId<AccountId>();
  const siteId = world.newId<SiteId>();
  const shortName = terms.shortName ?? `A${accounts}`;
  must(await addAccount(world.services, office, { ...usualTerms, ...terms, id, shortName }));
  must(
    await addSite(world.services, office, {
      id: siteId,
      accountId: id,
      name: 'Main yard',
      address: '9 Mill Lane',
      miles,
    }),
  );
  if (certificate !== undefined)
    must(
      await addCertificate(world.services, office, {
        id: world.newId<CertificateId>(),
        accountId: id,
        ...certificate,
      }),
    );
  const emailOf = (who: ContactRole) => business.emailOf(`${who}-${shortName.toLowerCase()}`);
  const [approver, payer, viewer] = await Promise.all([
    aContact(business, id, { role: 'approver', name: 'Ansel Corvin', email: emailOf('approver'), limit }),
    aContact(business, id, { role: 'payer', name: 'Bettina Quarles', email: emailOf('payer'), limit: null }),
    aContact(business, id, { role: 'viewer', name: 'Casimir Doane', email: emailOf('viewer'), limit: null }),
  ]);
  return { id, business, siteId, approver, payer, viewer, emailOf };
}

const usualTerms: Omit<AddAccountInput, 'id' | 'shortName'> = {
  name: 'Brackwater Glass & Screen',
  kind: 'glass_installer',
  billingAddress: '9 Mill Lane\nTessaly Bend',
  tierCode: 'trade',
  taxAreaCode: 'A',
  termsDays: 15,
  statementKind: 'open_item',
  invoiceRule: 'per_visit',
  requiresRo: false,
  requiresPo: false,
  ownNumberKind: null,
  ownNumberRequired: false,
  acceptanceRule: 'vehicle_owner',
  photoRule: 'trade',
  showsPricesAtAcceptance: false,
  walkIn: false,
  openedOn: '2026-01-01',
};

async function aContact(
  business: Business,
  accountId: AccountId,
  contact: { role: ContactRole; name: string; email: string; limit: string | null },
): Promise<SignedInActor> {
  const { world, office, tenantId, password } = business;
  const actor = actorFor(world, tenantId, accountId);
  const login = { userId: actor.userId, membershipId: actor.id, password };
  must(
    await addContact(world.services, office, {
      accountId,
      personId: actor.personId,
      phone: '',
      ...contact,
      login,
    }),
  );
  return actor;
}
