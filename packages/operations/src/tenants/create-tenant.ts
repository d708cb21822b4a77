import { passwordWeakness } from '@grainwright/auth';
import {
  findBusiness,
  findPerson,
  insertAuditRecord,
  insertBusiness,
  insertPerson,
  insertStaffMember,
  insertTenant,
  startNumbers,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type MembershipId,
  minorUnits,
  ok,
  type PersonId,
  type Result,
  refuse,
  type TenantId,
  type UserId,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { type GivenLogin, giveLogin } from '../sign-in/give-login.ts';

export interface CreateTenantInput {
  readonly id: TenantId;
  readonly name: string;
  readonly address: string;
  readonly phone: string;
  readonly email: string;
  /** A name of the IANA time zone database, like America/Chicago. It decides which day it is. */
  readonly timeZone: string;
  /** ISO 4217. */
  readonly currency: string;
  readonly taxComponents: 'each' | 'together';
  readonly taxBasis: 'invoice' | 'item';
  readonly agingBasis: 'due_date' | 'document_date';
  /** Capitals and a dash, like `INV-`. */
  readonly invoicePrefix: string;
  readonly firstWorkOrderNumber: number;
  readonly firstInvoiceNumber: number;
  /** 1 unless the business goes on with a numbering of its own. */
  readonly firstCreditNoteNumber?: number;
  readonly estimateValidDays: number;
  readonly documentNote: string;
  readonly owner: TenantOwner;
}

export type TenantOwner = {
  readonly personId: PersonId;
  readonly userId: UserId;
  readonly membershipId: MembershipId;
  readonly name: string;
  readonly email: string;
  /** At most 12 characters, for lists. */
  readonly shortName: string;
} & ({ readonly password: string } | { readonly passwordHash: string });

export interface CreatedTenant {
  readonly id: TenantId;
  readonly login: GivenLogin;
}

/**
 * Makes a repair business with its first owner. Nobody signed in does this: it is for the command line and the demo.
 * The business's own rows come first, so that a tenant in the registry is always whole; stopped in between, the same
 * call again completes it. An owner whose e-mail address signs in elsewhere joins with a code. Refuses with `id_reused` when the id stands for another business.
 */
export async function createTenant(
  services: Services,
  input: CreateTenantInput,
): Promise<Result<CreatedTenant>> {
  const profile = readProfile(input);
  if (!profile.ok) return profile;
  const weakness = 'password' in input.owner ? passwordWeakness(input.owner.password) : null;
  if (weakness !== null) return refuse('invalid_input', weakness, 'password');
  const written = await services.database.withTenant({ role: 'staff', tenantId: input.id }, (tx) =>
    writeBusiness(tx, services, profile.value, input),
  );
  if (!written.ok) return written;
  const listed = await services.database.withRegistry(async (tx) =>
    ok(await insertTenant(tx, { id: input.id, name: profile.value.name, createdAt: services.now() })),
  );
  if (!listed.ok) return listed;
  const { personId, userId, membershipId, email } = input.owner;
  const secret = 'password' in input.owner ? { password: input.owner.password } : {};
  const hash = 'passwordHash' in input.owner ? input.owner.passwordHash : undefined;
  const login = { tenantId: input.id, accountId: null, personId, userId, membershipId, email, ...secret };
  const given = await giveLogin(services, login, hash);
  return given.ok ? ok({ id: input.id, login: given.value }) : given;
}

type Profile = Omit<
  CreateTenantInput,
  'id' | 'owner' | 'firstWorkOrderNumber' | 'firstInvoiceNumber' | 'firstCreditNoteNumber'
>;

async function writeBusiness(
  tx: TenantTransaction,
  services: Services,
  profile: Profile,
  { id, owner, firstWorkOrderNumber, firstInvoiceNumber, firstCreditNoteNumber = 1 }: CreateTenantInput,
): Promise<Result<void>> {
  const person = { id: owner.personId, name: owner.name.trim(), email: owner.email.trim(), phone: '' };
  if (!(await insertBusiness(tx, profile))) {
    const [business, there] = [await findBusiness(tx), await findPerson(tx, owner.personId)];
    const same =
      business !== null &&
      there !== null &&
      sameContent(business, { ...profile }) &&
      sameContent(there, person);
    return same
      ? ok(undefined)
      : refuse('id_reused', 'This id stands for another business. Use a new one.', 'id');
  }
  await insertPerson(tx, person);
  await insertStaffMember(tx, {
    personId: owner.personId,
    role: 'owner',
    shortName: owner.shortName.trim(),
    endedOn: null,
    pricesByHand: false,
  });
  await startNumbers(tx, 'work_order', BigInt(firstWorkOrderNumber));
  await startNumbers(tx, 'invoice', BigInt(firstInvoiceNumber));
  await startNumbers(tx, 'credit_note', BigInt(firstCreditNoteNumber));
  for (const kind of ['posting', 'fee', 'opening'] as const) await startNumbers(tx, kind, 1n);
  await insertAuditRecord(tx, {
    id: services.newId(),
    at: services.now(),
    personId: owner.personId,
    accountId: null,
    action: 'tenant_created',
    subjectKind: 'tenant',
    subjectId: id,
    detail: { name: profile.name, time_zone: profile.timeZone, currency: profile.currency },
    fromAddress: '',
  });
  return ok(undefined);
}

function readProfile(input: CreateTenantInput): Result<Profile> {
  const { taxComponents, taxBasis, agingBasis, estimateValidDays } = input;
  const read = everyResult({
    name: readWords(input.name, 'name', 'the name of the business', 200),
    address: readOptionalWords(input.address, 'address', 'the address', 500),
    phone: readOptionalWords(input.phone, 'phone', 'the telephone number', 40),
    email: readOptionalWords(input.email, 'email', 'the e-mail address', 254),
    timeZone: readTimeZone(input.timeZone),
    currency: readCurrency(input.currency),
    invoicePrefix: /^[A-Z]{1,6}-$/.test(input.invoicePrefix)
      ? ok(input.invoicePrefix)
      : refuse('invalid_input', 'Write one to six capitals and a dash, like INV-.', 'invoice_prefix'),
    documentNote: readOptionalWords(input.documentNote, 'document_note', 'the note', 2000),
  });
  if (!read.ok) return read;
  const rest = everyResult({
    ownerName: readWords(input.owner.name, 'owner_name', 'the owner’s name', 200),
    shortName: readWords(input.owner.shortName, 'short_name', 'a short name', 12),
    days: readWhole(estimateValidDays, 'estimate_valid_days', 365),
    workOrder: readWhole(input.firstWorkOrderNumber, 'first_work_order_number', 1_000_000_000),
    invoice: readWhole(input.firstInvoiceNumber, 'first_invoice_number', 1_000_000_000),
    creditNote: readWhole(input.firstCreditNoteNumber ?? 1, 'first_credit_note_number', 1_000_000_000),
  });
  return rest.ok ? ok({ ...read.value, taxComponents, taxBasis, agingBasis, estimateValidDays }) : rest;
}

function readWhole(value: number, field: string, most: number): Result<number> {
  return Number.isInteger(value) && value >= 1 && value <= most
    ? ok(value)
    : refuse('invalid_input', `Write a whole number from 1 to ${most}.`, field);
}

function readTimeZone(name: string): Result<string> {
  try {
    return ok(new Intl.DateTimeFormat('en-US', { timeZone: name }).resolvedOptions().timeZone);
  } catch {
    return refuse(
      'invalid_input',
      `There is no time zone “${name.slice(0, 40)}”. Write it like America/Chicago.`,
      'time_zone',
    );
  }
}

function readCurrency(code: string): Result<string> {
  try {
    minorUnits(code);
    return ok(code);
  } catch {
    return refuse(
      'invalid_input',
      `The currency “${code.slice(0, 10)}” is not one this program knows. Write it like USD.`,
      'currency',
    );
  }
}
