import { addDays, type Day } from '../dates.ts';
import { type AccountId, type CreditNoteId, type InvoiceId, type PaymentId, toId } from '../ids.ts';
import * as invoicing from '../ledger/invoice-postings.ts';
import type { JournalEntry } from '../ledger/journal.ts';
import * as paying from '../ledger/payment-postings.ts';
import type { AppliedPart } from '../ledger/posting-amounts.ts';
import type { DocumentFacts } from './open-items.ts';

/** What a person with a notebook would keep beside the journal; property tests compare the two. */
export interface Notebook {
  readonly documents: Map<InvoiceId, DocumentFacts>;
  readonly owedMinor: Map<AccountId, bigint>;
  readonly depositsMinor: Map<AccountId, bigint>;
  readonly invoices: OpenInvoice[];
  readonly money: Money[];
  readonly unknown: { readonly paymentId: PaymentId; readonly amountMinor: bigint }[];
  ids: number;
}

interface OpenInvoice {
  readonly issued: invoicing.IssuedInvoice;
  readonly totalMinor: bigint;
  openMinor: bigint;
  writtenOffMinor: bigint;
}

interface Money {
  readonly kind: 'payment' | 'deposit' | 'credit';
  readonly party: AccountId;
  readonly paymentId: PaymentId;
  readonly creditNoteId?: CreditNoteId;
  readonly amountMinor: bigint;
  leftMinor: bigint;
  applied: AppliedPart[];
}

/** The circumstances of one step: whose account, which day, and a whim for what is picked and how much. */
export interface Circumstances {
  readonly party: AccountId;
  readonly other: AccountId;
  readonly on: Day;
  readonly pick: number;
  readonly amountMinor: bigint;
}

type Step = (book: Notebook, now: Circumstances) => readonly JournalEntry[];

