import {
  type AccountGroupId,
  type ApplicationId,
  type CertificateId,
  formatMinor,
  type HandedInId,
  type InvoiceId,
  type PaymentId,
  type PurchaseOrderId,
  type SiteId,
  type StandingApprovalId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  addAccountGroup,
  addAccountPrice,
  addCertificate,
  addPurchaseOrder,
  addSite,
  applyPayment,
  handInCertificate,
  issueInvoice,
  recordPayment,
  setStandingApproval,
} from '@grainwright/operations';
import { anotherApprover } from '../support/asked-estimates.ts';
import { type Account, must } from '../support/world.ts';
import { tellBooks } from './told-books.ts';
import { tellCredits } from './told-credits.ts';
import { bookOf } from './told-prices.ts';
import { tellReceipts } from './told-receipts.ts';
import { tellStatement } from './told-statement.ts';
import { tellTurns } from './told-turns.ts';
import { addTrimLine, type Mark, sendEstimate, type Teller, toldWork } from './told-work.ts';

/** Everything of one account that a request can name, and ids of its own that a client could make again. */
export interface Holdings {
  readonly named: Named;
  readonly made: Made;
}

/** Ids, digests and numbers of what is there. Work orders are called by how far they came. */
export type Named = Readonly<Record<(typeof namedKeys)[number], string>>;

/** Ids for what is about to be made. */
export type Made = Readonly<Record<(typeof madeKeys)[number], string>>;

export const namedKeys = [
  'account',
  'site',
  'person',
  'bookkeeper',
  'membership',
  'accountPrice',
  'standingApproval',
  'purchaseOrder',
  'handedIn',
  'rate',
  'writtenUp',
  'writtenUpLine',
  'spareLine',
  'ready',
  'revised',
  'revisedLine',
  'removableLine',
  'phoned',
  'phonedLine',
  'phonedVersion',
  'phonedDigest',
  'phonedTotal',
  'beside',
  'besideLine',
  'besideVersion',
  'besideDigest',
  'besideTotal',
  'asked',
  'askedLine',
  'askedVersion',
  'askedDigest',
  'askedTotal',
  'approved',
  'approvedLine',
  'started',
  'startedLine',
  'finished',
  'finishedDigest',
  'accepted',
  'paid',
  'paidLine',
  'photo',
  'acceptance',
  'invoice',
  'openInvoice',
  'payment',
  'unappliedPayment',
  'creditedInvoice',
  'creditedLine',
  'voidableInvoice',
  'creditNote',
  'dispute',
  'writeOff',
  'groupAccount',
  'heldDeposit',
  'creditPayment',
  'appliedApplication',
  'returnablePayment',
  'parkedReceipt',
  'statementRun',
  'mail',
  'commissionRate',
  'voidable',
  'notThere',
  'unsigned',
  'keyLine',
  'stopPhoto',
  'lotVisit',
  'lotWork',
  'lotDigest',
  'lotSignature',
  'number',
  'roNumber',
] as const;

export const madeKeys = [
  'account',
  'site',
  'person',
  'user',
  'membership',
  'staffMember',
  'certificate',
  'accountPrice',
  'standingApproval',
  'purchaseOrder',
  'handedIn',
  'accountGroup',
  'rate',
  'ratePeriod',
  'tierTerms',
  'carePercent',
  'taxRate',
  'taxClasses',
  'terms',
  'taxArea',
  'workOrder',
  'visit',
  'line',
  'addedLine',
  'version',
  'revision',
  'secondRevision',
  'decision',
  'phonedDecision',
  'besideDecision',
  'start',
  'photo',
  'acceptance',
  'invoice',
  'payment',
  'application',
  'creditNote',
  'dispute',
  'contactDispute',
  'writeOff',
  'discount',
  'deposit',
  'return',
  'unapplication',
  'creditRefund',
  'depositRefund',
  'noteRefund',
  'creditMove',
  'noteMove',
  'receipt',
  'assignedPayment',
  'opening',
  'clearingFee',
  'clearingPayout',
  'statementRun',
  'mail',
  'commissionRate',
  'monthClosing',
  'monthReopening',
  'rework',
  'missingSignature',
  'keyTest',
  'stopPoint',
  'visitSignature',
] as const;

