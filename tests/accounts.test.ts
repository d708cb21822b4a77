import type {
  AccountId,
  CertificateId,
  MembershipId,
  PersonId,
  SiteId,
  TenantId,
  UserId,
} from '@grainwright/domain';
import {
  type Actor,
  addAccount,
  addCertificate,
  addContact,
  addSite,
  addStaffMember,
  createTenant,
  endContact,
  endStaffMember,
  listAccounts,
  readAccount,
  readMe,
  readPriceBook,
  readSession,
  resumeContact,
  signIn,
} from '@grainwright/operations';
import { beforeAll, expect, test } from 'vitest';
import {
  type Account,
  aBusiness,
  actorFor,
  anAccount,
  type Business,
  must,
  openWorld,
  type World,
} from './support/world.ts';

let world: World;
let business: Business;
let account: Account;

beforeAll(async () => {
  world = await openWorld();
  business = await aBusiness(world);
  account = await anAccount(business, { shortName: 'BG' });
});

const refusedWith = (code: string, field?: string) => ({
  ok: false,
  problem: field === undefined ? { code } : { code, field },
});

test('a technician sees accounts and the price book but changes neither accounts nor staff', async () => {
  const { services } = world;
  expect(must(await readAccount(services, business.technician, account.id)).account.name).toBe(
    'Brackwater Glass & Screen',
  );
  expect(must(await readPriceBook(services, business.technician)).rates).toHaveLength(28);
  const site = { id: world.newId<SiteId>(), accountId: account.id, name: 'Yard', address: '', miles: '3' };
  expect(await addSite(services, business.technician, site)).toMatchObject(refusedWith('not_allowed'));
  expect(
    await endContact(services, business.technician, {
      accountId: account.id,
      personId: account.viewer.personId,
    }),
  ).toMatchObject(refusedWith('not_allowed'));
  expect(await addStaffMember(services, business.office, someStaff())).toMatchObject(
    refusedWith('not_allowed'),
  );
});

test('an account’s contact sees neither the price book nor any account page of the business', async () => {
  for (const contact of [account.approver, account.payer, account.viewer]) {
    expect(await readPriceBook(world.services, contact)).toMatchObject(refusedWith('not_allowed'));
    expect(await listAccounts(world.services, contact, {})).toMatchObject(refusedWith('not_allowed'));
    expect(await readAccount(world.services, contact, account.id)).toMatchObject(refusedWith('not_allowed'));
  }
});

test('another business’s account does not exist, under the same words as one that never did', async () => {
  const other = await aBusiness(world, { name: 'Marrowby Trim Mending' });
  const foreign = await readAccount(world.services, other.owner, account.id);
  expect(foreign).toEqual(await readAccount(world.services, other.owner, world.newId<AccountId>()));
  expect(foreign).toMatchObject(refusedWith('not_found'));
});

test('the same account sent again answers as the first time, with other content it is refused', async () => {
  const id = world.newId<AccountId>();
  const terms = await usualTerms();
  const first = await addAccount(world.services, business.office, { ...terms, id, shortName: 'UF' });
  expect(await addAccount(world.services, business.office, { ...terms, id, shortName: 'UF' })).toEqual(first);
  expect(
    await addAccount(world.services, business.office, { ...terms, id, shortName: 'UF', termsDays: 30 }),
  ).toMatchObject(refusedWith('id_reused', 'id'));
});

test('a short name is given once within a business', async () => {
  const again = { ...(await usualTerms()), id: world.newId<AccountId>(), shortName: 'bg' };
  expect(await addAccount(world.services, business.office, again)).toMatchObject(
    refusedWith('duplicate', 'short_name'),
  );
});

test('an account needs a tier and a tax area of the price book', async () => {
  const terms = { ...(await usualTerms()), id: world.newId<AccountId>(), shortName: 'NEW' };
  expect(await addAccount(world.services, business.office, { ...terms, tierCode: 'gold' })).toMatchObject(
    refusedWith('invalid_input', 'tier_code'),
  );
  expect(await addAccount(world.services, business.office, { ...terms, taxAreaCode: 'Z' })).toMatchObject(
    refusedWith('invalid_input', 'tax_area_code'),
  );
});