/** Each step notes what it does and answers its entries; none when there is nothing it could be done to. */
export const steps = {
  issueInvoice: (book, now) => {
    const { party, on, amountMinor } = now;
    const taxes = [
      { areaCode: 'a', component: 'state', amountMinor: amountMinor / 20n },
      { areaCode: 'a', component: 'local', amountMinor: amountMinor / 80n },
    ];
    const classes = { laborMinor: amountMinor, materialsMinor: 900n, tripMinor: 4500n, feeMinor: 0n };
    const issued = { party, on, invoiceId: newDocument(book, on), ...classes, taxes };
    const totalMinor = amountMinor + 5400n + amountMinor / 20n + amountMinor / 80n;
    book.invoices.push({ issued, totalMinor, openMinor: totalMinor, writtenOffMinor: 0n });
    owes(book, party, totalMinor);
    return [invoicing.invoiceIssued(issued)];
  },

  voidInvoice: (book, now) => {
    const invoice = pickInvoice(book, now, ({ openMinor, totalMinor }) => openMinor === totalMinor);
    if (invoice === undefined) return [];
    invoice.openMinor = 0n;
    owes(book, now.party, -invoice.totalMinor);
    return [invoicing.invoiceVoided({ ...invoice.issued, on: now.on })];
  },

  chargeFee: (book, { party, on, pick, amountMinor }) => {
    owes(book, party, amountMinor);
    const kind = pick % 2 === 0 ? 'return_fee' : 'late_charge';
    return [invoicing.feeCharged({ party, on, kind, invoiceId: newDocument(book, on), amountMinor })];
  },

  openBooks: (book, { party, on, amountMinor }) => {
    owes(book, party, amountMinor - amountMinor / 3n);
    const items = [{ invoiceId: newDocument(book, addDays(on, -50)), amountMinor }];
    return [invoicing.openingBalance({ party, on, items, accountCreditMinor: amountMinor / 3n })];
  },

  issueCreditNote: (book, { party, on, amountMinor }) => {
    const creditNoteId: CreditNoteId = newId(book);
    const invoiceId = book.invoices[0]?.issued.invoiceId ?? newDocument(book, on);
    const tax = { areaCode: 'a', component: 'state', amountMinor: amountMinor / 20n };
    const totalMinor = amountMinor + tax.amountMinor;
    takeIn(book, { kind: 'credit', party, amountMinor: totalMinor, creditNoteId });
    owes(book, party, -totalMinor);
    const laborMinor = amountMinor + 300n;
    const classes = { laborMinor, materialsMinor: -300n, tripMinor: 0n, feeMinor: 0n, taxes: [tax] };
    return [invoicing.creditNoteIssued({ party, on, creditNoteId, invoiceId, ...classes })];
  },

  takeDiscount: (book, now) => {
    const settled = settleSome(book, now);
    if (settled === undefined) return [];
    owes(book, now.party, -settled.amountMinor);
    return [invoicing.discountTaken({ ...now, ...settled })];
  },

  writeOff: (book, now) => {
    const settled = settleSome(book, now);
    const invoice = book.invoices.find(({ issued }) => issued.invoiceId === settled?.invoiceId);
    if (settled === undefined || invoice === undefined) return [];
    invoice.writtenOffMinor += settled.amountMinor;
    owes(book, now.party, -settled.amountMinor);
    return [invoicing.writtenOff({ ...now, ...settled, taxes: taxShare(settled.amountMinor) })];
  },

  recover: (book, now) => {
    const invoice = pickInvoice(book, now, ({ writtenOffMinor }) => writtenOffMinor > 0n);
    if (invoice === undefined) return [];
    const amountMinor = least(now.amountMinor, invoice.writtenOffMinor);
    invoice.writtenOffMinor -= amountMinor;
    invoice.openMinor += amountMinor;
    owes(book, now.party, amountMinor);
    const part = { invoiceId: invoice.issued.invoiceId, amountMinor };
    return [invoicing.recovered({ ...now, ...part, taxes: taxShare(amountMinor) })];
  },

  receivePayment: (book, { party, on, amountMinor }) => {
    const paymentId = takeIn(book, { kind: 'payment', party, amountMinor });
    owes(book, party, -amountMinor);
    return [paying.paymentReceived({ party, on, paymentId, amountMinor, place: 'bank' })];
  },

  receiveDeposit: (book, { party, on, amountMinor }) => {
    const paymentId = takeIn(book, { kind: 'deposit', party, amountMinor });
    add(book.depositsMinor, party, amountMinor);
    return [paying.depositReceived({ party, on, paymentId, amountMinor, place: 'clearing' })];
  },

  apply: (book, now) => {
    const money = pickMoney(book, now, ({ leftMinor }) => leftMinor > 0n);
    if (money === undefined) return [];
    const part = settleSome(book, { ...now, amountMinor: least(now.amountMinor, money.leftMinor) });
    if (part === undefined) return [];
    money.leftMinor -= part.amountMinor;
    money.applied = [...money.applied, part];
    const application = { party: now.party, on: now.on, paymentId: money.paymentId, parts: [part] };
    if (money.creditNoteId !== undefined)
      return [invoicing.creditApplied({ ...application, creditNoteId: money.creditNoteId })];
    if (money.kind !== 'deposit') return [paying.paymentApplied(application)];
    depositCounts(book, now.party, part.amountMinor);
    return [paying.depositAppliedToInvoice(application)];
  },

  unapply: (book, now) => {
    const money = pickMoney(book, now, ({ kind, applied }) => kind !== 'credit' && applied.length > 0);
    if (money === undefined) return [];
    const parts = reopen(book, money);
    const application = { party: now.party, on: now.on, paymentId: money.paymentId, parts };
    if (money.kind === 'payment') return [paying.paymentUnapplied(application)];
    for (const part of parts) depositCounts(book, now.party, -part.amountMinor);
    return [paying.depositUnapplied(application)];
  },

  returnMoney: (book, now) => {
    const money = pickMoney(book, now, (candidate) => candidate.kind !== 'credit' && isWhole(candidate));
    if (money === undefined) return [];
    const applied = reopen(book, money);
    money.leftMinor = 0n;
    const { party, on } = now;
    const { paymentId, amountMinor } = money;
    const returned = { party, on, paymentId, amountMinor, place: 'bank', applied } as const;
    if (money.kind === 'payment') {
      owes(book, party, amountMinor);
      return paying.paymentReturned(returned);
    }
    for (const part of applied) owes(book, party, part.amountMinor);
    add(book.depositsMinor, party, sumOfParts(applied) - amountMinor);
    return paying.depositReturned(returned);
  },

  refund: (book, now) => {
    const money = pickMoney(book, now, ({ leftMinor }) => leftMinor > 0n);
    if (money === undefined) return [];
    const amountMinor = least(now.amountMinor, money.leftMinor);
    money.leftMinor -= amountMinor;
    const refund = { ...now, paymentId: money.paymentId, amountMinor, place: 'bank' } as const;
    if (money.kind !== 'deposit') {
      owes(book, now.party, amountMinor);
      return [paying.refunded(refund)];
    }
    add(book.depositsMinor, now.party, -amountMinor);
    return [paying.depositRefunded({ ...refund, feeKeptMinor: amountMinor / 10n })];
  },

  moveCredit: (book, now) => {
    const money = pickMoney(book, now, ({ kind, leftMinor }) => kind !== 'deposit' && leftMinor > 0n);
    if (money === undefined) return [];
    const amountMinor = least(now.amountMinor, money.leftMinor);
    money.leftMinor -= amountMinor;
    const paymentId = takeIn(book, { kind: 'payment', party: now.other, amountMinor });
    const { creditNoteId } = money;
    const source = creditNoteId === undefined ? { paymentId: money.paymentId } : { creditNoteId };
    owes(book, now.party, amountMinor);
    owes(book, now.other, -amountMinor);
    const { party, other, on } = now;
    return [paying.creditMoved({ from: party, to: other, on, amountMinor, source, paymentId })];
  },

  receiveUnknown: (book, { on, amountMinor }) => {
    const paymentId: PaymentId = newId(book);
    book.unknown.push({ paymentId, amountMinor });
    return [paying.receiptOfUnknownPayer({ on, amountMinor, place: 'bank' })];
  },

  assignUnknown: (book, { party, on }) => {
    const receipt = book.unknown.pop();
    if (receipt === undefined) return [];
    takeIn(book, { kind: 'credit', party, amountMinor: receipt.amountMinor });
    owes(book, party, -receipt.amountMinor);
    return [paying.receiptAssigned({ party, on, ...receipt })];
  },

  settleWithProcessor: (_book, { on, amountMinor }) => [
    paying.processorFee({ on, amountMinor }),
    paying.payout({ on, amountMinor }),
  ],
} as const satisfies Record<string, Step>;

