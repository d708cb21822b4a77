import type { AccountId, MembershipId, PersonId, StaffRole, TenantId, UserId } from '@grainwright/domain';
import { addStaffMember, createTenant, type SignedInActor } from '@grainwright/operations';
import { writePriceList } from '../../apps/cli/src/demo/price-list.ts';
import { must } from './must.ts';
import type { World } from './world.ts';

/** A repair business with its price list and one person of each role, who can all sign in with `password`. */
export interface Business {
  readonly world: World;
  readonly tenantId: TenantId;
  readonly name: string;
  readonly owner: SignedInActor;
  readonly office: SignedInActor;
  readonly technician: SignedInActor;
  readonly bookkeeper: SignedInActor;
  /** The e-mail address of somebody of this business: `emailOf('owner')` → `owner@business-1.example.com`. */
  emailOf(who: string): string;
  readonly password: string;
}

export interface BusinessOptions {
  readonly name?: string;
  readonly timeZone?: string;
  readonly taxComponents?: 'each' | 'together';
  readonly agingBasis?: 'due_date' | 'document_date';
  readonly firstWorkOrderNumber?: number;
  readonly firstInvoiceNumber?: number;
  readonly firstCreditNoteNumber?: number;
  readonly estimateValidDays?: number;
  /** False leaves the price book, the tiers and the tax areas to the test. */
  readonly priceList?: boolean;
  /** The share of list below which the owner has to consent; none unless given. */
  readonly floorPercent?: string;
}

const password = 'a long enough password';
let businesses = 0;

/** Invented; everybody is called what they are. Work orders start at 1001, invoices at INV-2001 and credit notes at CN-3001. */
export async function aBusiness(world: World, options: BusinessOptions = {}): Promise<Business> {
  businesses += 1;
  const domain = `business-${businesses}.example.com`;
  const emailOf = (who: string) => `${who}@${domain}`;
  const tenantId = world.newId<TenantId>();
  const name = options.name ?? 'Quillfeather Interior Repair';
  const owner = actorFor(world, tenantId, null);
  must(
    await createTenant(world.services, {
      id: tenantId,
      name,
      address: '14 Tanner Row\nTessaly Bend',
      phone: '555-0100',
      email: emailOf('office'),
      timeZone: options.timeZone ?? 'America/Chicago',
      currency: 'USD',
      taxComponents: options.taxComponents ?? 'each',
      taxBasis: 'invoice',
      agingBasis: options.agingBasis ?? 'due_date',
      invoicePrefix: 'INV-',
      firstWorkOrderNumber: options.firstWorkOrderNumber ?? 1001,
      firstInvoiceNumber: options.firstInvoiceNumber ?? 2001,
      firstCreditNoteNumber: options.firstCreditNoteNumber ?? 3001,
      estimateValidDays: options.estimateValidDays ?? 30,
      documentNote: '',
      owner: {
        ...idsOf(owner),
        name: 'Delphine Aster-Rowe',
        shortName: 'OWN',
        email: emailOf('owner'),
        password,
      },
    }),
  );
  const staff = { world, owner, emailOf };
  const [office, technician, bookkeeper] = await Promise.all([
    aStaffMember(staff, 'office', 'Ottoline Fairbrook', 'OFF'),
    aStaffMember(staff, 'technician', 'Tobias Wrenfield', 'T2'),
    aStaffMember(staff, 'bookkeeper', 'Hollis Tamberlane', 'BK'),
  ]);
  const { floorPercent = null } = options;
  if (options.priceList !== false) await writePriceList(world.services, owner, { floorPercent });
  return { world, tenantId, name, owner, office, technician, bookkeeper, emailOf, password };
}

/** Ids of somebody who is about to be added, as the actor they will be. */
export function actorFor(world: World, tenantId: TenantId, accountId: AccountId | null): SignedInActor {
  return {
    id: world.newId<MembershipId>(),
    userId: world.newId<UserId>(),
    tenantId,
    personId: world.newId<PersonId>(),
    accountId,
    fromAddress: '192.0.2.1',
  };
}

async function aStaffMember(
  staff: { world: World; owner: SignedInActor; emailOf(who: string): string },
  role: StaffRole,
  name: string,
  shortName: string,
): Promise<SignedInActor> {
  const { world, owner, emailOf } = staff;
  const actor = actorFor(world, owner.tenantId, null);
  const { personId, ...login } = idsOf(actor);
  const person = { personId, name, email: emailOf(role), phone: '', role, shortName, pricesByHand: true };
  must(await addStaffMember(world.services, owner, { ...person, login: { ...login, password } }));
  return actor;
}

function idsOf(actor: SignedInActor): { personId: PersonId; userId: UserId; membershipId: MembershipId } {
  return { personId: actor.personId, userId: actor.userId, membershipId: actor.id };
}
