import type { ApplicationId, InvoiceId, PaymentId, Problem, Result } from '@grainwright/domain';
import {
  applyPayment,
  checkLedger,
  type InvoiceView,
  issueInvoice,
  type PaymentView,
  readInvoice,
  readStatement,
  recordPayment,
} from '@grainwright/operations';
import { type AcceptedWork, acceptedWork } from './billing-world.ts';
import { must } from './must.ts';
import type { Account } from './world-account.ts';
import type { Business } from './world-business.ts';

export interface Paying {
  readonly account: Account;
  readonly amount: string;
  readonly on?: string;
  readonly id?: PaymentId;
  readonly method?: string;
  /** What it settles at once. */
  readonly for?: readonly (readonly [InvoiceView, string])[];
}

/** The repairs of the tailgate lining that comes to 284.90 for an account of the trade tier in tax area A. */
export const tailgate = ['WR-1', 'VC-M'];

/** What a bookkeeper does all day, in a few words each. */
export function billingDesk(business: Business) {
  const { world, bookkeeper } = business;
  const { services } = world;
  const issue = (works: readonly Pick<AcceptedWork, 'id'>[], invoiceId = world.newId<InvoiceId>()) =>
    issueInvoice(services, bookkeeper, { invoiceId, workOrderIds: works.map((work) => work.id) });
  return {
    issue,
    /** An invoice of 284.90. */
    issued: async (account: Account): Promise<InvoiceView> =>
      must(await issue([await acceptedWork(account, { codes: tailgate })])),
    /** A check received on 2026-08-05 unless said otherwise. */
    pay: ({ account, amount, on, id, method = 'check', for: invoices = [] }: Paying) =>
      recordPayment(services, bookkeeper, {
        paymentId: id ?? world.newId<PaymentId>(),
        accountId: account.id,
        method,
        amount,
        receivedOn: on ?? '2026-08-05',
        reference: '1044',
        // Tests pay alike as often as they like; being asked about it is tested where somebody types.
        anyway: true,
        applications: invoices.map(([invoice, part]) => ({ invoiceId: invoice.id, amount: part })),
      }),
    apply: (payment: PaymentView, invoice: InvoiceView, amount: string, id = world.newId<ApplicationId>()) =>
      applyPayment(services, bookkeeper, {
        applicationId: id,
        paymentId: payment.id,
        invoiceId: invoice.id,
        amount,
      }),
    reread: async (invoice: InvoiceView) => must(await readInvoice(services, bookkeeper, invoice.id)),
    statement: async (account: Account, month: string) =>
      must(await readStatement(services, bookkeeper, { accountId: account.id, month })),
    /** What the check of the books finds wrong. */
    faults: async () => must(await checkLedger(services, business.tenantId)).faults,
  };
}

export function codeOf(result: Result<unknown>): Problem['code'] | 'ok' {
  return result.ok ? 'ok' : result.problem.code;
}
