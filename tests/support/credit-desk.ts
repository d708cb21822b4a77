import type { CreditNoteId, DecisionId, InvoiceId, LineId, WorkOrderId } from '@grainwright/domain';
import {
  type CreditNoteView,
  decideEstimate,
  type InvoiceView,
  type IssueCreditNoteInput,
  issueCreditNote,
  issueInvoice,
} from '@grainwright/operations';
import type { Sql } from 'postgres';
import { answersTo, askedEstimate } from './asked-estimates.ts';
import { must } from './must.ts';
import { type Account, type AccountOptions, anAccount } from './world-account.ts';
import type { Business } from './world-business.ts';

/** What is credited; an id of its own, the reason and “apply it” unless said otherwise. */
export type CreditAsked = Partial<Omit<IssueCreditNoteInput, 'invoiceId'>>;

export function creditOf(business: Business, invoice: InvoiceView, asked: CreditAsked): IssueCreditNoteInput {
  return {
    creditNoteId: business.world.newId<CreditNoteId>(),
    invoiceId: invoice.id,
    reason: 'The ruler picture shows a smaller tear.',
    lines: [],
    charges: [],
    certificateIds: [],
    issuedOn: null,
    apply: true,
    ...asked,
  };
}

export function credit(business: Business, invoice: InvoiceView, asked: CreditAsked) {
  return issueCreditNote(business.world.services, business.bookkeeper, creditOf(business, invoice, asked));
}

export async function credited(
  business: Business,
  invoice: InvoiceView,
  asked: CreditAsked,
): Promise<CreditNoteView> {
  return must(await credit(business, invoice, asked));
}

/** The line of an invoice that bills this code. */
export function lineOf(invoice: InvoiceView, code: string): LineId {
  const line = invoice.vehicles.flatMap((vehicle) => vehicle.lines).find((each) => each.code === code);
  if (!line?.lineId) throw new Error(`no line ${code} on ${invoice.number}`);
  return line.lineId;
}

/** Lines are approved, and the work is taken as accepted without being told: its story is told elsewhere. */
export interface Job {
  readonly lines: Parameters<typeof askedEstimate>[1];
  /** By their place: why they were declined. */
  readonly declined?: Readonly<Record<number, string>>;
  readonly total: string;
  readonly afterHours?: boolean;
  readonly account?: AccountOptions;
}

export interface BilledJob {
  readonly account: Account;
  readonly invoice: InvoiceView;
  readonly workOrderId: WorkOrderId;
}

export async function billedJob(business: Business, admin: Sql, job: Job): Promise<BilledJob> {
  const { services, newId } = business.world;
  const account = await anAccount(business, { limit: null, ...job.account });
  const asked = await askedEstimate(account, job.lines, { afterHours: job.afterHours ?? false });
  const { workOrderId, versionId, digest } = asked;
  const answers = answersTo(asked, job.declined ?? {});
  const decision = {
    decisionId: newId<DecisionId>(),
    workOrderId,
    versionId,
    digest,
    answers,
    total: job.total,
  };
  must(await decideEstimate(services, account.approver, decision));
  await admin`update work_orders set state = 'accepted' where id = ${workOrderId}`;
  const invoiceId = newId<InvoiceId>();
  const invoice = must(
    await issueInvoice(services, business.bookkeeper, { invoiceId, workOrderIds: [workOrderId] }),
  );
  return { account, invoice, workOrderId };
}

/** A dealer's job of an evening, one line declined: INV-2020 of the agreed demo figures, 612.59. */
export const dealerJob: Job = {
  account: { name: 'Halden Dealer', tierCode: 'dealer', termsDays: 30 },
  lines: [
    { part: 'seat_cushion', rateCode: 'LT-L', factorCode: 'perf' },
    { part: 'dash', rateCode: 'DB-M' },
    { part: 'seat_bolster', rateCode: 'LW-P' },
    { part: 'front_door_panel', damage: 'scuff', rateCode: 'SC-S' },
  ],
  declined: { 1: 'we replace the dash' },
  afterHours: true,
  total: '612.59',
};

/** A tint shop's two scorched trims: INV-2004 of the agreed demo figures, 672.37. */
export const trimJob: Job = {
  account: { name: 'Umber Film', tierCode: 'trade', taxAreaCode: 'B', miles: '26' },
  lines: [
    { part: 'quarter_trim', side: 'left', damage: 'burn', rateCode: 'BN-M', factorCode: 'new' },
    { part: 'quarter_trim', side: 'right', damage: 'burn', rateCode: 'BN-L', factorCode: 'new' },
    { part: 'quarter_trim', side: 'right', damage: 'other', rateCode: 'RI-1' },
    { part: 'quarter_trim', side: 'right', damage: 'other', rateCode: 'CM-1' },
  ],
  total: '672.37',
};
