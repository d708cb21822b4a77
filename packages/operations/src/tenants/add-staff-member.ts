import { findPerson, findStaffRow, insertPerson, insertStaffMember, type StaffMember } from '@grainwright/db';
import { ok, type PersonId, type Result, refuse, type StaffRole } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record, type Scope } from '../perform.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { checkLogin, type GivenLogin, giveLogin, type LoginInput } from '../sign-in/give-login.ts';

export interface AddStaffMemberInput {
  readonly personId: PersonId;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly role: StaffRole;
  /** At most 12 characters, for lists and documents: initials, or T2. */
  readonly shortName: string;
  /** Lets them give lines a price by hand; owner and office do by their role. Not said: no. */
  readonly pricesByHand?: boolean | undefined;
  /** Null: works here, but does not sign in. */
  readonly login: LoginInput | null;
}

export interface AddedPerson {
  readonly personId: PersonId;
  /** Null: no sign-in was asked for. */
  readonly login: GivenLogin | null;
}

/**
 * Adds somebody who works for the business; the owner's to do. Refuses with `duplicate` when the e-mail address signs
 * in here as somebody else, with `id_reused` when the person's id stands for somebody else.
 */
export async function addStaffMember(
  services: Services,
  actor: Actor,
  input: AddStaffMemberInput,
): Promise<Result<AddedPerson>> {
  const login = input.login && {
    ...input.login,
    email: input.email,
    tenantId: actor.tenantId,
    personId: input.personId,
    accountId: null,
  };
  const possible = login === null ? ok(undefined) : await checkLogin(services, login);
  const written = await performAsStaff(services, actor, 'manage_staff', async (scope) =>
    possible.ok ? writeStaffMember(scope, input) : possible,
  );
  if (!written.ok) return written;
  if (login === null) return ok({ personId: input.personId, login: null });
  const given = await giveLogin(services, login);
  return given.ok ? ok({ personId: input.personId, login: given.value }) : given;
}

async function writeStaffMember(
  scope: Scope<StaffMember>,
  input: AddStaffMemberInput,
): Promise<Result<void>> {
  const { tx } = scope;
  const read = everyResult({
    name: readWords(input.name, 'name', 'the name', 200),
    email: readOptionalWords(input.email, 'email', 'the e-mail address', 254),
    phone: readOptionalWords(input.phone, 'phone', 'the telephone number', 40),
    shortName: readWords(input.shortName, 'short_name', 'a short name', 12),
  });
  if (!read.ok) return read;
  const { shortName, ...contact } = read.value;
  const person = { id: input.personId, ...contact };
  const { personId, role, pricesByHand = false } = input;
  const member = { personId, role, shortName, pricesByHand };
  if (
    !(await insertPerson(tx, person)) &&
    !sameContent((await findPerson(tx, person.id)) ?? { ...person, name: '' }, person)
  )
    return refuse('id_reused', 'This id stands for another person. Send a new one.', 'person_id');
  if (!(await insertStaffMember(tx, { ...member, endedOn: null }))) {
    const there = await findStaffRow(tx, input.personId);
    return there !== null && sameContent(there, member)
      ? ok(undefined)
      : refuse(
          'id_reused',
          'This person works here already, in another role. Change that instead.',
          'person_id',
        );
  }
  await record(
    scope,
    'staff_member_added',
    { kind: 'person', id: input.personId },
    { role, name: person.name, prices_by_hand: pricesByHand, signs_in: input.login !== null },
  );
  return ok(undefined);
}
