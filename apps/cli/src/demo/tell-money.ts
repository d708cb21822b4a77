import type {
  CertificateId,
  CreditNoteId,
  DisputeId,
  LineId,
  PaymentId,
  ReturnId,
} from '@grainwright/domain';
import {
  addCertificate,
  answerDispute,
  type IssueCreditNoteInput,
  issueCreditNote,
  openDispute,
  recordDeposit,
  recordPayment,
  returnPayment,
} from '@grainwright/operations';
import type { DemoMoney } from './money.ts';
import { must } from './must.ts';
import { accountOf, invoiceOf, personOf, type Stage } from './stage.ts';

type Told<Kind extends DemoMoney['kind']> = Extract<DemoMoney, { readonly kind: Kind }>;

/** Books one piece of money, as the bookkeeper would on that day. */
export async function tellMoney(stage: Stage, money: DemoMoney): Promise<void> {
  switch (money.kind) {
    case 'deposit':
      return tellDeposit(stage, money);
    case 'payment':
      return tellPayment(stage, money);
    case 'returned':
      return tellReturn(stage, money);
    case 'disputed':
      return tellDispute(stage, money);
    case 'credited':
      return tellCredit(stage, money);
  }
}

async function tellDeposit(stage: Stage, money: Told<'deposit'>): Promise<void> {
  const { services, bookkeeper } = stage;
  const { accountId } = accountOf(stage, money.account);
  const { method, amount, reference, on } = money;
  const paymentId = services.newId() as PaymentId;
  must(
    await recordDeposit(services, bookkeeper, {
      paymentId,
      accountId,
      workOrderId: null,
      method,
      amount,
      receivedOn: on,
      reference,
    }),
  );
}

async function tellPayment(stage: Stage, money: Told<'payment'>): Promise<void> {
  const { services, bookkeeper, remembered } = stage;
  const { accountId } = accountOf(stage, money.account);
  const { method, amount, reference, on, applied, short } = money;
  const paymentId = services.newId() as PaymentId;
  must(
    await recordPayment(services, bookkeeper, {
      paymentId,
      accountId,
      method,
      amount,
      receivedOn: on,
      reference,
      applications: applied.map(([number, part]) => ({
        invoiceId: invoiceOf(stage, number).id,
        amount: part,
      })),
    }),
  );
  remembered.payments.set(reference, paymentId);
  if (short === undefined) return;
  const { invoice, code, note } = short;
  await dispute(stage, bookkeeper, { invoice, code, note, amount: short.amount, on });
}

async function tellReturn(
  { services, bookkeeper, remembered }: Stage,
  money: Told<'returned'>,
): Promise<void> {
  const paymentId = remembered.payments.get(money.reference);
  if (paymentId === undefined) throw new Error(`the demo has no payment ${money.reference}`);
  must(
    await returnPayment(services, bookkeeper, {
      returnId: services.newId() as ReturnId,
      paymentId,
      returnedOn: money.on,
      reason: money.reason,
      fee: null,
    }),
  );
}

async function tellDispute(stage: Stage, money: Told<'disputed'>): Promise<void> {
  const { contacts } = accountOf(stage, money.account);
  await dispute(stage, personOf(contacts, money.by), { ...money, on: null });
}

async function dispute(
  stage: Stage,
  by: Stage['owner'],
  told: Pick<Told<'disputed'>, 'invoice' | 'code' | 'note' | 'amount'> & { readonly on: string | null },
): Promise<void> {
  const { services, remembered } = stage;
  const disputeId = services.newId() as DisputeId;
  must(
    await openDispute(services, by, {
      disputeId,
      invoiceId: invoiceOf(stage, told.invoice).id,
      lineId: lineOf(stage, told.invoice, told.code),
      amount: told.amount,
      reason: 'disputed',
      note: told.note,
      on: told.on,
    }),
  );
  remembered.disputes.set(`${told.invoice} ${told.code}`, disputeId);
}

async function tellCredit(stage: Stage, money: Told<'credited'>): Promise<void> {
  const { services, bookkeeper, remembered } = stage;
  const creditNoteId = services.newId() as CreditNoteId;
  const certificateId = await fileCertificate(stage, money);
  must(
    await issueCreditNote(services, bookkeeper, {
      creditNoteId,
      invoiceId: invoiceOf(stage, money.invoice).id,
      reason: money.reason,
      lines: money.line === undefined ? [] : [creditedLine(stage, money.invoice, money.line)],
      charges: [],
      certificateIds: certificateId === null ? [] : [certificateId],
      issuedOn: money.on,
      apply: true,
    }),
  );
  const disputeId = remembered.disputes.get(`${money.invoice} ${money.line?.code ?? ''}`);
  if (disputeId !== undefined)
    must(
      await answerDispute(services, bookkeeper, {
        disputeId,
        answer: 'credited',
        creditNoteId,
        note: money.reason,
      }),
    );
}

async function fileCertificate(stage: Stage, money: Told<'credited'>): Promise<CertificateId | null> {
  if (money.certificate === undefined) return null;
  const id = stage.services.newId() as CertificateId;
  const { accountId } = invoiceOf(stage, money.invoice);
  const certificate = { id, accountId, kind: 'resale', ...money.certificate } as const;
  must(await addCertificate(stage.services, stage.bookkeeper, certificate));
  return id;
}

function creditedLine(
  stage: Stage,
  invoice: string,
  { code, inches }: NonNullable<Told<'credited'>['line']>,
): IssueCreditNoteInput['lines'][number] {
  const lineId = lineOf(stage, invoice, code);
  return inches === null ? { kind: 'dropped', lineId } : { kind: 'repriced', lineId, measuredInches: inches };
}

function lineOf({ remembered }: Stage, invoice: string, code: string): LineId {
  const lineId = remembered.lines.get(`${invoice} ${code}`);
  if (lineId === undefined) throw new Error(`the demo’s ${invoice} has no line ${code}`);
  return lineId;
}
