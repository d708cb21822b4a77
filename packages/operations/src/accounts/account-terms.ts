import { type AccountRow, findTaxAreaByCode, findTier, type TenantTransaction } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
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
}

export type AccountTerms = Omit<
  AccountRow,
  | 'tenantId'
  | 'id'
  | 'openedOn'
  | 'endedOn'
  | 'groupId'
  | 'noShowFeeMinor'
  | 'appliesMoneyItself'
  | 'statementEmail'
  | 'successorId'
>;

/** The terms as they are stored; tier and tax area must be in the price book. */
export async function readAccountTerms(
  tx: TenantTransaction,
  input: AccountTermsInput,
): Promise<Result<AccountTerms>> {
  const words = everyResult({
    shortName: readShortName(input.shortName),
    name: readWords(input.name, 'name', 'the account’s name', 200),
    billingAddress: readOptionalWords(input.billingAddress, 'billing_address', 'the billing address', 500),
    termsDays: readTermsDays(input.termsDays),
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
  const { taxAreaCode: _code, ...rest } = input;
  return ok({ ...rest, ...words.value, taxAreaId: area.id });
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

function readTermsDays(days: number): Result<number> {
  return Number.isInteger(days) && days >= 0 && days <= 180
    ? ok(days)
    : refuse('invalid_input', 'Write the days to pay, from 0 (at once) to 180.', 'terms_days');
}