test('a certificate ends after it starts, may overlap another, and warns thirty days ahead', async () => {
  const own = await anAccount(business, { shortName: 'CERT' });
  const file = (validFrom: string, validTo: string) =>
    addCertificate(world.services, business.office, {
      id: world.newId<CertificateId>(),
      accountId: own.id,
      kind: 'resale',
      number: 'R-1',
      validFrom,
      validTo,
    });
  expect(await file('2026-09-30', '2026-09-29')).toMatchObject(refusedWith('dates_out_of_order', 'valid_to'));
  must(await file('2026-01-01', '2026-09-04'));
  must(await file('2026-01-01', '2026-09-05'));
  must(await file('2026-01-01', '2026-08-04'));
  must(await file('2026-08-06', '2026-12-31'));
  world.at('2026-08-05T09:00');
  const standings = must(await readAccount(world.services, business.owner, own.id)).certificates.map(
    (each) => [each.validTo, each.standing],
  );
  expect(standings).toEqual([
    ['2026-12-31', 'not_yet'],
    ['2026-09-05', 'valid'],
    ['2026-09-04', 'ending'],
    ['2026-08-04', 'expired'],
  ]);
});

test('a contact who was ended is refused with the next request of a session that still runs', async () => {
  const own = await anAccount(business, { shortName: 'ENDS' });
  const signedIn = must(
    await signIn(world.services, {
      email: own.emailOf('approver'),
      password: business.password,
      fromAddress: '192.0.2.9',
    }),
  );
  const next = async () => {
    const session = must(await readSession(world.services, signedIn.session.id, '192.0.2.9'));
    if (session?.actor == null) throw new Error('the session is gone');
    return readMe(world.services, session.actor);
  };
  expect(must(await next())).toMatchObject({ name: 'Ansel Corvin', role: 'approver', limitMinor: 35000n });
  must(
    await endContact(world.services, business.office, { accountId: own.id, personId: own.approver.personId }),
  );
  expect(await next()).toMatchObject(refusedWith('not_signed_in'));
  expect(must(await readAccount(world.services, business.office, own.id)).contacts).toHaveLength(3);
  must(
    await resumeContact(world.services, business.office, {
      accountId: own.id,
      personId: own.approver.personId,
    }),
  );
  expect(must(await next()).limitMinor).toBe(35000n);
});

test('a member of the staff who was ended is refused with the next request; the owner does it', async () => {
  const { services } = world;
  const own = await aBusiness(world, { name: 'Ends Their Staff' });
  const { personId } = own.technician;
  expect(must(await readMe(services, own.technician)).role).toBe('technician');
  expect(await endStaffMember(services, own.office, { personId })).toMatchObject(refusedWith('not_allowed'));
  expect(
    await endStaffMember(services, business.owner, { personId }),
    'the owner of another business',
  ).toMatchObject(refusedWith('not_found'));
  must(await endStaffMember(services, own.owner, { personId }));
  must(await endStaffMember(services, own.owner, { personId }));
  expect(await readMe(services, own.technician)).toMatchObject(refusedWith('not_signed_in'));
});

test('a business keeps an owner, whichever of two ends the other first', async () => {
  const { services } = world;
  const own = await aBusiness(world, { name: 'Two Owners' });
  const end = (who: Actor, whom: Actor) => endStaffMember(services, who, { personId: whom.personId });
  expect(await end(own.owner, own.owner)).toMatchObject(refusedWith('not_allowed', 'person_id'));
  const second = actorFor(world, own.tenantId, null);
  const login = { userId: second.userId, membershipId: second.id, password: own.password };
  const email = own.emailOf('second');
  must(
    await addStaffMember(services, own.owner, {
      ...{ ...someStaff(), personId: second.personId, email, login },
      role: 'owner',
    }),
  );
  const ends = await Promise.all([end(own.owner, second), end(second, own.owner)]);
  expect(ends.filter((each) => each.ok)).toHaveLength(1);
  const [left, gone] = ends[0].ok ? [own.owner, second] : [second, own.owner];
  expect(must(await readMe(services, left)).role).toBe('owner');
  expect(await readMe(services, gone)).toMatchObject(refusedWith('not_signed_in'));
});

