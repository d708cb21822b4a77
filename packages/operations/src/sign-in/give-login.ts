import { hashPassword, passwordWeakness } from '@grainwright/auth';
import {
  findUserByEmail,
  insertMembership,
  insertUser,
  listMemberships,
  type RegistryTransaction,
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

/** `new`: with the first password given. `existing`: they keep the password they have and choose between businesses. */
export type GivenLogin = 'new' | 'existing';

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
 * Makes the user, or takes the one who has the e-mail address, and makes them a member. Repeating it changes nothing.
 * Nobody's existing password is ever touched. These ids are unique over all businesses: where one that was sent is in
 * use somewhere else, another takes its place, so that nobody learns of it.
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
    const { membershipId, tenantId, personId, accountId } = login;
    const membership = { userId, tenantId, personId, accountId };
    if (!(await insertMembership(tx, { id: membershipId, ...membership }))) {
      const held = await refuseSecondPerson(tx, userId, login);
      if (!held.ok) return held;
      if (!(await isMember(tx, userId, login)))
        await insertMembership(tx, { id: toId<MembershipId>(services.newId()), ...membership });
    }
    return ok(known.value === null || userId === login.userId ? 'new' : 'existing');
  });
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

async function refuseSecondPerson(
  tx: RegistryTransaction,
  userId: UserId,
  login: LoginFor,
): Promise<Result<void>> {
  const memberships = await listMemberships(tx, userId);
  const other = memberships.some((each) => isSamePlace(each, login) && each.personId !== login.personId);
  return other
    ? refuse(
        'duplicate',
        'Somebody with this e-mail address signs in here already. Use their entry, or another address.',
        'email',
      )
    : ok(undefined);
}

async function isMember(tx: RegistryTransaction, userId: UserId, login: LoginFor): Promise<boolean> {
  return (await listMemberships(tx, userId)).some(
    (each) => isSamePlace(each, login) && each.personId === login.personId,
  );
}

function isSamePlace(
  a: Pick<LoginFor, 'tenantId' | 'accountId'>,
  b: Pick<LoginFor, 'tenantId' | 'accountId'>,
): boolean {
  return a.tenantId === b.tenantId && a.accountId === b.accountId;
}
