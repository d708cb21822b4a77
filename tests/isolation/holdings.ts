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
  addContract,
  addPurchaseOrder,
  addSite,
  addTierPrice,
  applyPayment,
  handInCertificate,
  issueInvoice,
  readPriceBook,
  recordPayment,
  setStandingApproval,
} from '@grainwright/operations';
import { anotherApprover } from '../support/asked-estimates.ts';
import { type Account, must } from '../support/world.ts';
import type { Made, Named } from './holding-keys.ts';
import { tellAsked } from './told-asked.ts';
import { tellBooks } from './told-books.ts';
import { tellCredits } from './told-credits.ts';
import { tellDrafts } from './told-drafts.ts';
import { tellEvidence } from './told-evidence.ts';
import { tellMessages } from './told-messages.ts';
import { bookOf } from './told-prices.ts';
import { tellReceipts } from './told-receipts.ts';
import { tellStatement } from './told-statement.ts';
import { tellTurns } from './told-turns.ts';
import { tellWaiting } from './told-waiting.ts';
import { addTrimLine, type Mark, sendEstimate, type Teller, toldWork } from './told-work.ts';

export * from './holding-keys.ts';

/** Everything of one account that a request can name, and ids of its own that a client could make again. */
export interface Holdings {
  readonly named: Named;
  readonly made: Made;
}

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
  const waiting = await tellWaiting(teller);
  const told = await tellStatement(account);
  const books = await tellBooks(account);
  const drafts = await tellDrafts(account, word);
  const evidence = await tellEvidence(account, word, works);
  const { rate, ...madeOfBook } = await bookOf(account);
  const common = { account: account.id, ...papers, person: approver.personId, membership: approver.id, rate };
  return {
    named: {
      ...common,
      bookkeeper: account.business.bookkeeper.personId,
      ...namesOf(works),
      number: works.paid.number,
      roNumber: `${word}-RO`,
      ...money,
      ...forgiven.named,
      ...receipts.named,
      ...turns,
      ...(await tellAsked(teller, works.asked)),
      colleague: waiting.colleague,
      delegation: waiting.delegation,
      ...told,
      commissionRate: books.commissionRate,
      ...evidence.named,
      ...drafts,
    },
    made: {
      ...common,
      user: approver.userId,
      staffMember: account.business.technician.personId,
      ...madeOfBook,
      ...madeOfWorks(works),
      approvalAsk: turns.ownerLink,
      approvalAskByPage: turns.ownerLink,
      missingSignature: turns.missingSignature,
      delegation: waiting.delegation,
      officeDelegation: waiting.officeDelegation,
      ...(await tellMessages(teller, works.asked.workOrder)),
      ownerLink: turns.ownerLink,
      keyTest: turns.keyTest,
      stopPoint: turns.stopPoint,
      visitSignature: turns.lotSignature,
      quote: turns.quote,
      plannedStop: turns.emptyStop,
      invoice: money.invoice,
      payment: money.payment,
      application: money.application,
      ...forgiven.made,
      ...receipts.made,
      ...told,
      ...books,
      priceDraft: drafts.priceDraft,
      ...evidence.made,
    },
  };
}

/** What a client could make again of works. */
function madeOfWorks({ asked, approved, started, accepted, paid }: Awaited<ReturnType<typeof tellWorks>>) {
  return {
    workOrder: paid.workOrder,
    visit: paid.visit,
    line: paid.line,
    addedLine: asked.line,
    repeatedLine: approved.line,
    repeatedLineByPage: started.line,
    version: paid.version,
    revision: asked.version,
    secondRevision: approved.version,
    decision: paid.decision,
    phonedDecision: approved.decision,
    severalDecision: started.decision,
    passedOn: started.decision,
    rework: accepted.workOrder,
    besideDecision: started.decision,
    start: paid.start,
    photo: paid.photo,
    acceptance: paid.acceptance,
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
    several: works.several.workOrder,
    severalVersion: works.several.version,
    severalDigest: works.several.digest,
    severalTotal: works.several.total,
    answer: paid.decision,
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
  const contract = world.newId();
  const agreed = { ...own, id: contract, name: `${word} 2031`, discountPercent: '12', reason: 'promised' };
  must(await addContract(world.services, owner, { ...agreed, validFrom: '2031-01-01', validTo: null }));
  const tierPrice = await giveTierPrice(account, word);
  const handedIn = world.newId<HandedInId>();
  const paper = { id: handedIn, kind: 'resale' as const, number: `${word}-88`, ...dates };
  must(await handInCertificate(world.services, account.payer, paper));
  return {
    site,
    certificate,
    accountPrice,
    contract,
    tierPrice,
    handedIn,
    ...(await agreeBeforehand(account, word)),
  };
}

/** Of a code that no other account’s telling gave the tier a price for. */
async function giveTierPrice({ business }: Account, word: string): Promise<string> {
  const { world, owner } = business;
  const { rates, tierPrices } = must(await readPriceBook(world.services, owner));
  const free = rates.find(({ code }) => tierPrices.every((each) => each.code !== code));
  const id = world.newId();
  const price = { id, tierCode: 'trade', code: free?.code ?? '', price: '33.00', reason: `for ${word}` };
  must(await addTierPrice(world.services, owner, { ...price, validFrom: '2031-01-01', validTo: null }));
  return id;
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
    several: await toldWork(teller, 'awaiting_approval'),
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
