import { createHash } from 'node:crypto';
import { hashJoinCode, newJoinCode } from '@grainwright/auth';
import { insertSession } from '@grainwright/db';
import { instant, type MembershipId, ok } from '@grainwright/domain';
import {
  addContact,
  changePassword,
  chooseMembership,
  createTenant,
  joinBusiness,
  readAccount,
  readMe,
  readSession,
  type SignedInActor,
  signIn,
} from '@grainwright/operations';
import postgres from 'postgres';
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
const from = '192.0.2.20';
const chosenByThem = 'known to nobody else';

const enter = async (email: string, password: string, membershipId?: MembershipId) =>
  must(await signIn(world.services, { email, password, membershipId, fromAddress: from }));

/** Adds whoever has the e-mail address as a viewer of the account. */
const addViewer = (
  to: Account,
  email: string,
  as: SignedInActor = actorFor(world, to.business.tenantId, to.id),
) =>
  addContact(world.services, to.business.office, {
    accountId: to.id,
    personId: as.personId,
    name: 'Tobias Wrenfield',
    email,
    phone: '',
    role: 'viewer',
    limit: null,
    login: { userId: as.userId, membershipId: as.id, password: 'this one is not used' },
  });

const codeFor = async (...added: Parameters<typeof addViewer>): Promise<string> => {
  const { login } = must(await addViewer(...added));
  if (login?.kind !== 'existing' || login.joinCode === null) throw new Error('no code was told');
  return login.joinCode;
};

test('who gave an e-mail address its first password gets nowhere else by it: a code and a new password do', async () => {
  const { services } = world;
  const elsewhere = await aBusiness(world, { name: 'Marrowby Trim Mending' });
  const theirs = await anAccount(elsewhere, { shortName: 'QI' });
  const asContact = actorFor(world, elsewhere.tenantId, theirs.id);
  const email = business.emailOf('technician');
  const code = await codeFor(theirs, email.toUpperCase(), asContact);

  // Whoever knows the first password, the business that gave it for one.
  const intruder = await enter(email, business.password);
  expect(intruder.memberships.map((each) => each.tenantName)).toEqual(['Quillfeather Interior Repair']);
  expect(await chooseMembership(services, intruder.session, asContact.id)).toMatchObject(
    refusedWith('not_found', 'membership_id'),
  );
  expect(
    await signIn(services, {
      ...{ email, password: business.password, membershipId: asContact.id, fromAddress: from },
    }),
  ).toMatchObject(refusedWith('not_found', 'membership_id'));
  expect(
    await signIn(services, { email, password: 'this one is not used', fromAddress: from }),
  ).toMatchObject(refusedWith('sign_in_failed'));

  const { session } = await enter(email, business.password);
  const join = (typed: string, newPassword: string) =>
    joinBusiness(services, session, { code: typed, newPassword });
  expect(await join(newJoinCode(), chosenByThem)).toMatchObject(refusedWith('invalid_input', 'code'));
  expect(await join(code, 'short')).toMatchObject(refusedWith('invalid_input', 'new_password'));
  expect(await join(code, business.password)).toMatchObject(refusedWith('invalid_input', 'new_password'));
  const joined = must(await join(code.toLowerCase().replaceAll('-', ' '), chosenByThem));

  expect(joined.id).not.toBe(session.id);
  for (const ended of [intruder.session, session])
    expect(must(await readSession(services, ended.id, from))).toBeNull();
  const actor = must(await readSession(services, joined.id, from))?.actor;
  if (actor == null) throw new Error('the session does not go on');
  expect(must(await readMe(services, actor))).toMatchObject({ role: 'viewer', accountId: theirs.id });
  expect(await readAccount(services, actor, account.id)).toMatchObject(refusedWith('not_allowed'));
  expect(await signIn(services, { email, password: business.password, fromAddress: from })).toMatchObject(
    refusedWith('sign_in_failed'),
  );
  expect(
    await joinBusiness(services, joined, { code, newPassword: 'once more and once more' }),
  ).toMatchObject(refusedWith('invalid_input', 'code'));
});

test('one person of two businesses signs in with one password and chooses', async () => {
  const { services } = world;
  const elsewhere = await aBusiness(world, { name: 'Marrowby Trim Mending' });
  const theirs = await anAccount(elsewhere, { shortName: 'QI' });
  const email = business.emailOf('bookkeeper');
  const asContact = actorFor(world, elsewhere.tenantId, theirs.id);
  const code = await codeFor(theirs, email, asContact);
  const { session } = await enter(email, business.password);
  must(await joinBusiness(services, session, { code, newPassword: chosenByThem }));

  const signedIn = await enter(email, chosenByThem);
  expect(signedIn.memberships.map((each) => [each.tenantName, each.accountId])).toEqual([
    ['Marrowby Trim Mending', theirs.id],
    ['Quillfeather Interior Repair', null],
  ]);
  expect(signedIn.session.membershipId).toBeNull();
  expect(must(await readSession(services, signedIn.session.id, from))).toMatchObject({ actor: null });
  const chosen = must(await chooseMembership(services, signedIn.session, asContact.id));
  expect(chosen.id).not.toBe(signedIn.session.id);
  expect(must(await readSession(services, signedIn.session.id, from))).toBeNull();
  expect(chosen.endsAt, 'choosing gives no further sixty days').toBe(signedIn.session.endsAt);
  expect(await chooseMembership(services, signedIn.session, asContact.id)).toMatchObject(
    refusedWith('not_signed_in'),
  );
  expect(must(await readSession(services, chosen.id, from))).toMatchObject({
    actor: { accountId: theirs.id },
  });

  const second = await anAccount(elsewhere, { shortName: 'QJ' });
  expect(must(await addViewer(second, email)).login, 'they are known there by now').toEqual({
    kind: 'existing',
    joinCode: null,
  });
});

