import {
  type AccountGroupId,
  type AccountId,
  type CertificateId,
  contactRoles,
  type MembershipId,
  type PersonId,
  type SiteId,
  type UserId,
} from '@grainwright/domain';
import { z } from 'zod';
import { delegationAnswer } from '../delegations/schemas.ts';
import { certificateWarningAnswer, dayText, decimalText, idOf, idText, moneyText } from '../schemas.ts';
import { purchaseOrder } from '../work-orders/consent-schemas.ts';
import { standingApproval } from './agreement-schemas.ts';

const kind = z.enum([
  'used_car_lot',
  'new_car_dealer',
  'glass_installer',
  'tint_shop',
  'body_shop',
  'fleet',
  'rental',
  'wholesaler',
  'insurer',
  'retail',
]);
const certificateKind = z.enum(['resale', 'exempt_use']);

const terms = z.object({
  short_name: z
    .string()
    .max(20)
    .meta({ description: 'One to eight letters or figures, once within the business.' }),
  name: z.string().max(400),
  kind,
  billing_address: z.string().max(1000),
  tier_code: z.string().max(40),
  tax_area_code: z.string().max(40),
  terms_days: z.int().meta({ description: 'Days to pay, 0 to 180.' }),
  statement_kind: z.enum(['open_item', 'balance_forward', 'none']),
  invoice_rule: z.enum(['at_once', 'per_visit', 'monthly']),
  requires_ro: z.boolean(),
  requires_po: z.boolean(),
  own_number_kind: z.enum(['stock', 'unit', 'lot', 'job', 'claim']).nullable(),
  own_number_required: z.boolean(),
  acceptance_rule: z.enum(['none', 'vehicle_owner', 'account_representative']),
  photo_rule: z.enum(['retail', 'trade', 'lot']),
  shows_prices_at_acceptance: z.boolean(),
  walk_in: z.boolean(),
  no_show_fee: moneyText
    .nullable()
    .meta({ description: 'Charged for a visit to a vehicle that is not there; null: nothing.' }),
  applies_money_itself: z
    .boolean()
    .meta({ description: 'Money that comes in goes to the oldest open document without anybody asking.' }),
  statement_email: z.string().max(400),
  remind_after_hours: z.number().nullable().meta({
    description: 'After so many hours without an answer its people are asked once more; null: never.',
  }),
  group_id: idOf<AccountGroupId>('group of accounts').nullable(),
});

export const addAccountBody = terms.extend({
  id: idOf<AccountId>('account'),
  billing_address: terms.shape.billing_address.default(''),
  requires_ro: z.boolean().default(false),
  requires_po: z.boolean().default(false),
  own_number_kind: terms.shape.own_number_kind.default(null),
  own_number_required: z.boolean().default(false),
  shows_prices_at_acceptance: z.boolean().default(false),
  walk_in: z.boolean().default(false),
  no_show_fee: terms.shape.no_show_fee.default(null),
  applies_money_itself: z.boolean().default(false),
  statement_email: z.string().max(400).default(''),
  remind_after_hours: terms.shape.remind_after_hours.default(null),
  group_id: terms.shape.group_id.default(null),
  opened_on: dayText.optional(),
});
const changeable = terms.partial().extend({
  ended_on: dayText
    .nullable()
    .optional()
    .meta({ description: 'The last day on which new work is taken; null opens it again.' }),
  successor_id: idOf<AccountId>('account that took it over')
    .nullable()
    .optional()
    .meta({ description: 'Who took an ended account over. Its open items stay with it.' }),
});
export const changeAccountBody = changeable.extend({
  seen: changeable.optional().meta({
    description:
      'What you saw, as GET answers it. Where any of it is different by now, nothing is changed and the problem names it.',
  }),
});
export const accountParams = z.object({ id: idOf<AccountId>('account') });
export const contactParams = accountParams.extend({ person_id: idOf<PersonId>('person') });
export const listQuery = z.object({
  search: z.string().max(100).optional(),
  with_ended: z.enum(['true', 'false']).optional(),
  after: idOf<AccountId>('last account of the page before').optional(),
});

