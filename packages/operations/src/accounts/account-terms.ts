import {
  type AccountRow,
  findAccountGroup,
  findTaxAreaByCode,
  findTier,
  type TenantTransaction,
} from '@grainwright/db';
import { type AccountGroupId, ok, parseMoney, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readOptionalWords, readWords } from '../read-input.ts';

export type AccountKind = AccountRow['kind'];

/** What a business agrees with an account, as it is typed in. */
export interface AccountTermsInput {
  /** One to eight capitals or figures, for lists; once within the business. */
  readonly shortName: string;
  readonly name: string;
  readonly kind: AccountKind;
  readonly billingAddress: string;
  readonly tierCode: string;
  readonly taxAreaCode: string;
  /** Days from the invoice to when it is due; 0: at once. */
  readonly termsDays: number;
  readonly statementKind: AccountRow['statementKind'];
  readonly invoiceRule: AccountRow['invoiceRule'];
  readonly requiresRo: boolean;
  readonly requiresPo: boolean;
  /** The account's own number for a vehicle; null: it has none. */
  readonly ownNumberKind: AccountRow['ownNumberKind'];
  readonly ownNumberRequired: boolean;
  readonly acceptanceRule: AccountRow['acceptanceRule'];
  readonly photoRule: AccountRow['photoRule'];
  readonly showsPricesAtAcceptance: boolean;
  /** The house account for people who come in: no trip is charged unless a visit says so. */
  readonly walkIn: boolean;
  /** What is charged for a visit to a vehicle that is not there, as decimal text; null, or left out: nothing. */
  readonly noShowFee?: string | null | undefined;
  /** Money that comes in goes to the oldest open document without anybody asking; off unless said otherwise. */
  readonly appliesMoneyItself?: boolean | undefined;
  /** Where statements are mailed; empty, or left out: nowhere. */
  readonly statementEmail?: string | undefined;
  /** Accounts that one payer pays for together; null, or left out: none. */
  readonly groupId?: AccountGroupId | null | undefined;
  /** After so many hours without an answer its people are asked once more; null, or left out: never. */
  readonly remindAfterHours?: number | null | undefined;
}

export type AccountTerms = Omit<AccountRow, 'tenantId' | 'id' | 'openedOn' | 'endedOn' | 'successorId'>;

/** The terms as they are stored; tier and tax area must be in the price book, and the group must be there. */
export async function readAccountTerms(
  tx: TenantTransaction,
  input: AccountTermsInput,
  currency: string,
): Promise<Result<AccountTerms>> {
  const words = everyResult({
    shortName: readShortName(input.shortName),
    name: readWords(input.name, 'name', 'the account’s name', 200),
    billingAddress: readOptionalWords(input.billingAddress, 'billing_address', 'the billing address', 500),
    termsDays: readTermsDays(input.termsDays),
    noShowFeeMinor: readNoShowFee(input.noShowFee ?? null, currency),
    statementEmail: readStatementEmail(input.statementEmail ?? ''),
    remindAfterHours: readReminderHours(input.remindAfterHours ?? null),
  });
  if (!words.ok) return words;
  if (input.ownNumberRequired && input.ownNumberKind === null)
    return refuse(
      'invalid_input',
      'Say which number is required: stock, unit, lot, job or claim.',
      'own_number_kind',
    );
  const tier = await findTier(tx, input.tierCode);
  if (tier === null)
    return refuse(
      'invalid_input',
      `The price book has no tier “${input.tierCode.slice(0, 20)}”. Choose one of its tiers.`,
      'tier_code',
    );
  const area = await findTaxAreaByCode(tx, input.taxAreaCode);
  if (area === null)
    return refuse(
      'invalid_input',
      `There is no tax area “${input.taxAreaCode.slice(0, 20)}”. Choose one, or add it first.`,
      'tax_area_code',
    );
  const groupId = input.groupId ?? null;
  if (groupId !== null && (await findAccountGroup(tx, groupId)) === null)
    return refuse('invalid_input', 'There is no such group. Choose one of the list.', 'group_id');
  const { taxAreaCode: _code, noShowFee: _fee, ...rest } = input;
  const appliesMoneyItself = input.appliesMoneyItself ?? false;
  return ok({ ...rest, ...words.value, appliesMoneyItself, groupId, taxAreaId: area.id });
}

function readNoShowFee(text: string | null, currency: string): Result<bigint | null> {
  if (text === null || text.trim() === '') return ok(null);
  const fee = parseMoney(text, { currency, field: 'no_show_fee' });
  return fee.ok && fee.value === 0n ? ok(null) : fee;
}

function readStatementEmail(text: string): Result<string> {
  const email = readOptionalWords(text, 'statement_email', 'the e-mail address for statements', 254);
  if (!email.ok || email.value === '' || /^[^\s@]+@[^\s@]+$/.test(email.value)) return email;
  return refuse(
    'invalid_input',
    'This is no e-mail address. Write it like name@example.com.',
    'statement_email',
  );
}

function readShortName(text: string): Result<string> {
  const shortName = text.trim().toUpperCase();
  return /^[A-Z0-9]{1,8}$/.test(shortName)
    ? ok(shortName)
    : refuse(
        'invalid_input',
        'Write a short name of one to eight letters or figures, like BG.',
        'short_name',
      );
}

/** From an hour to thirty days; null: no reminder. */
export function readReminderHours(hours: number | null): Result<number | null> {
  if (hours === null || (Number.isInteger(hours) && hours >= 1 && hours <= 720)) return ok(hours);
  return refuse(
    'invalid_input',
    'Write the hours after which to remind, from 1 to 720, or leave it empty for no reminder.',
    'remind_after_hours',
  );
}

function readTermsDays(days: number): Result<number> {
  return Number.isInteger(days) && days >= 0 && days <= 180
    ? ok(days)
    : refuse('invalid_input', 'Write the days to pay, from 0 (at once) to 180.', 'terms_days');
}
