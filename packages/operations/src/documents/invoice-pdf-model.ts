import { type DocumentPicture, dayWords, type InvoiceModel } from '@grainwright/documents';
import { type Day, dayAt, type PhotoId, signerRoles, sumMinor, type VisitId } from '@grainwright/domain';
import type { InvoiceLineView, InvoiceVehicleView, InvoiceView } from '../billing/invoice-view.ts';
import { paymentMethods } from '../billing/payment-view.ts';
import { partyLines } from './party-lines.ts';

/** What is printed on an invoice besides what its page shows. */
export interface PrintedFacts {
  readonly size: InvoiceModel['size'];
  readonly logo: Uint8Array | null;
  readonly timeZone: string;
  /** What a document that bills no work is for; empty on an invoice. */
  readonly subject: string;
  readonly exemptMinor: bigint;
  readonly pictures: ReadonlyMap<PhotoId, DocumentPicture>;
}

/** An invoice as it was issued; what has settled it since is no part of its paper. */
export function invoiceModel(invoice: InvoiceView, facts: PrintedFacts): InvoiceModel {
  const { seller, buyer, totalMinor } = invoice;
  const deposits = invoice.settledBy
    .filter((each) => each.purpose === 'deposit')
    .map(({ receivedOn, method, amountMinor }) => ({
      words: `Deposit of ${dayWords(receivedOn)} by ${paymentMethods[method]}`,
      amountMinor,
    }));
  return {
    size: facts.size,
    seller: { name: seller.name, lines: partyLines(seller), logo: facts.logo },
    buyer: { name: buyer.name, lines: partyLines(buyer) },
    number: invoice.number,
    issuedOn: invoice.issuedOn,
    dueOn: invoice.dueOn,
    workedOn: invoice.workedOn,
    currency: invoice.currency,
    theirNumbers: [],
    vehicles: invoice.vehicles.map((vehicle) => printedVehicle(vehicle, invoice, facts)),
    charges: printedCharges(invoice, facts),
    taxes: invoice.taxes,
    exemptions: printedExemptions(invoice, facts),
    netMinor: invoice.netMinor,
    taxMinor: invoice.taxMinor,
    totalMinor,
    deposits,
    dueMinor: totalMinor - sumMinor(deposits.map((deposit) => deposit.amountMinor)),
    note: seller.note,
  };
}

const outcomes = {
  accepted: 'Accepted',
  accepted_with_remark: 'Accepted with a remark',
  not_accepted: 'Not accepted',
} as const;

function printedVehicle(
  vehicle: InvoiceVehicleView,
  invoice: InvoiceView,
  { timeZone, pictures }: PrintedFacts,
): InvoiceModel['vehicles'][number] {
  const { acceptance, lines } = vehicle;
  const workedOn = dayOfVisit(invoice, vehicle.visitId);
  return {
    vehicle: vehicle.vehicle,
    numbers: [`WO-${vehicle.workOrderNumber}`, vehicle.numbers, workedOn === null ? '' : dayWords(workedOn)]
      .filter((part) => part !== '')
      .join(', '),
    lines,
    subtotalMinor: vehicle.subtotalMinor,
    acceptance: acceptance && {
      outcome: outcomes[acceptance.outcome],
      name: acceptance.signerName,
      role: signerRoles[acceptance.signerRole],
      on: dayAt(acceptance.acceptedAt, timeZone),
      remark: acceptance.remark,
    },
    pictures: vehicle.pictures.map(({ lineId, before, after }) => ({
      words: lines.find((line) => line.lineId === lineId)?.description ?? vehicle.vehicle,
      before: before === null ? null : (pictures.get(before) ?? null),
      after: after === null ? null : (pictures.get(after) ?? null),
    })),
    pictureNotes: vehicle.pictureNotes,
  };
}

/** A fee or a balance brought along is one charge: what it is for. */
function printedCharges(
  invoice: InvoiceView,
  { subject }: PrintedFacts,
): readonly InvoiceModel['charges'][number][] {
  const { vehicles, charges, netMinor } = invoice;
  if (vehicles.length === 0 && charges.length === 0)
    return [{ code: '', description: subject, trail: '', laborMinor: 0n, materialsMinor: 0n, netMinor }];
  return charges.map((line) => printedCharge(line, invoice));
}

function printedCharge(line: InvoiceLineView, invoice: InvoiceView): InvoiceModel['charges'][number] {
  const workedOn = line.visitId === null ? null : dayOfVisit(invoice, line.visitId);
  return workedOn === null ? line : { ...line, description: `${line.description}, ${dayWords(workedOn)}` };
}

/** Only where there is more than one day to tell apart. */
function dayOfVisit({ visits }: InvoiceView, id: VisitId): Day | null {
  if (visits.length < 2) return null;
  return visits.find((visit) => visit.visitId === id)?.workedOn ?? null;
}

const certificates = { resale: 'resale certificate', exempt_use: 'exempt-use certificate' } as const;

function printedExemptions(invoice: InvoiceView, { exemptMinor }: PrintedFacts): InvoiceModel['exemptions'] {
  const { certificateKind, certificateNumber, visits } = invoice;
  if (certificateNumber === '') return [];
  const own = { certificateKind, certificateNumber };
  const named = [...visits.filter((visit) => visit.certificateNumber !== ''), own].map(
    (each) =>
      `${each.certificateKind === null ? 'certificate' : certificates[each.certificateKind]} ${each.certificateNumber}`,
  );
  return [{ words: `Sales tax, exempt, ${[...new Set(named)].join(' and ')}`, baseMinor: exemptMinor }];
}
