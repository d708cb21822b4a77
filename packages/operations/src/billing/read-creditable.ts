import { findInvoice, listCertificates, listInvoicedVehicles, listInvoiceLines } from '@grainwright/db';
import {
  buildInvoice,
  type CertificateId,
  certificateOn,
  type Day,
  type ExemptionCertificate,
  type InvoiceBasis,
  type InvoiceId,
  type InvoiceLine,
  invoiceLines,
  type LineId,
  ok,
  type Result,
  refuse,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import type { Services } from '../services.ts';
import { readRemaining } from './compute-credit.ts';

/** What of an invoice can be credited, as it stands after earlier credits. Amounts are minor units of `currency`. */
export interface Creditable {
  readonly invoiceId: InvoiceId;
  readonly invoiceNumber: string;
  readonly accountName: string;
  readonly currency: string;
  readonly issuedOn: Day;
  readonly openMinor: bigint;
  readonly lines: readonly {
    readonly lineId: LineId;
    readonly code: string;
    readonly description: string;
    /** The vehicle as the invoice prints it. */
    readonly vehicle: string;
    readonly nowMinor: bigint;
    /** Priced by hand: it can be reduced, not measured again. */
    readonly byHand: boolean;
  }[];
  readonly charges: readonly {
    readonly kind: Exclude<InvoiceLine['kind'], 'repair'>;
    readonly label: string;
    readonly visitId: VisitId;
    readonly workOrderId: WorkOrderId | null;
    readonly nowMinor: bigint;
  }[];
  /** Of the account, valid on a date of work that none counted on when it was invoiced. */
  readonly certificates: readonly {
    readonly id: CertificateId;
    readonly kind: ExemptionCertificate['kind'];
    readonly number: string;
    readonly validFrom: Day;
    readonly validTo: Day | null;
  }[];
}

/** What can be credited of an invoice. Refuses with `wrong_state` one that is void or bills no work. */
export function readCreditable(
  services: Services,
  actor: Actor,
  invoiceId: InvoiceId,
): Promise<Result<Creditable>> {
  return performAsStaff(services, actor, 'issue_credit_note', async (scope) => {
    const { tx } = scope;
    const invoice = await findInvoice(tx, invoiceId);
    if (invoice === null) return refuse('not_found', 'There is no such invoice.');
    const basis = await readRemaining(scope, invoiceId);
    if (basis === null || invoice.voidedOn !== null)
      return refuse('wrong_state', `${invoice.number} has no line that could be credited.`);
    const printed = await listInvoiceLines(tx, invoiceId);
    const vehicles = await listInvoicedVehicles(tx, invoiceId);
    const { number, accountId, accountName, currency, issuedOn, openMinor } = invoice;
    const held = { invoiceId, invoiceNumber: number, accountName, currency, issuedOn, openMinor };
    const descriptions = new Map(printed.map((line) => [line.lineId, line.description]));
    const names = new Map(vehicles.map((each) => [each.workOrderId, each.vehicle]));
    return ok({
      ...held,
      lines: linesOf(basis, descriptions, names),
      charges: chargesOf(basis),
      certificates: (await listCertificates(tx, accountId))
        .filter(({ kind, number: paper, validFrom, validTo }) =>
          coversUncovered({ kind, number: paper, valid: { from: validFrom, to: validTo } }, basis),
        )
        .map(({ id, kind, number: paper, validFrom, validTo }) => ({
          id,
          kind,
          number: paper,
          validFrom,
          validTo,
        })),
    });
  });
}

function linesOf(
  basis: InvoiceBasis,
  descriptions: ReadonlyMap<LineId | null, string>,
  names: ReadonlyMap<WorkOrderId, string>,
): Creditable['lines'] {
  return basis.visits
    .flatMap((visit) => visit.vehicles)
    .flatMap(({ workOrderId, label, price }) =>
      price.lines.map((line) => ({
        lineId: line.lineId,
        code: line.code,
        description: descriptions.get(line.lineId) ?? line.repair,
        vehicle: names.get(workOrderId) ?? label,
        nowMinor: line.netMinor,
        byHand: line.byHand !== null,
      })),
    )
    .filter((line) => line.nowMinor > 0n);
}

function chargesOf(basis: InvoiceBasis): Creditable['charges'] {
  return buildInvoice(basis).visits.flatMap((visit) =>
    invoiceLines({ visits: [visit] }).flatMap(({ kind, label, workOrderId, netMinor }) =>
      kind === 'repair' || netMinor === 0n
        ? []
        : [{ kind, label, visitId: visit.visitId, workOrderId, nowMinor: netMinor }],
    ),
  );
}

function coversUncovered(certificate: ExemptionCertificate, basis: InvoiceBasis): boolean {
  return basis.visits.some(
    ({ dateOfWork }) =>
      certificateOn([certificate], dateOfWork) !== null &&
      certificateOn(basis.certificates, dateOfWork) === null,
  );
}