/**
 * Gives an account a work order at every stage, invoices, payments and papers, with a word of its own in all that is
 * written. `email` is that of the approver who answers for it.
 */
export async function holdingsOf(account: Account, mark: Mark, email: string): Promise<Holdings> {
  const { word } = mark;
  const papers = await filePapers(account, word);
  const approver = await anotherApprover(account, { name: `Odo ${word}`, email, limit: null });
  const teller = { account, siteId: papers.site, approver, ...mark };
  const works = await tellWorks(teller);
  const money = await settle(teller, works);
  const forgiven = await tellCredits(teller, works);
  const receipts = await tellReceipts(account, word, {
    invoice: money.openInvoice,
    work: works.writtenUp.workOrder,
  });
  const turns = await tellTurns(teller, works);
  const told = await tellStatement(account);
  const books = await tellBooks(account);
  const { rate, ...madeOfBook } = await bookOf(account);
  const { asked, approved, started, accepted, paid } = works;
  const common = { account: account.id, ...papers, person: approver.personId, membership: approver.id, rate };
  return {
    named: {
      ...common,
      bookkeeper: account.business.bookkeeper.personId,
      ...namesOf(works),
      number: paid.number,
      roNumber: `${word}-RO`,
      ...money,
      ...forgiven.named,
      ...receipts.named,
      ...turns,
      ...told,
      commissionRate: books.commissionRate,
    },
    made: {
      ...common,
      user: approver.userId,
      staffMember: account.business.technician.personId,
      ...madeOfBook,
      workOrder: paid.workOrder,
      visit: paid.visit,
      line: paid.line,
      addedLine: asked.line,
      version: paid.version,
      revision: asked.version,
      secondRevision: approved.version,
      decision: paid.decision,
      phonedDecision: approved.decision,
      rework: accepted.workOrder,
      missingSignature: turns.missingSignature,
      keyTest: turns.keyTest,
      stopPoint: turns.stopPoint,
      visitSignature: turns.lotSignature,
      besideDecision: started.decision,
      start: paid.start,
      photo: paid.photo,
      acceptance: paid.acceptance,
      invoice: money.invoice,
      payment: money.payment,
      application: money.application,
      ...forgiven.made,
      ...receipts.made,
      ...told,
      ...books,
    },
  };
}

/** The ids, digests and totals of works, by how far they came. */
function namesOf(works: Awaited<ReturnType<typeof tellWorks>>) {
  const { writtenUp, ready, revised, phoned, beside, asked, approved, started, finished, accepted, paid } =
    works;
  return {
    writtenUp: writtenUp.workOrder,
    writtenUpLine: writtenUp.line,
    spareLine: works.spareLine,
    ready: ready.workOrder,
    revised: revised.workOrder,
    revisedLine: revised.line,
    removableLine: works.removableLine,
    phoned: phoned.workOrder,
    phonedLine: phoned.line,
    phonedVersion: phoned.version,
    phonedDigest: phoned.digest,
    phonedTotal: phoned.total,
    beside: beside.workOrder,
    besideLine: beside.line,
    besideVersion: beside.version,
    besideDigest: beside.digest,
    besideTotal: beside.total,
    asked: asked.workOrder,
    askedLine: asked.line,
    askedVersion: asked.version,
    askedDigest: asked.digest,
    askedTotal: asked.total,
    approved: approved.workOrder,
    approvedLine: approved.line,
    started: started.workOrder,
    startedLine: started.line,
    finished: finished.workOrder,
    finishedDigest: finished.shownDigest,
    accepted: accepted.workOrder,
    paid: paid.workOrder,
    paidLine: paid.line,
    photo: paid.photo,
    acceptance: paid.acceptance,
  };
}

