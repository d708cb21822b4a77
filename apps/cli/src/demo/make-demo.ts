import {
  type AccountId,
  type CertificateId,
  day,
  type Instant,
  instant,
  type MembershipId,
  type PersonId,
  type SiteId,
  type TenantId,
  toId,
  type UserId,
} from '@grainwright/domain';
import {
  type Actor,
  addAccount,
  addAccountPrice,
  addCertificate,
  addContact,
  addSite,
  addStaffMember,
  createTenant,
  type Services,
} from '@grainwright/operations';
import { Temporal } from 'temporal-polyfill';
import { type DemoAccount, demoAccounts, marrowbyAccount } from './accounts.ts';
import type { DemoJob } from './job.ts';
import { must } from './must.ts';
import { marrowbyJobs, pastJobs } from './past-jobs.ts';
import { writePriceList } from './price-list.ts';
import {
  type DemoPerson,
  demoPassword,
  marrowbyOwner,
  quillfeatherOwner,
  quillfeatherStaff,
} from './sign-ins.ts';
import { type Cast, type DemoClock, type Stage, tellJob } from './tell-job.ts';
import { todaysJobs } from './todays-jobs.ts';

/** The demo's businesses have ids of their own, by which a later start knows that the demo is there. */
export const demoTenants = {
  quillfeather: toId<TenantId>('0197f000-0000-7000-8000-000000000001'),
  marrowby: toId<TenantId>('0197f000-0000-7000-8000-000000000002'),
} as const;

/** Whether a business is one of the demo's. */
export function isDemo(id: TenantId): boolean {
  return id === demoTenants.quillfeather || id === demoTenants.marrowby;
}

const timeZone = 'America/Chicago';
const openedOn = '2026-07-01';

interface DemoBusiness {
  readonly id: TenantId;
  readonly name: string;
  readonly address: string;
  readonly email: string;
  readonly owner: DemoPerson;
  readonly staff: readonly DemoPerson[];
  readonly accounts: readonly DemoAccount[];
  readonly jobs: readonly DemoJob[];
  readonly firstNumbers: { readonly workOrder: number; readonly invoice: number };
}

const businesses: readonly DemoBusiness[] = [
  {
    id: demoTenants.quillfeather,
    name: 'Quillfeather Interior Repair',
    address: '14 Tanner Row\nTessaly Bend',
    email: 'office@quillfeather.example.com',
    owner: quillfeatherOwner,
    staff: quillfeatherStaff,
    accounts: demoAccounts,
    jobs: [...pastJobs, ...todaysJobs],
    firstNumbers: { workOrder: 1004, invoice: 2002 },
  },
  {
    id: demoTenants.marrowby,
    name: 'Marrowby Trim Mending',
    address: '3 Quay Lane\nMarrowby',
    email: 'office@marrowby.example.com',
    owner: marrowbyOwner,
    staff: [],
    accounts: [marrowbyAccount],
    jobs: marrowbyJobs,
    firstNumbers: { workOrder: 501, invoice: 501 },
  },
];

export interface DemoTools {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly setClock: (at: Instant) => void;
}

/** Makes both businesses of the demo through the operations, each thing on its own day. Throws where one is refused. */
export async function makeDemo(tools: DemoTools): Promise<void> {
  const today = tools.services.now();
  for (const business of businesses) {
    tools.setClock(momentOn(openedOn, '08:00'));
    const people = await openBusiness(tools.services, business);
    const casts = await openAccounts(tools.services, business, people);
    const inOrder = business.jobs.toSorted((a, b) => (a.day ?? '9999').localeCompare(b.day ?? '9999'));
    for (const [index, job] of inOrder.entries())
      await tellJob(stageFor(tools, job, today), castOf(people, casts, job), job, index + 11);
  }
  tools.setClock(today);
}

type People = ReadonlyMap<string, Actor>;

