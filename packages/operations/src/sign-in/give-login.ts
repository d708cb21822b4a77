import { hashJoinCode, hashPassword, newJoinCode, passwordWeakness } from '@grainwright/auth';
import {
  findUserByEmail,
  insertMembership,
  insertUser,
  listMemberships,
  lockMembershipIn,
  type RegistryTransaction,
  renewPendingMembership,
} from '@grainwright/db';
import {
  type AccountId,
  type MembershipId,
  ok,
  type PersonId,
  type Result,
  refuse,
  type TenantId,
  toId,
  type UserId,
} from '@grainwright/domain';
import type { Services } from '../services.ts';

export interface LoginInput {
  readonly userId: UserId;
  readonly membershipId: MembershipId;
  /** The first password. Not needed, and not used, where the e-mail address has a sign-in already. */
  readonly password?: string | undefined;
}

/** Who gets to sign in, as what. */
export interface LoginFor extends LoginInput {
  readonly email: string;
  readonly tenantId: TenantId;
  readonly personId: PersonId;
  readonly accountId: AccountId | null;
}

/**
 * `new`: they sign in with the first password given. `existing`: the e-mail address has a sign-in already and keeps its
 * password. With a `joinCode` that sign-in was given elsewhere: it reaches nothing here until the person, signed in,
 * gives this code and takes a password that nobody else knows (`joinBusiness`). The code is told once and stored
 * nowhere. Null: they are of this business already, and in.
 */
export type GivenLogin =
  | { readonly kind: 'new' }
  | { readonly kind: 'existing'; readonly joinCode: string | null };

const emailForm = /^[^\s@]+@[^\s@]+\.[^\s@]+$/;

/**
 * Whether the sign-in could be given. Asked before the tenant's own rows are written, so that a refusal leaves
 * nothing; the answer is used only after the permission was checked.
 */
export async function checkLogin(services: Services, login: LoginFor): Promise<Result<void>> {
  if (!emailForm.test(login.email.trim()) || login.email.trim().length > 254)
    return refuse('invalid_input', 'A sign-in needs an e-mail address, like name@example.com.', 'email');
  return services.database.withRegistry(async (tx) => {
    const user = await findUserByEmail(tx, login.email);
    if (user !== null) return refuseSecondPerson(tx, user.id, login);
    if (login.password === undefined || login.password === '')
      return refuse(
        'invalid_input',
        'Give a first password. They use it to sign in with their e-mail address.',
        'password',
      );
    const weakness = passwordWeakness(login.password);
    return weakness === null ? ok(undefined) : refuse('invalid_input', weakness, 'password');
  });
}

/**
 * Makes the user, or takes the one who has the e-mail address, and makes them a member. Repeating it changes nothing,
 * but for a pending member: they get another code, since the one before is stored nowhere. Nobody's existing password
 * is ever touched. These ids are unique over all businesses: where one that was sent is in use somewhere else, another
 * takes its place, so that nobody learns of it.
 */
export async function giveLogin(
  services: Services,
  login: LoginFor,
  passwordHash?: string,
): Promise<Result<GivenLogin>> {
  const known = await services.database.withRegistry(async (tx) =>
    ok(await findUserByEmail(tx, login.email)),
  );
  if (!known.ok) return known;
  const hash = known.value === null ? (passwordHash ?? (await hashPassword(login.password ?? ''))) : '';
  return services.database.withRegistry(async (tx) => {
    const userId = known.value?.id ?? (await addUser(tx, services, login, hash));
    if (userId === null)
      return refuse('duplicate', 'This e-mail address was given a sign-in just now. Send it again.', 'email');
    const isNew = known.value === null || userId === login.userId;
    const memberships = known.value === null ? [] : await listMemberships(tx, userId);
    const isKnownHere = memberships.some(({ tenantId }) => tenantId === login.tenantId);
    const joinCode = known.value === null || isKnownHere ? null : newJoinCode();
    const made = await makeMember(tx, services, { userId, login, joinCode });
    if (!made.ok) return made;
    return ok(isNew && joinCode === null ? { kind: 'new' } : { kind: 'existing', joinCode });
  });
}

interface MemberToMake {
  readonly userId: UserId;
  readonly login: LoginFor;
  /** Null: joined at once. */
  readonly joinCode: string | null;
}

async function makeMember(
  tx: RegistryTransaction,
  services: Services,
  { userId, login, joinCode }: MemberToMake,
): Promise<Result<void>> {
  const { membershipId, tenantId, personId, accountId } = login;
  const joinCodeHash = joinCode === null ? null : hashJoinCode(joinCode);
  const membership = { userId, tenantId, personId, accountId, joinCodeHash };
  for (const id of [membershipId, toId<MembershipId>(services.newId())]) {
    if (await insertMembership(tx, { id, ...membership })) return ok(undefined);
    const there = await lockMembershipIn(tx, userId, login);
    if (there === null) continue;
    if (!there.pending) return there.personId === personId ? ok(undefined) : secondPerson;
    await renewPendingMembership(tx, there.id, { personId, joinCodeHash });
    return ok(undefined);
  }
  throw new Error('a new id was taken');
}

/** Null where somebody else's request has just made a user of this address. */
async function addUser(
  tx: RegistryTransaction,
  { now, newId }: Services,
  { userId, email }: LoginFor,
  passwordHash: string,
): Promise<UserId | null> {
  const user = { email, passwordHash, createdAt: now() };
  for (const id of [userId, toId<UserId>(newId())]) if (await insertUser(tx, { id, ...user })) return id;
  return null;
}

/** Somebody who has not joined yet may be added anew: that is how an office makes another code, and mends a mistake. */
async function refuseSecondPerson(
  tx: RegistryTransaction,
  userId: UserId,
  login: LoginFor,
): Promise<Result<void>> {
  const there = await lockMembershipIn(tx, userId, login);
  return there === null || there.pending || there.personId === login.personId ? ok(undefined) : secondPerson;
}

const secondPerson = refuse(
  'duplicate',
  'Somebody with this e-mail address signs in here already. Use their entry, or another address.',
  'email',
);