test('only an approver has a limit', async () => {
  const contact = {
    accountId: account.id,
    personId: world.newId<PersonId>(),
    name: 'Dorrit Vance',
    email: '',
    phone: '',
    login: null,
  };
  expect(
    await addContact(world.services, business.office, { ...contact, role: 'payer', limit: '100' }),
  ).toMatchObject(refusedWith('invalid_input', 'limit'));
  expect(
    await addContact(world.services, business.office, { ...contact, role: 'approver', limit: 'many' }),
  ).toMatchObject(refusedWith('invalid_money', 'limit'));
});

test('a sign-in needs a strong first password, and a refusal leaves nobody behind', async () => {
  const staff = {
    ...someStaff(),
    login: { userId: world.newId<UserId>(), membershipId: world.newId<MembershipId>(), password: 'short' },
  };
  expect(await addStaffMember(world.services, business.owner, staff)).toMatchObject(
    refusedWith('invalid_input', 'password'),
  );
  must(
    await addStaffMember(world.services, business.owner, { ...staff, name: 'Somebody else', login: null }),
  );
});

test('one e-mail address signs in as one person of an account', async () => {
  const login = {
    userId: world.newId<UserId>(),
    membershipId: world.newId<MembershipId>(),
    password: business.password,
  };
  const second = {
    accountId: account.id,
    personId: world.newId<PersonId>(),
    name: 'Twice',
    phone: '',
    role: 'viewer' as const,
    limit: null,
    login,
  };
  expect(
    await addContact(world.services, business.office, { ...second, email: account.emailOf('payer') }),
  ).toMatchObject(refusedWith('duplicate', 'email'));
  expect(
    must(await readAccount(world.services, business.office, account.id)).contacts.map((each) => each.name),
  ).not.toContain('Twice');
});

test('a business is made once under its id, and made whole by asking again', async () => {
  const id = world.newId<TenantId>();
  const [personId, userId, membershipId] = [
    world.newId<PersonId>(),
    world.newId<UserId>(),
    world.newId<MembershipId>(),
  ];
  const owner = {
    personId,
    userId,
    membershipId,
    name: 'Rosalind Peake',
    shortName: 'RP',
    email: 'rosalind@example.com',
    password: business.password,
  };
  const make = (change: { timeZone?: string; name?: string }) =>
    createTenant(world.services, { ...someBusiness, id, owner, ...change });
  expect(await make({ timeZone: 'America/Nowhere' })).toMatchObject(
    refusedWith('invalid_input', 'time_zone'),
  );
  expect(must(await make({}))).toEqual({ id, login: { kind: 'new' } });
  expect(must(await make({}))).toEqual({ id, login: { kind: 'new' } });
  expect(await make({ name: 'Another' })).toMatchObject(refusedWith('id_reused', 'id'));
  const signedIn = must(
    await signIn(world.services, {
      email: 'rosalind@example.com',
      password: business.password,
      fromAddress: '192.0.2.40',
    }),
  );
  expect(signedIn.session.membershipId).toBe(membershipId);
});

const someBusiness = {
  name: 'Peake Trim',
  address: '',
  phone: '',
  email: '',
  timeZone: 'America/Denver',
  currency: 'USD',
  taxComponents: 'each',
  taxBasis: 'invoice',
  agingBasis: 'due_date',
  invoicePrefix: 'P-',
  firstWorkOrderNumber: 1,
  firstInvoiceNumber: 1,
  estimateValidDays: 30,
  documentNote: '',
} as const;

function someStaff() {
  return {
    personId: world.newId<PersonId>(),
    name: 'New Hand',
    email: 'hand@example.com',
    phone: '',
    role: 'technician' as const,
    shortName: 'T9',
    login: null,
  };
}

/** The terms of the account that is there, as they would be typed in. */
async function usualTerms() {
  const { account: row, taxAreaCode } = must(await readAccount(world.services, business.office, account.id));
  const { tenantId: _tenant, id: _id, openedOn: _opened, endedOn: _ended, taxAreaId: _area, ...terms } = row;
  return { ...terms, taxAreaCode };
}
