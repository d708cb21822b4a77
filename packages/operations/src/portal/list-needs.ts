import type { Contact } from '@grainwright/db';
import {
  countWaitingWorkOrders,
  type HandedInRow,
  listAnsweredDisputes,
  listCertificatesOf,
  listHandedInRows,
  listOpenItems,
  listPurchaseOrderRows,
  listWorkOwingNumbers,
  listWorkToAccept,
  type OwedWork,
  sumApprovedOnOrders,
} from '@grainwright/db';
import {
  addDays,
  allows,
  certificateWarning,
  type Day,
  dayAt,
  daysBetween,
  demandedNumbers,
  type ExemptionCertificate,
  missingNumbers,
  ok,
  type Result,
} from '@grainwright/domain';
import { disputeView } from '../billing/dispute-view.ts';
import { type Actor, performAsContact, type Scope } from '../perform.ts';
import type { Services } from '../services.ts';
import { toApprovePage } from '../work-orders/list-to-approve.ts';
import { vehicleWords } from '../work-orders/vehicle-words.ts';
import type {
  CertificateNeed,
  FinishedVehicle,
  NeedsView,
  NumbersNeed,
  PastDueNeed,
  PurchaseOrderNeed,
} from './needs-view.ts';

const estimatesShown = 5;
const rowsMax = 50;
/** How long an answer that brought a credit is still news. */
const newsDays = 14;

/**
 * What the business needs from the contact's account: answers, numbers, room on purchase orders, a certificate, a
 * signature; what is past due, and the answers to its disputes. Every list is bounded, the longest waiting first.
 */
export function listNeeds(services: Services, actor: Actor): Promise<Result<NeedsView>> {
  return performAsContact(services, actor, 'see_work_orders', async (scope) => {
    const { tx, today, business, member } = scope;
    const { accountId } = member;
    const counts = await countWaitingWorkOrders(tx, { accountId });
    const { rows: estimates } = await toApprovePage(scope, { after: 0n, rowsMax: estimatesShown });
    const numbers = await listWorkOwingNumbers(tx, accountId, rowsMax);
    const purchaseOrders = await shortPurchaseOrders(scope);
    const certificate = await certificateOf(scope);
    const acceptances = await listWorkToAccept(tx, accountId, rowsMax);
    const answered = { creditedSince: addDays(today, -newsDays), limit: rowsMax };
    const disputes = await listAnsweredDisputes(tx, accountId, answered);
    const pastDue = await pastDueOf(scope);
    return ok({
      currency: business.currency,
      today,
      estimates,
      estimateCount: counts.approval,
      numbers: numbers.map((row) => numbersNeed(scope, row)),
      purchaseOrders,
      certificate,
      acceptances: acceptances.map((row) => finishedVehicle(scope, row)),
      disputes: disputes.map((row) => disputeView(scope, row)),
      pastDue,
      nothing:
        certificate === null &&
        [estimates, numbers, purchaseOrders, acceptances, disputes, pastDue].every(
          (list) => list.length === 0,
        ),
    });
  });
}

export function numbersNeed(scope: Scope, row: OwedWork): NumbersNeed {
  return { ...finishedVehicle(scope, row), missing: missingNumbers(demandedNumbers(row, row)) };
}

function finishedVehicle({ business, today }: Scope, row: OwedWork): FinishedVehicle {
  const finishedOn = row.finishedAt === null ? null : dayAt(row.finishedAt, business.timeZone);
  return {
    workOrderId: row.id,
    number: row.number,
    vehicle: vehicleWords(row.vehicle, row.ownNumber),
    numbers: { ownKind: row.ownNumberKind, own: row.ownNumber, ro: row.roNumber, po: row.poNumber },
    finishedOn,
    days: finishedOn === null ? 0 : Math.max(0, daysBetween(finishedOn, today)),
  };
}

/** What is invoiced counts against the cap already; what is approved is still to come. */
export async function shortPurchaseOrders({
  tx,
  member,
}: Scope<Contact>): Promise<readonly PurchaseOrderNeed[]> {
  const approved = await sumApprovedOnOrders(tx, member.accountId);
  if (approved.length === 0) return [];
  const orders = await listPurchaseOrderRows(tx, member.accountId);
  return orders.flatMap(({ id, number, capMinor, invoicedMinor }) => {
    const waiting = approved.find((each) => each.number === number);
    if (capMinor === null || waiting === undefined) return [];
    const { approvedMinor, workOrders } = waiting;
    const leftMinor = capMinor - invoicedMinor;
    if (approvedMinor <= leftMinor) return [];
    const shortMinor = approvedMinor - leftMinor;
    return [{ id, number, capMinor, leftMinor, approvedMinor, workOrders, shortMinor }];
  });
}

/** For whoever sees invoices. */
async function pastDueOf({ tx, member, today }: Scope<Contact>): Promise<readonly PastDueNeed[]> {
  if (!allows(member.role, 'see_invoices')) return [];
  const open = await listOpenItems(tx, member.accountId, today, rowsMax);
  return open.flatMap(({ invoiceId, number, dueOn, openMinor, disputedMinor }) => {
    const askedMinor = openMinor - disputedMinor;
    if (dueOn >= today || askedMinor <= 0n) return [];
    return [{ invoiceId, number, dueOn, days: daysBetween(dueOn, today), openMinor: askedMinor }];
  });
}

/** None while one was handed in that would settle it: that waits for the business, not for the account. */
async function certificateOf({
  tx,
  member,
  today,
  business,
}: Scope<Contact>): Promise<CertificateNeed | null> {
  const { accountId } = member;
  const held = (await listCertificatesOf(tx, [accountId])).get(accountId) ?? [];
  const warn = (certificates: readonly ExemptionCertificate[]) =>
    certificateWarning(certificates, today, business.certificateWarningDays);
  const warning = warn(held);
  if (warning === null) return null;
  const handedIn = await listHandedInRows(tx, { accountId, waitingOnly: false, limit: rowsMax });
  const inCheck = handedIn.filter((each) => each.check === null).map(asCertificate);
  if (warn([...held, ...inCheck]) === null) return null;
  const latest = handedIn[0];
  const notTaken = latest?.check?.answer === 'not_taken' ? latest.check.reason : '';
  return { warning, taxedFrom: taxedFrom(warning.lastDay), notTaken };
}

function taxedFrom(lastDay: Day): Day {
  return addDays(lastDay, 1);
}

function asCertificate({ kind, number, validFrom, validTo }: HandedInRow): ExemptionCertificate {
  return { kind, number, valid: { from: validFrom, to: validTo } };
}