function owes(book: Notebook, party: AccountId, amountMinor: bigint): void {
  add(book.owedMinor, party, amountMinor);
}

/** A deposit counts in the balance from its application on, and is no longer held. */
function depositCounts(book: Notebook, party: AccountId, amountMinor: bigint): void {
  add(book.depositsMinor, party, -amountMinor);
  add(book.owedMinor, party, -amountMinor);
}

function add(to: Map<AccountId, bigint>, party: AccountId, amountMinor: bigint): void {
  to.set(party, (to.get(party) ?? 0n) + amountMinor);
}

function newId<T extends CreditNoteId | InvoiceId | PaymentId>(book: Notebook): T {
  book.ids += 1;
  return toId<T>(`00000000-0000-7000-8000-${String(book.ids).padStart(12, '0')}`);
}

function newDocument(book: Notebook, issuedOn: Day): InvoiceId {
  const id: InvoiceId = newId(book);
  book.documents.set(id, { number: `D-${book.ids}`, issuedOn, dueOn: addDays(issuedOn, 15) });
  return id;
}

function takeIn(book: Notebook, money: Pick<Money, 'kind' | 'party' | 'amountMinor' | 'creditNoteId'>) {
  const paymentId: PaymentId = newId(book);
  book.money.push({ ...money, paymentId, leftMinor: money.amountMinor, applied: [] });
  return paymentId;
}

function settleSome(book: Notebook, now: Circumstances): AppliedPart | undefined {
  const invoice = pickInvoice(book, now, ({ openMinor }) => openMinor > 0n);
  if (invoice === undefined) return undefined;
  const amountMinor = least(now.amountMinor, invoice.openMinor);
  invoice.openMinor -= amountMinor;
  return { invoiceId: invoice.issued.invoiceId, amountMinor };
}

function reopen(book: Notebook, money: Money): readonly AppliedPart[] {
  const parts = money.applied;
  for (const part of parts) {
    const invoice = book.invoices.find(({ issued }) => issued.invoiceId === part.invoiceId);
    if (invoice !== undefined) invoice.openMinor += part.amountMinor;
    money.leftMinor += part.amountMinor;
  }
  money.applied = [];
  return parts;
}

/** Nothing of it was refunded, moved or returned. */
function isWhole(money: Money): boolean {
  return money.leftMinor + sumOfParts(money.applied) === money.amountMinor;
}

function pickInvoice(
  book: Notebook,
  { party, pick }: Circumstances,
  fits: (invoice: OpenInvoice) => boolean,
) {
  return pickFrom(
    book.invoices.filter((invoice) => invoice.issued.party === party && fits(invoice)),
    pick,
  );
}

function pickMoney(book: Notebook, { party, pick }: Circumstances, fits: (money: Money) => boolean) {
  return pickFrom(
    book.money.filter((money) => money.party === party && fits(money)),
    pick,
  );
}

function pickFrom<T>(values: readonly T[], pick: number): T | undefined {
  return values[pick % Math.max(1, values.length)];
}

function taxShare(amountMinor: bigint) {
  return [{ areaCode: 'a', component: 'state', amountMinor: amountMinor / 21n }];
}

function sumOfParts(parts: readonly AppliedPart[]): bigint {
  return parts.reduce((sum, part) => sum + part.amountMinor, 0n);
}

function least(a: bigint, b: bigint): bigint {
  return a < b ? a : b;
}
