import {
  type AccountId,
  type CertificateId,
  type CommissionRateId,
  type MembershipId,
  type PersonId,
  type SiteId,
  type StandingApprovalId,
  type TenantId,
  toId,
  type UserId,
} from '@grainwright/domain';
import {
  addAccount,
  addAccountPrice,
  addCertificate,
  addContact,
  addSite,
  addStaffMember,
  createTenant,
  type Services,
  type SignedInActor,
  setCommissionRate,
  setStandingApproval,
} from '@grainwright/operations';
import type { DemoAccount } from './accounts.ts';
import { demoTimeZone } from './demo-days.ts';
import { must } from './must.ts';
import { writePriceList } from './price-list.ts';
import { type DemoPerson, demoPassword } from './sign-ins.ts';
import type { OpenedAccount, People } from './stage.ts';

/** A business of the demo before anything has happened in it. */
export interface DemoBusiness {
  readonly id: TenantId;
  readonly name: string;
  readonly address: string;
  readonly email: string;
  readonly owner: DemoPerson;
  readonly staff: readonly DemoPerson[];
  readonly accounts: readonly DemoAccount[];
  readonly firstNumbers: {
    readonly workOrder: number;
    readonly invoice: number;
    readonly creditNote: number;
  };
}

/** Makes the business with its price book and staff; answers everybody by their short names, the owner first. */
export async function openBusiness(
  services: Services,
  business: DemoBusiness,
  openedOn: string,
): Promise<People> {
  const owner = newActor(services, business.id, null);
  must(
    await createTenant(services, {
      id: business.id,
      name: business.name,
      address: business.address,
      phone: '555-0100',
      email: business.email,
      timeZone: demoTimeZone,
      currency: 'USD',
      taxComponents: 'each',
      taxBasis: 'invoice',
      agingBasis: 'due_date',
      invoicePrefix: 'INV-',
      firstWorkOrderNumber: business.firstNumbers.workOrder,
      firstInvoiceNumber: business.firstNumbers.invoice,
      firstCreditNoteNumber: business.firstNumbers.creditNote,
      // What waits for an answer in the demo still waits for whoever looks at it much later.
      estimateValidDays: 365,
      documentNote: 'Labor and materials are stated separately.',
      owner: { ...business.owner, ...idsOf(owner), password: demoPassword },
    }),
  );
  await writePriceList(services, owner);
  const people = new Map<string, SignedInActor>([[business.owner.shortName, owner]]);
  for (const person of business.staff) {
    const actor = newActor(services, business.id, null);
    const login = { userId: actor.userId, membershipId: actor.id, password: demoPassword };
    const { commission, ...member } = person;
    const { personId } = actor;
    must(
      await addStaffMember(services, owner, { ...member, personId, phone: '', pricesByHand: true, login }),
    );
    if (commission !== undefined)
      must(
        await setCommissionRate(services, owner, {
          id: toId<CommissionRateId>(services.newId()),
          personId,
          percent: commission,
          validFrom: openedOn,
          validTo: null,
        }),
      );
    people.set(person.shortName, actor);
  }
  return people;
}

/** Opens an account on a day, with its place, contacts, certificate, own price and standing approval. */
export async function openAccount(
  services: Services,
  owner: SignedInActor,
  account: DemoAccount,
  openedOn: string,
): Promise<OpenedAccount> {
  const accountId = toId<AccountId>(services.newId());
  const siteId = toId<SiteId>(services.newId());
  const { site, contacts, certificate, ownPrice, standing, ...terms } = account;
  must(
    await addAccount(services, owner, { ...terms, id: accountId, openedOn, showsPricesAtAcceptance: false }),
  );
  must(await addSite(services, owner, { id: siteId, accountId, ...site }));
  if (certificate)
    must(
      await addCertificate(services, owner, {
        id: toId<CertificateId>(services.newId()),
        accountId,
        kind: 'resale',
        ...certificate,
      }),
    );
  if (ownPrice)
    must(
      await addAccountPrice(services, owner, { id: services.newId(), accountId, validTo: null, ...ownPrice }),
    );
  if (standing)
    must(
      await setStandingApproval(services, owner, {
        id: toId<StandingApprovalId>(services.newId()),
        accountId,
        validFrom: openedOn,
        validTo: null,
        ...standing,
      }),
    );
  return { accountId, siteId, contacts: await openContacts(services, owner, accountId, contacts) };
}

async function openContacts(
  services: Services,
  owner: SignedInActor,
  accountId: AccountId,
  contacts: DemoAccount['contacts'],
): Promise<People> {
  const actors = new Map<string, SignedInActor>();
  for (const contact of contacts) {
    const actor = newActor(services, owner.tenantId, accountId);
    const login = { userId: actor.userId, membershipId: actor.id, password: demoPassword };
    const { personId } = actor;
    must(await addContact(services, owner, { accountId, personId, phone: '', ...contact, login }));
    actors.set(contact.email, actor);
  }
  return actors;
}

function newActor(services: Services, tenantId: TenantId, accountId: AccountId | null): SignedInActor {
  return {
    id: toId<MembershipId>(services.newId()),
    userId: toId<UserId>(services.newId()),
    personId: toId<PersonId>(services.newId()),
    tenantId,
    accountId,
    fromAddress: '127.0.0.1',
  };
}

function idsOf({ id, userId, personId }: SignedInActor) {
  return { membershipId: id, userId, personId };
}
