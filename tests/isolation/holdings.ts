import {
  type ApplicationId,
  type CertificateId,
  formatMinor,
  type InvoiceId,
  type PaymentId,
  type SiteId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  addAccountPrice,
  addCertificate,
  addSite,
  applyPayment,
  issueInvoice,
  readPriceBook,
  recordPayment,
} from '@grainwright/operations';
import { anotherApprover } from '../support/asked-estimates.ts';
import { type Account, must } from '../support/world.ts';
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
  'rate',
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
  'start',
  'photo',
  'acceptance',
  'invoice',
  'payment',
  'application',
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
  const { rate, terms, taxArea } = await bookOf(account);
  const { writtenUp, ready, revised, phoned, asked, approved, started, finished, accepted, paid } = works;
  const common = { account: account.id, ...papers, person: approver.personId, membership: approver.id, rate };
  return {
    named: {
      ...common,
      bookkeeper: account.business.bookkeeper.personId,
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
      number: paid.number,
      roNumber: `${word}-RO`,
      ...money,
    },
    made: {
      ...common,
      user: approver.userId,
      staffMember: account.business.technician.personId,
      terms,
      taxArea,
      workOrder: paid.workOrder,
      visit: paid.visit,
      line: paid.line,
      addedLine: asked.line,
      version: paid.version,
      revision: asked.version,
      secondRevision: approved.version,
      decision: paid.decision,
      phonedDecision: approved.decision,
      start: paid.start,
      photo: paid.photo,
      acceptance: paid.acceptance,
      invoice: money.invoice,
      payment: money.payment,
      application: money.application,
    },
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
  return { site, certificate, accountPrice };
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
    asked: await toldWork(teller, 'awaiting_approval'),
    approved: await toldWork(teller, 'approved'),
    started: await toldWork(teller, 'in_work'),
    finished: await toldWork(teller, 'done'),
    accepted: await toldWork(teller, 'accepted'),
    invoiced: await toldWork(teller, 'accepted'),
    paid: await toldWork(teller, 'accepted'),
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

/** Ids of the business's price book. They are the same for all of its accounts. */
async function bookOf({ business }: Account) {
  const book = must(await readPriceBook(business.world.services, business.owner));
  const [rate] = book.rates;
  const [terms] = book.terms;
  const [taxArea] = book.taxAreas;
  if (!rate || !terms || !taxArea) throw new Error('the price book is empty');
  return { rate: rate.id, terms: terms.id, taxArea: taxArea.id };
}
