import {
  type AccountPerson,
  findDelegation,
  insertDelegation,
  type ListedDelegation,
  listAccountPeople,
  listDelegationRows,
} from '@grainwright/db';
import {
  type AccountId,
  addDays,
  type DelegationId,
  dayWords,
  displayMoney,
  ok,
  type PersonId,
  parseMoney,
  type Result,
  refuse,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsContact, performAsStaff, record, type Scope } from '../perform.ts';
import { readPeriod } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type DelegationView, delegationView } from './delegation-view.ts';

export interface NameDelegateInput {
  /** Made by the client: the same id with the same content is the same delegation. */
  readonly id: DelegationId;
  /** Who answers. */
  readonly toPersonId: PersonId;
  /** The first and the last day. */
  readonly validFrom: string;
  readonly validTo: string;
  /** Less than whoever is away may approve, as decimal text; null: as much. */
  readonly limit: string | null;
}

export interface RecordDelegationInput extends NameDelegateInput {
  readonly accountId: AccountId;
  /** Who is away. */
  readonly fromPersonId: PersonId;
}

/**
 * An approver lets another contact of their account answer for them, for a while and never for more than they may. Nobody
 * hands on what they answer for somebody else. Refuses with `over_limit`, `dates_out_of_order`, `invalid_input`,
 * `duplicate` the same two for some of the same days, or `id_reused`.
 */
export function nameDelegate(
  services: Services,
  actor: Actor,
  input: NameDelegateInput,
): Promise<Result<DelegationView>> {
  return performAsContact(services, actor, 'see_work_orders', (scope) => {
    const { accountId, personId } = scope.member;
    return write(scope, { ...input, accountId, fromPersonId: personId }, null);
  });
}

/** As `nameDelegate`, for an approver who has asked the staff to write it down. */
export function recordDelegation(
  services: Services,
  actor: Actor,
  input: RecordDelegationInput,
): Promise<Result<DelegationView>> {
  return performAsStaff(services, actor, 'change_accounts', (scope) =>
    write(scope, input, scope.member.personId),
  );
}

async function write(
  scope: Scope,
  input: RecordDelegationInput,
  recordedBy: PersonId | null,
): Promise<Result<DelegationView>> {
  const { tx, today, now } = scope;
  const read = await readDelegation(scope, input);
  if (!read.ok) return read;
  const row = { id: input.id, ...read.value };
  const known = await findDelegation(tx, input.id, today);
  if (known !== null) return sameContent(known, row) ? ok(delegationView(known, today)) : taken();
  const started = checkDays(scope, read.value);
  if (!started.ok) return started;
  const clash = (await listDelegationRows(tx, input.accountId, today)).find((each) => overlaps(each, row));
  if (clash !== undefined)
    return refuse(
      'duplicate',
      `${clash.toName} answers for ${clash.fromName} from ${dayWords(clash.validFrom)} to ${dayWords(clash.validTo)} already. Take that back first, or choose other days.`,
      'valid_from',
    );
  if (!(await insertDelegation(tx, { ...row, madeAt: now, recordedBy }))) return taken();
  await record(
    scope,
    'delegate_named',
    { kind: 'account', id: input.accountId },
    {
      delegation: row.id,
      from_person: row.fromPerson,
      to_person: row.toPerson,
      valid_from: row.validFrom,
      valid_to: row.validTo,
      limit_minor: row.limitMinor?.toString() ?? null,
    },
  );
  const made = await findDelegation(tx, input.id, today);
  if (made === null) throw new Error('the delegation just made is not there');
  return ok(delegationView(made, today));
}

type Read = Pick<
  ListedDelegation,
  'accountId' | 'fromPerson' | 'toPerson' | 'validFrom' | 'validTo' | 'limitMinor'
>;

async function readDelegation(scope: Scope, input: RecordDelegationInput): Promise<Result<Read>> {
  const { tx, business } = scope;
  const { accountId, fromPersonId, toPersonId } = input;
  const read = everyResult({
    valid: readPeriod({ validFrom: input.validFrom, validTo: input.validTo }),
    limitMinor: readLimit(input.limit, business.currency),
  });
  if (!read.ok) return read;
  const { valid, limitMinor } = read.value;
  if (valid.to === null) throw new Error('a last day was read');
  const people = await listAccountPeople(tx, accountId);
  const away = people.find(({ personId }) => personId === fromPersonId);
  const whom = checkPeople(
    scope,
    away,
    people.find(({ personId }) => personId === toPersonId),
  );
  if (!whom.ok) return whom;
  const ownMinor = whom.value.limitMinor;
  if (limitMinor !== null && ownMinor !== null && limitMinor > ownMinor)
    return refuse(
      'over_limit',
      `${whom.value.name} approves up to ${displayMoney(ownMinor, business.currency)}. Nobody answers for more in their place: write that or less, or leave it empty.`,
      'limit',
    );
  return ok({
    accountId,
    fromPerson: fromPersonId,
    toPerson: toPersonId,
    validFrom: valid.from,
    validTo: valid.to,
    limitMinor,
  });
}

/** Whoever is away has to be an approver, whoever answers somebody else; both are still there. */
function checkPeople(
  { today }: Scope,
  away: AccountPerson | undefined,
  delegate: AccountPerson | undefined,
): Result<AccountPerson> {
  const isThere = (person: AccountPerson) => person.endedOn === null || person.endedOn > today;
  if (away === undefined || !isThere(away) || away.role !== 'approver')
    return refuse(
      'invalid_input',
      'Only an approver of the account has answers to leave to somebody. Choose one.',
      'from_person_id',
    );
  if (delegate === undefined || !isThere(delegate))
    return refuse('invalid_input', 'Choose somebody of the account who is still there.', 'to_person_id');
  if (delegate.personId === away.personId)
    return refuse('invalid_input', 'Choose somebody else: nobody answers for themselves.', 'to_person_id');
  return ok(away);
}

function checkDays({ today }: Scope, { validFrom, validTo }: Read): Result<void> {
  if (validFrom < today)
    return refuse(
      'dates_out_of_order',
      `It can start today, ${dayWords(today)}, at the earliest. Nobody answered for somebody else before it was written down.`,
      'valid_from',
    );
  return validTo > addDays(validFrom, longestDays)
    ? refuse(
        'dates_out_of_order',
        'It is for a while, a year at most. Write an earlier last day.',
        'valid_to',
      )
    : ok(undefined);
}

const longestDays = 366;

function overlaps(there: ListedDelegation, made: Read): boolean {
  return (
    there.endedAt === null &&
    there.fromPerson === made.fromPerson &&
    there.toPerson === made.toPerson &&
    there.validFrom <= made.validTo &&
    made.validFrom <= there.validTo
  );
}

function readLimit(text: string | null, currency: string): Result<bigint | null> {
  if (text === null || text.trim() === '') return ok(null);
  return parseMoney(text, { currency, field: 'limit' });
}

function taken() {
  return refuse('id_reused', 'This id stands for another delegation. Send a new one.', 'id');
}