async function filePapers(account: Account, word: string) {
  const { world, owner } = account.business;
  const own = { accountId: account.id };
  const site = world.newId<SiteId>();
  const yard = { ...own, id: site, name: `${word} yard`, address: `2 ${word} Lane`, miles: '4' };
  must(await addSite(world.services, owner, yard));
  const certificate = world.newId<CertificateId>();
  const dates = { validFrom: '2026-01-01', validTo: '2026-12-31' };
  const filed = { ...own, id: certificate, kind: 'resale' as const, number: `${word}-77`, ...dates };
  must(await addCertificate(world.services, owner, filed));
  const accountPrice = world.newId();
  const price = { ...own, id: accountPrice, code: 'WR-1', price: '61.00', reason: `promised to ${word}` };
  must(await addAccountPrice(world.services, owner, { ...price, ...dates }));
  const handedIn = world.newId<HandedInId>();
  const paper = { id: handedIn, kind: 'resale' as const, number: `${word}-88`, ...dates };
  must(await handInCertificate(world.services, account.payer, paper));
  return { site, certificate, accountPrice, handedIn, ...(await agreeBeforehand(account, word)) };
}

/** The standing approval from next year on, so that what is told here is still asked; the order counts for all of it. */
async function agreeBeforehand(account: Account, word: string) {
  const { world, owner } = account.business;
  const { services } = world;
  const days = { accountId: account.id, validFrom: '2027-01-01', validTo: '2027-06-30' };
  const standingApproval = world.newId<StandingApprovalId>();
  const limits = { perVehicle: '250.00', perVisit: null, perMonth: null, text: `agreed with ${word}` };
  must(await setStandingApproval(services, owner, { ...days, id: standingApproval, ...limits }));
  const purchaseOrder = world.newId<PurchaseOrderId>();
  const order = { id: purchaseOrder, number: `${word}-PO`, cap: '5000.00', note: `order of ${word}` };
  must(await addPurchaseOrder(services, owner, { ...days, ...order, validFrom: '2026-01-01' }));
  const accountGroup = world.newId<AccountGroupId>();
  must(await addAccountGroup(services, owner, { id: accountGroup, name: `${word} together` }));
  return { standingApproval, purchaseOrder, accountGroup };
}

async function tellWorks(teller: Teller) {
  const writtenUp = await toldWork(teller, 'written_up');
  const toRevise = await toldWork(teller, 'written_up');
  return {
    writtenUp,
    spareLine: await addTrimLine(teller, writtenUp),
    ready: await toldWork(teller, 'written_up'),
    removableLine: await addTrimLine(teller, toRevise),
    revised: await sendEstimate(teller, toRevise),
    phoned: await toldWork(teller, 'awaiting_approval'),
    beside: await toldWork(teller, 'awaiting_approval'),
    asked: await toldWork(teller, 'awaiting_approval'),
    approved: await toldWork(teller, 'approved'),
    started: await toldWork(teller, 'in_work'),
    finished: await toldWork(teller, 'done'),
    accepted: await toldWork(teller, 'accepted'),
    invoiced: await toldWork(teller, 'accepted'),
    paid: await toldWork(teller, 'accepted'),
    credited: await toldWork(teller, 'accepted'),
    voidable: await toldWork(teller, 'accepted'),
  };
}

/** One invoice paid, one open, and a payment with something left. */
async function settle({ account, word }: Teller, works: Awaited<ReturnType<typeof tellWorks>>) {
  const { world, bookkeeper } = account.business;
  const { services } = world;
  const issue = async (workOrder: WorkOrderId) => {
    const invoiceId = world.newId<InvoiceId>();
    return must(await issueInvoice(services, bookkeeper, { invoiceId, workOrderIds: [workOrder] }));
  };
  const pay = async (amount: string) => {
    const paymentId = world.newId<PaymentId>();
    const received = { method: 'check', receivedOn: '2026-08-05', reference: `check of ${word}` } as const;
    const payment = { paymentId, accountId: account.id, amount, applications: [], ...received };
    must(await recordPayment(services, bookkeeper, payment));
    return paymentId;
  };
  const invoice = await issue(works.paid.workOrder);
  const openInvoice = await issue(works.invoiced.workOrder);
  const total = formatMinor(invoice.openMinor, 'USD');
  const payment = await pay(total);
  const application = world.newId<ApplicationId>();
  const applied = { applicationId: application, paymentId: payment, invoiceId: invoice.id, amount: total };
  must(await applyPayment(services, bookkeeper, applied));
  const unappliedPayment = await pay('41.17');
  return { invoice: invoice.id, openInvoice: openInvoice.id, payment, application, unappliedPayment };
}
