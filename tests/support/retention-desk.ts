import { readdir, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import type { InvoiceId, RetentionRuleId, WorkOrderId } from '@grainwright/domain';
import {
  deleteByRule,
  type InvoiceView,
  readDueByCommand,
  setRetentionRule,
  switchRetention,
} from '@grainwright/operations';
import { billingDesk } from './billing-desk.ts';
import { must } from './must.ts';
import { runJobs } from './run-jobs.ts';
import { type Account, aBusiness, anAccount, type Business, type World } from './world.ts';

/** A business that deletes by its rules, and its dealer. */
export interface Shop {
  readonly business: Business;
  readonly account: Account;
}

export interface PaidShop extends Shop {
  readonly invoiceId: InvoiceId;
  readonly workOrderId: WorkOrderId;
}

export const oneYear = { period: '1', unit: 'years' };

/** Whoever sets rules, lets them delete and looks at what is left, in a few words each. */
export function retentionDesk(world: World) {
  async function paidWork({
    business,
    account,
  }: Shop): Promise<{ invoice: InvoiceView; workOrderId: WorkOrderId }> {
    const desk = billingDesk(business);
    const invoice = await desk.issued(account);
    must(await desk.pay({ account, amount: '284.90', for: [[invoice, '284.90']] }));
    const [vehicle] = invoice.vehicles;
    if (vehicle === undefined) throw new Error('an invoice without a vehicle');
    return { invoice, workOrderId: vehicle.workOrderId };
  }
  return {
    /** One repair, paid today. */
    paidWork,
    /** A business of its own, whose dealer's one repair is paid today, its pictures copied. */
    async paidShop(): Promise<PaidShop> {
      const business = await aBusiness(world);
      const account = await anAccount(business, { limit: null });
      const { invoice, workOrderId } = await paidWork({ business, account });
      await runJobs(world);
      return { business, account, workOrderId, invoiceId: invoice.id };
    },
    setRule: ({ business }: Shop, kind: string, keep: typeof oneYear | null) =>
      setRetentionRule(world.services, business.owner, {
        ...{ id: world.newId<RetentionRuleId>(), kind, keep },
        reason: '',
      }),
    async switchedOn({ business }: Shop): Promise<void> {
      const turn = { id: world.newId(), on: true, reason: 'The adviser agreed to the times.' };
      must(await switchRetention(world.services, business.owner, turn));
    },
    /** What would go now and what a hold keeps, each as “3 photos”. */
    async due({ business }: Shop) {
      const { groups } = must(await readDueByCommand(world.services, business.tenantId, null));
      const words = (held: boolean) =>
        groups.filter((group) => group.held === held).map(({ count, kind }) => `${count} ${kind}`);
      const bytes = groups.reduce((sum, group) => sum + group.bytes, 0n);
      return { goes: words(false), held: words(true), bytes };
    },
    run: async ({ business }: Shop) => must(await deleteByRule(world.services, business.tenantId)),
    /** The store's clock is the computer's: what was put is made old, whatever day it is there. */
    async aged(): Promise<void> {
      const old = new Date('2020-01-01T00:00:00Z');
      for (const each of await readdir(world.objectsFolder, { recursive: true, withFileTypes: true }))
        if (each.isFile()) await utimes(join(each.parentPath, each.name), old, old);
    },
    async objectsOf({ business }: Shop): Promise<readonly string[]> {
      const keys: string[] = [];
      for await (const { key } of world.objects.list(business.tenantId)) keys.push(key);
      return keys;
    },
  };
}
