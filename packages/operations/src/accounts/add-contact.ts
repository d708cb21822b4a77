import {
  findAccount,
  findPerson,
  insertContact,
  insertPerson,
  lockContact,
  type StaffMember,
} from '@grainwright/db';
import {
  type AccountId,
  type ContactRole,
  ok,
  type PersonId,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkLogin, giveLogin, type LoginInput } from '../sign-in/give-login.ts';
import type { AddedPerson } from '../tenants/add-staff-member.ts';

export interface AddContactInput {
  readonly accountId: AccountId;
  /** Somebody who is a contact of several accounts is the same person in each. */
  readonly personId: PersonId;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly role: ContactRole;
  /** How much an approver may say yes to for one vehicle; null: without a limit. Null for the other roles. */
  readonly limit: string | null;
  /** Null: known by name, but does not sign in. */
  readonly login: LoginInput | null;
}

/**
 * Adds somebody of the account: an approver, a payer, or a viewer. Refuses with `duplicate` when the e-mail address
 * signs in for this account as somebody else.
 */
export async function addContact(
  services: Services,
  actor: Actor,
  input: AddContactInput,
): Promise<Result<AddedPerson>> {
  const { accountId, personId, email } = input;
  const login = input.login && { ...input.login, email, tenantId: actor.tenantId, personId, accountId };
  const possible = login === null ? ok(undefined) : await checkLogin(services, login);
  const written = await performAsStaff(services, actor, 'change_accounts', async (scope) =>
    writeContact(scope, input, possible),
  );
  if (!written.ok) return written;
  if (login === null) return ok({ personId, login: null });
  const given = await giveLogin(services, login);
  return given.ok ? ok({ personId, login: given.value }) : given;
}

async function writeContact(
  scope: Scope<StaffMember>,
  input: AddContactInput,
  possible: Result<void>,
): Promise<Result<void>> {
  const { tx, business } = scope;
  const { accountId, personId, role } = input;
  const read = everyResult({
    name: readWords(input.name, 'name', 'the name', 200),
    email: readOptionalWords(input.email, 'email', 'the e-mail address', 254),
    phone: readOptionalWords(input.phone, 'phone', 'the telephone number', 40),
    limitMinor: readLimit(input, business.currency),
  });
  if (!read.ok) return read;
  if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
  if (!possible.ok) return possible;
  const { limitMinor, ...words } = read.value;
  const person = { id: personId, ...words };
  if (
    !(await insertPerson(tx, person)) &&
    !sameContent((await findPerson(tx, personId)) ?? { ...person, name: '' }, person)
  )
    return refuse('id_reused', 'This id stands for another person. Send a new one.', 'person_id');
  const contact = { accountId, personId, role, limitMinor };
  if (!(await insertContact(tx, { ...contact, endedOn: null }))) {
    const there = await lockContact(tx, accountId, personId);
    return there !== null && sameContent(there, contact)
      ? ok(undefined)
      : refuse(
          'id_reused',
          'This person is a contact of the account already, in another role or with another limit.',
          'person_id',
        );
  }
  const limit = limitMinor === null ? null : limitMinor.toString();
  await record(
    scope,
    'contact_added',
    { kind: 'account', id: accountId },
    { person: personId, name: person.name, role, limit_minor: limit, signs_in: input.login !== null },
  );
  return ok(undefined);
}

function readLimit({ role, limit }: AddContactInput, currency: string): Result<bigint | null> {
  if (limit === null || limit.trim() === '') return ok(null);
  if (role !== 'approver')
    return refuse('invalid_input', 'Only an approver has a limit. Leave it empty.', 'limit');
  return parseMoney(limit, { currency, field: 'limit' });
}