async function openBusiness(services: Services, business: DemoBusiness): Promise<People> {
  const owner = newActor(services, business.id, null);
  must(
    await createTenant(services, {
      id: business.id,
      name: business.name,
      address: business.address,
      phone: '555-0100',
      email: business.email,
      timeZone,
      currency: 'USD',
      taxComponents: 'each',
      taxBasis: 'invoice',
      agingBasis: 'due_date',
      invoicePrefix: 'INV-',
      firstWorkOrderNumber: business.firstNumbers.workOrder,
      firstInvoiceNumber: business.firstNumbers.invoice,
      estimateValidDays: 30,
      documentNote: 'Labor and materials are stated separately.',
      owner: { ...business.owner, ...idsOf(owner), password: demoPassword },
    }),
  );
  await writePriceList(services, owner);
  const people = new Map<string, Actor>([[business.owner.shortName, owner]]);
  for (const person of business.staff) {
    const actor = newActor(services, business.id, null);
    const login = { userId: actor.userId, membershipId: actor.id, password: demoPassword };
    must(await addStaffMember(services, owner, { ...person, personId: actor.personId, phone: '', login }));
    people.set(person.shortName, actor);
  }
  return people;
}

interface OpenedAccount {
  readonly accountId: AccountId;
  readonly siteId: SiteId;
  readonly contacts: People;
}

async function openAccounts(
  services: Services,
  business: DemoBusiness,
  people: People,
): Promise<ReadonlyMap<string, OpenedAccount>> {
  const owner = personOf(people, business.owner.shortName);
  const opened = new Map<string, OpenedAccount>();
  for (const account of business.accounts)
    opened.set(account.shortName, await openAccount(services, owner, account));
  return opened;
}

async function openAccount(services: Services, owner: Actor, account: DemoAccount): Promise<OpenedAccount> {
  const accountId = toId<AccountId>(services.newId());
  const siteId = toId<SiteId>(services.newId());
  const { site, contacts, certificate, ownPrice, ...terms } = account;
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
  const actors = new Map<string, Actor>();
  for (const contact of contacts) {
    const actor = newActor(services, owner.tenantId, accountId);
    const login = { userId: actor.userId, membershipId: actor.id, password: demoPassword };
    must(
      await addContact(services, owner, {
        accountId,
        personId: actor.personId,
        phone: '',
        ...contact,
        login,
      }),
    );
    actors.set(contact.email, actor);
  }
  return { accountId, siteId, contacts: actors };
}

function castOf(people: People, accounts: ReadonlyMap<string, OpenedAccount>, job: DemoJob): Cast {
  const account = accounts.get(job.account);
  if (!account) throw new Error(`the demo has no account ${job.account}`);
  const owner = [...people.values()][0];
  if (!owner) throw new Error('the demo’s business has no owner');
  return {
    technician: personOf(people, job.technician),
    office: people.get('OF') ?? owner,
    bookkeeper: people.get('HT') ?? owner,
    approver: personOf(account.contacts, job.approver),
    accountId: account.accountId,
    siteId: account.siteId,
  };
}

function personOf(people: People, key: string): Actor {
  const actor = people.get(key);
  if (!actor) throw new Error(`the demo has nobody called ${key}`);
  return actor;
}

function newActor(services: Services, tenantId: TenantId, accountId: AccountId | null): Actor {
  return {
    id: toId<MembershipId>(services.newId()),
    userId: toId<UserId>(services.newId()),
    personId: toId<PersonId>(services.newId()),
    tenantId,
    accountId,
    fromAddress: '127.0.0.1',
  };
}

function idsOf({ id, userId, personId }: Actor) {
  return { membershipId: id, userId, personId };
}

/** Jobs of today began four hours ago, the later ones later, so that nothing in the demo lies ahead. */
function stageFor({ services, temporaryFolder, setClock }: DemoTools, job: DemoJob, today: Instant): Stage {
  const [hours = 0, minutes = 0] = job.time.split(':').map(Number);
  const began =
    job.day === null ? plusMinutes(today, -240 + hours * 60 + minutes) : momentOn(job.day, job.time);
  let now = began;
  const set = (at: Instant) => {
    now = at;
    setClock(at);
  };
  const clock: DemoClock = {
    minutesIn: (passed) => set(plusMinutes(began, passed)),
    atStartOf: (date) => set(momentOn(date, '08:30')),
    cameraTime: () => {
      const local = Temporal.Instant.from(now).toZonedDateTimeISO(timeZone);
      return { local: local.toPlainDateTime().toString({ smallestUnit: 'second' }), offset: local.offset };
    },
  };
  return { services, temporaryFolder, clock };
}

function momentOn(date: string, time: string): Instant {
  return instant(
    Temporal.PlainDateTime.from(`${day(date)}T${time}`)
      .toZonedDateTime(timeZone)
      .toInstant()
      .toString(),
  );
}

function plusMinutes(at: Instant, minutes: number): Instant {
  return instant(Temporal.Instant.from(at).add({ minutes }).toString());
}
