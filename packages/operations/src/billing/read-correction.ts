import { listCertificates } from '@grainwright/db';
import {
  type AccountId,
  type CertificateId,
  type ChargeCorrection,
  type Correction,
  certificateOn,
  type EstimateLine,
  type ExemptionCertificate,
  type InvoiceBasis,
  type LineCorrection,
  type LineId,
  ok,
  parseMoney,
  type Result,
  refuse,
  type VisitChargeKind,
  type VisitId,
  type VisitToBill,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type LineToMeasureAgain, repriceLines } from './reprice-line.ts';

/** What is credited of a line. Amounts and inches are text as typed. */
export type LineToCredit =
  | { readonly kind: 'dropped'; readonly lineId: LineId }
  /** What it comes to instead, before tax. */
  | { readonly kind: 'reduced'; readonly lineId: LineId; readonly net: string }
  /** Priced again in the band of the size measured, or by another code. */
  | {
      readonly kind: 'repriced';
      readonly lineId: LineId;
      readonly measuredInches?: string | undefined;
      readonly rateCode?: string | undefined;
    };

/** A charge that is taken off whole. The visit need be named only where the invoice is of several. */
export type ChargeToCredit =
  | { readonly kind: VisitChargeKind; readonly visitId?: VisitId | undefined }
  | { readonly kind: 'minimum'; readonly workOrderId: WorkOrderId }
  | {
      readonly kind: 'fee';
      readonly label: string;
      readonly workOrderId?: WorkOrderId | undefined;
      readonly visitId?: VisitId | undefined;
    };

export interface CorrectionInput {
  readonly lines: readonly LineToCredit[];
  readonly charges: readonly ChargeToCredit[];
  /** Certificates of the account that were furnished after the invoice. */
  readonly certificateIds: readonly CertificateId[];
}

/** Reads what is to be credited against what the invoice holds now. */
export async function readCorrection(
  scope: Scope,
  accountId: AccountId,
  basis: InvoiceBasis,
  input: CorrectionInput,
): Promise<Result<Correction>> {
  const ids = input.lines.map((line) => line.lineId);
  if (new Set(ids).size !== ids.length)
    return refuse('invalid_input', 'Name each line once, with what is to be credited of it.', 'lines');
  const lines = await readLines(scope, accountId, basis, input.lines);
  if (!lines.ok) return lines;
  const charges = readCharges(basis.visits, input.charges);
  if (!charges.ok) return charges;
  const certificates = await readCertificates(scope, accountId, basis, input.certificateIds);
  if (!certificates.ok) return certificates;
  return ok({ lines: lines.value, charges: charges.value, certificates: certificates.value });
}

async function readLines(
  scope: Scope,
  accountId: AccountId,
  basis: InvoiceBasis,
  asked: readonly LineToCredit[],
): Promise<Result<readonly LineCorrection[]>> {
  const billed = new Map<LineId, EstimateLine>(
    basis.visits.flatMap((visit) =>
      visit.vehicles.flatMap((vehicle) => vehicle.price.lines.map((line) => [line.lineId, line] as const)),
    ),
  );
  const corrections: LineCorrection[] = [];
  const toReprice: LineToMeasureAgain[] = [];
  for (const [index, line] of asked.entries()) {
    const field = `lines.${index}`;
    const held = billed.get(line.lineId);
    if (held === undefined)
      return refuse(
        'invalid_input',
        'A line to credit is not on this invoice. Open the invoice again.',
        field,
      );
    if (line.kind === 'dropped') corrections.push(line);
    if (line.kind === 'reduced') {
      const net = readNet(line.net, held, scope.business.currency, `${field}.net`);
      if (!net.ok) return net;
      corrections.push({ kind: 'reduced', lineId: line.lineId, netMinor: net.value });
    }
    if (line.kind === 'repriced')
      toReprice.push({
        billed: held,
        measuredInches: line.measuredInches,
        rateCode: line.rateCode,
        field,
      });
  }
  const repriced = await repriceLines(scope, accountId, toReprice);
  if (!repriced.ok) return repriced;
  return ok([...corrections, ...repriced.value.map((line) => ({ kind: 'repriced' as const, line }))]);
}

function readNet(text: string, held: EstimateLine, currency: string, field: string): Result<bigint> {
  const net = parseMoney(text, { currency, field });
  if (!net.ok || (net.value >= 0n && net.value < held.netMinor)) return net;
  return refuse(
    'invalid_money',
    'Write what the line comes to instead, before tax: less than it does now.',
    field,
  );
}

function readCharges(
  visits: readonly VisitToBill[],
  asked: readonly ChargeToCredit[],
): Result<readonly ChargeCorrection[]> {
  const corrections: ChargeCorrection[] = [];
  for (const [index, charge] of asked.entries()) {
    const [found, another] = chargesLike(visits, charge);
    if (found === undefined)
      return refuse(
        'invalid_input',
        'A charge to credit is not on this invoice, or credited already. Open the invoice again.',
        `charges.${index}`,
      );
    if (another !== undefined)
      return refuse('invalid_input', 'Say of which visit or vehicle the charge is.', `charges.${index}`);
    corrections.push(found);
  }
  return ok(corrections);
}

function chargesLike(visits: readonly VisitToBill[], charge: ChargeToCredit): readonly ChargeCorrection[] {
  switch (charge.kind) {
    case 'minimum':
      return visits.some((visit) =>
        visit.vehicles.some(
          (vehicle) => vehicle.workOrderId === charge.workOrderId && vehicle.price.minimum !== null,
        ),
      )
        ? [charge]
        : [];
    case 'fee':
      return ofVisits(visits, charge.visitId).flatMap(({ visitId, fees }) =>
        fees
          .filter((fee) => fee.label === charge.label && fee.workOrderId === (charge.workOrderId ?? null))
          .map(({ workOrderId, label }) => ({ kind: 'fee', visitId, workOrderId, label })),
      );
    default:
      return ofVisits(visits, charge.visitId)
        .filter((visit) => isCharged(visit, charge.kind))
        .map(({ visitId }) => ({ kind: charge.kind, visitId }));
  }
}

function isCharged({ afterHours, rush, minimum, trip }: VisitToBill, kind: VisitChargeKind): boolean {
  const charges = { after_hours: afterHours, rush, visit_minimum: minimum };
  return kind === 'trip' ? trip !== null && trip.amountMinor > 0n : charges[kind] !== null;
}

function ofVisits(visits: readonly VisitToBill[], id: VisitId | undefined): readonly VisitToBill[] {
  return id === undefined ? visits : visits.filter((visit) => visit.visitId === id);
}

async function readCertificates(
  { tx }: Scope,
  accountId: AccountId,
  basis: InvoiceBasis,
  ids: readonly CertificateId[],
): Promise<Result<readonly ExemptionCertificate[]>> {
  if (ids.length === 0) return ok([]);
  const held = await listCertificates(tx, accountId);
  const certificates: ExemptionCertificate[] = [];
  for (const [index, id] of ids.entries()) {
    const field = `certificate_ids.${index}`;
    const row = held.find((each) => each.id === id);
    if (row === undefined) return refuse('not_found', 'The account has no such certificate.', field);
    const { kind, number, validFrom, validTo } = row;
    const certificate = { kind, number, valid: { from: validFrom, to: validTo } };
    if (basis.visits.every((visit) => certificateOn([certificate], visit.dateOfWork) === null))
      return refuse(
        'invalid_input',
        `Certificate ${number} is not valid on the date of work, ${basis.visits.map((visit) => visit.dateOfWork).join(', ')}.`,
        field,
      );
    certificates.push(certificate);
  }
  return ok(certificates);
}