test('a code that was lost is replaced by adding the person again, and is worth nothing then', async () => {
  const { services } = world;
  const elsewhere = await aBusiness(world);
  const theirs = await anAccount(elsewhere, { shortName: 'LOST' });
  const email = business.emailOf('office');
  const lost = await codeFor(theirs, email);
  const again = actorFor(world, elsewhere.tenantId, theirs.id);
  const code = await codeFor(theirs, email, again);
  const { session } = await enter(email, business.password);
  const join = (typed: string) => joinBusiness(services, session, { code: typed, newPassword: chosenByThem });
  expect(await join(lost)).toMatchObject(refusedWith('invalid_input', 'code'));
  const joined = must(await join(code));
  expect(must(await readSession(services, joined.id, from))?.actor?.personId).toBe(again.personId);
  expect(await addViewer(theirs, email)).toMatchObject(refusedWith('duplicate', 'email'));
  must(
    await changePassword(services, joined, { old: chosenByThem, new: business.password, fromAddress: from }),
  );
});

test('nobody joins with a code that was made for somebody else', async () => {
  const elsewhere = await anAccount(await aBusiness(world), { shortName: 'NOT' });
  const code = await codeFor(elsewhere, account.emailOf('payer'));
  const { session } = await enter(account.emailOf('viewer'), business.password);
  expect(await joinBusiness(world.services, session, { code, newPassword: chosenByThem })).toMatchObject(
    refusedWith('invalid_input', 'code'),
  );
});

test('the owner of a second business, known from the first, joins with a code too', async () => {
  const made = await createTenant(world.services, {
    ...{ id: world.newId(), name: 'Second Trim', address: '', phone: '', email: '' },
    ...{ timeZone: 'America/Denver', currency: 'USD', invoicePrefix: 'S-', documentNote: '' },
    ...{ taxComponents: 'each', taxBasis: 'invoice', agingBasis: 'due_date' },
    ...{ firstWorkOrderNumber: 1, firstInvoiceNumber: 1, estimateValidDays: 30 },
    owner: {
      ...{ personId: world.newId(), userId: world.newId(), membershipId: world.newId() },
      ...{
        name: 'Ansel Corvin',
        shortName: 'AC',
        email: account.emailOf('approver'),
        password: chosenByThem,
      },
    },
  });
  const { login } = must(made);
  if (login.kind !== 'existing' || login.joinCode === null) throw new Error('no code was told');
  const { session } = await enter(account.emailOf('approver'), business.password);
  const joined = must(
    await joinBusiness(world.services, session, { code: login.joinCode, newPassword: chosenByThem }),
  );
  const actor = must(await readSession(world.services, joined.id, from))?.actor;
  if (actor == null) throw new Error('the session does not go on');
  expect(must(await readMe(world.services, actor))).toMatchObject({
    role: 'owner',
    business: { name: 'Second Trim' },
  });
});

test('a code has 140 random bits in signs that are not misread, and is kept as a digest only', async () => {
  const codes = Array.from({ length: 50 }, newJoinCode);
  for (const code of codes) expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){6}[0-9A-HJKMNP-TV-Z]{4}$/);
  expect(new Set(codes).size).toBe(50);
  expect(hashJoinCode('o1il-0000')).toBe(hashJoinCode('0111 0000'));
  const theirs = await anAccount(await aBusiness(world), { shortName: 'KEPT' });
  const code = await codeFor(theirs, account.emailOf('payer'));
  const sql = postgres(world.adminUrl, { max: 1 });
  const rows = await sql<{ row: string }[]>`select m::text as row from registry.memberships m`;
  await sql.end();
  const text = rows.map(({ row }) => row).join('\n');
  expect(text).toContain(createHash('sha256').update(code.replaceAll('-', '')).digest('hex'));
  expect(text).not.toContain(code);
});