export const loginBody = z.object({
  user_id: idOf<UserId>('user'),
  membership_id: idOf<MembershipId>('membership'),
  password: z
    .string()
    .max(400)
    .optional()
    .meta({ description: 'The first password. Not used where the e-mail address has a sign-in already.' }),
});
export const addSiteBody = z.object({
  id: idOf<SiteId>('site'),
  name: z.string().max(400),
  address: z.string().max(1000).default(''),
  miles: decimalText,
});
export const addContactBody = z.object({
  person_id: idOf<PersonId>('person'),
  name: z.string().max(400),
  email: z.string().max(400).default(''),
  phone: z.string().max(100).default(''),
  role: z.enum(contactRoles),
  limit: moneyText.nullable().default(null),
  login: loginBody.nullable().default(null),
});
export const addCertificateBody = z.object({
  id: idOf<CertificateId>('certificate'),
  kind: certificateKind,
  number: z.string().max(200),
  valid_from: dayText,
  valid_to: dayText.nullable(),
});

export const addedAnswer = z.object({ id: idText });
export const addedPersonAnswer = z.object({
  person_id: idText,
  login: z
    .object({
      kind: z
        .enum(['new', 'existing'])
        .meta({ description: '“existing”: they keep the password they have.' }),
      join_code: z.string().nullable().meta({
        description:
          'Told once. Hand it to the person: they sign in and send it to /memberships. Sent again, the same request makes another.',
      }),
    })
    .nullable(),
});

export const accountListAnswer = z.object({
  accounts: z.array(
    z.object({
      id: idText,
      short_name: z.string(),
      name: z.string(),
      kind,
      tier_code: z.string(),
      tax_area_code: z.string(),
      terms_days: z.int(),
      statement_kind: terms.shape.statement_kind,
      ended_on: dayText.nullable(),
    }),
  ),
  next: idText.nullable().meta({ description: 'Send it as “after” for the next page; null at the end.' }),
});

const accountRef = z.object({ id: idText, name: z.string() });

export const accountAnswer = terms.extend({
  id: idText,
  opened_on: dayText,
  ended_on: dayText.nullable(),
  group_id: idText.nullable(),
  group_name: z.string().nullable(),
  successor: accountRef.nullable(),
  predecessors: z.array(accountRef),
  delegations: z.array(delegationAnswer),
  standing_approvals: z.array(standingApproval),
  purchase_orders: z.array(purchaseOrder).meta({ description: 'For who may see invoices.' }),
  sites: z.array(z.object({ id: idText, name: z.string(), address: z.string(), miles: decimalText })),
  contacts: z.array(
    z.object({
      person_id: idText,
      name: z.string(),
      email: z.string(),
      phone: z.string(),
      role: z.enum(contactRoles),
      limit: moneyText.nullable(),
      ended_on: dayText.nullable(),
      ask_position: z.int().meta({ description: 'In which order approvers are asked, from the lowest.' }),
    }),
  ),
  certificates: z.array(
    z.object({
      id: idText,
      kind: certificateKind,
      number: z.string(),
      valid_from: dayText,
      valid_to: dayText.nullable(),
      standing: z.enum(['not_yet', 'valid', 'ending', 'expired']),
    }),
  ),
  certificate_warning: certificateWarningAnswer,
  contracts: z.array(
    z.object({
      id: idText,
      name: z.string(),
      discount_percent: decimalText,
      reason: z.string(),
      valid_from: dayText,
      valid_to: dayText.nullable(),
    }),
  ),
  prices: z.array(
    z.object({
      id: idText,
      code: z.string(),
      price: moneyText,
      reason: z.string(),
      valid_from: dayText,
      valid_to: dayText.nullable(),
    }),
  ),
});
