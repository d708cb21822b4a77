import type { AccountGroupId, AccountId, PurchaseOrderId, StandingApprovalId } from '@grainwright/domain';
import { z } from 'zod';
import { dayText, idOf, idText, moneyText } from '../schemas.ts';
import { purchaseOrder } from '../work-orders/consent-schemas.ts';

/** What is agreed with an account beforehand: standing approvals, purchase orders, groups that pay together. */

const limit = (what: string) =>
  moneyText.nullable().meta({ description: `The most for ${what}; null: no limit of that kind.` });
const limits = {
  per_vehicle: limit('one vehicle'),
  per_visit: limit('one visit'),
  per_month: limit('one calendar month'),
};

export const standingApproval = z.object({
  id: idText,
  ...limits,
  valid_from: dayText,
  valid_to: dayText.nullable(),
  text: z.string().meta({ description: 'Who of the account agreed to it, and how.' }),
  words: z.string(),
  standing: z.enum(['not_yet', 'in_force', 'ended', 'taken_back']),
});

export const standingApprovalBody = z.object({
  id: idOf<StandingApprovalId>('standing approval'),
  per_vehicle: limits.per_vehicle.default(null),
  per_visit: limits.per_visit.default(null),
  per_month: limits.per_month.default(null),
  valid_from: dayText,
  valid_to: dayText.nullable().default(null),
  text: z.string().max(2000),
});

export const standingApprovalParams = z.object({
  id: idOf<AccountId>('account'),
  approval_id: idOf<StandingApprovalId>('standing approval'),
});
export const endBody = z.object({ valid_to: dayText.meta({ description: 'Its last day.' }) });
export const standingApprovalsAnswer = z.object({ standing_approvals: z.array(standingApproval) });

export const purchaseOrderBody = z.object({
  id: idOf<PurchaseOrderId>('purchase order'),
  number: z.string().max(100),
  cap: moneyText
    .nullable()
    .default(null)
    .meta({ description: 'What all invoices with this number may come to, with tax; null: no cap.' }),
  valid_from: dayText,
  valid_to: dayText.nullable().default(null),
  note: z.string().max(2000).default(''),
});
export const changePurchaseOrderBody = purchaseOrderBody
  .pick({ cap: true, valid_to: true, note: true })
  .extend({ cap: moneyText.nullable(), valid_to: dayText.nullable() });
export const purchaseOrderParams = z.object({
  id: idOf<AccountId>('account'),
  order_id: idOf<PurchaseOrderId>('purchase order'),
});
export const purchaseOrdersAnswer = z.object({ purchase_orders: z.array(purchaseOrder) });

export const accountGroupBody = z.object({
  id: idOf<AccountGroupId>('group of accounts'),
  name: z.string().max(400),
});
export const accountGroupsAnswer = z.object({
  groups: z.array(z.object({ id: idText, name: z.string() })),
});