test('a changed password ends every other session; the old password has to be right', async () => {
  const { services } = world;
  const email = account.emailOf('viewer');
  const [here, elsewhere] = [await enter(email, business.password), await enter(email, business.password)];
  const change = (old: string, next: string) =>
    changePassword(services, here.session, { old, new: next, fromAddress: from });
  expect(await change('not it', chosenByThem)).toMatchObject(refusedWith('invalid_input', 'old_password'));
  expect(await change(business.password, 'short')).toMatchObject(
    refusedWith('invalid_input', 'new_password'),
  );
  const session = must(await change(business.password, chosenByThem));
  for (const ended of [here, elsewhere])
    expect(must(await readSession(services, ended.session.id, from))).toBeNull();
  expect(must(await readSession(services, session.id, from))?.actor?.accountId).toBe(account.id);
  expect(await signIn(services, { email, password: business.password, fromAddress: from })).toMatchObject(
    refusedWith('sign_in_failed'),
  );
  await enter(email, chosenByThem);
});

test('somebody at an unlocked screen may not try old passwords for ever', async () => {
  const { session } = await enter(business.emailOf('owner'), business.password);
  const attempt = (old: string) =>
    changePassword(world.services, session, { old, new: chosenByThem, fromAddress: from });
  for (let count = 0; count < 10; count += 1)
    expect(await attempt('not it')).toMatchObject(refusedWith('invalid_input', 'old_password'));
  expect(await attempt(business.password)).toMatchObject(refusedWith('too_many_attempts'));
});

test('nobody takes a membership that is somebody else’s', async () => {
  const { session } = must(
    await signIn(world.services, {
      email: business.emailOf('office'),
      password: business.password,
      fromAddress: '192.0.2.21',
    }),
  );
  expect(await chooseMembership(world.services, session, business.owner.id)).toMatchObject(
    refusedWith('not_found', 'membership_id'),
  );
});

test('after ten failures an address has to wait a quarter of an hour, even with the right password', async () => {
  const own = await aBusiness(world);
  const attempt = (password: string, fromAddress = '192.0.2.66') =>
    signIn(world.services, { email: own.emailOf('bookkeeper'), password, fromAddress });
  world.at('2026-08-05T10:00');
  for (let count = 0; count < 10; count += 1)
    expect(await attempt('not it')).toMatchObject(refusedWith('sign_in_failed'));
  expect(await attempt(own.password)).toMatchObject(refusedWith('too_many_attempts'));
  expect(await attempt(own.password, '192.0.2.67')).toMatchObject({ ok: true });
  world.at('2026-08-05T10:16');
  expect(await attempt(own.password)).toMatchObject({ ok: true });
});

test('many attempts at the same time are counted as one after another', async () => {
  const own = await aBusiness(world);
  const attempts = await Promise.all(
    Array.from({ length: 40 }, () =>
      signIn(world.services, { email: own.emailOf('owner'), password: 'not it', fromAddress: '192.0.2.70' }),
    ),
  );
  const looked = attempts.filter((each) => !each.ok && each.problem.code === 'sign_in_failed');
  expect(looked).toHaveLength(10);
});

test('an address that tries a hundred different people has to wait; one right password does not start it anew', async () => {
  const own = await aBusiness(world);
  const attempt = (email: string, password: string) =>
    signIn(world.services, { email, password, fromAddress: '192.0.2.71' });
  for (let count = 0; count < 99; count += 1) await attempt(`nobody-${count}@example.com`, 'not it');
  expect(await attempt(own.emailOf('owner'), own.password)).toMatchObject({ ok: true });
  expect(await attempt('nobody-99@example.com', 'not it')).toMatchObject(refusedWith('sign_in_failed'));
  expect(await attempt(own.emailOf('owner'), own.password)).toMatchObject(refusedWith('too_many_attempts'));
});

test('sessions that have expired and counts that are over are cleared away as people come', async () => {
  const own = await aBusiness(world);
  const owner = own.owner.userId;
  const idHash = createHash('sha256').update('long gone').digest('hex');
  must(
    await world.database.withRegistry(async (tx) => {
      const [expiresAt, endsAt] = [instant('2020-01-01T00:00:00Z'), instant('2020-03-01T00:00:00Z')];
      return ok(await insertSession(tx, { idHash, userId: owner, membershipId: null, expiresAt, endsAt }));
    }),
  );
  const sql = postgres(world.adminUrl, { max: 1 });
  await sql`insert into registry.sign_in_failures values ('long over', 3, '2020-01-01')`;
  await enter(own.emailOf('owner'), own.password);
  await signIn(world.services, { email: own.emailOf('owner'), password: 'not it', fromAddress: from });
  const left = await sql`
    select id_hash from registry.sessions where id_hash = ${idHash}
    union all select key_hash from registry.sign_in_failures where key_hash = 'long over'`;
  await sql.end();
  expect([...left]).toEqual([]);
});

test('the database keeps a digest of a session’s id and never the id', async () => {
  const { session } = must(
    await signIn(world.services, {
      email: business.emailOf('owner'),
      password: business.password,
      fromAddress: '192.0.2.30',
    }),
  );
  const sql = postgres(world.adminUrl, { max: 1 });
  const rows = await sql<{ row: string }[]>`select s::text as row from registry.sessions s`;
  await sql.end();
  const text = rows.map(({ row }) => row).join('\n');
  expect(text).toContain(createHash('sha256').update(session.id).digest('hex'));
  expect(text).not.toContain(session.id);
});
