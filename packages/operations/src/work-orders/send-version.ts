import { createHash } from 'node:crypto';
import {
  findEstimate,
  findWorkOrder,
  insertEstimate,
  listShownPhotos,
  listWorkOrderLines,
  newestVersionNumber,
  type StoredEstimate,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  canonicalJson,
  type EstimateLine,
  type EstimatePrice,
  estimateDigestInput,
  formatDecimal,
  type LineId,
  ok,
  type PhotoPurpose,
  priceEstimate,
  type Result,
  readyToSubmit,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { toStoredJson } from '../stored-json.ts';
import { checkFloor, flooredLines } from './below-floor.ts';
import { idReused } from './first-request.ts';
import { factsOfLines, photographedLine } from './line-facts.ts';
import { subjectOf } from './load-work-order.ts';
import { loadPricing, type Pricing, priceLines } from './price-lines.ts';

export interface VersionToSend {
  readonly versionId: VersionId;
  readonly workOrderId: WorkOrderId;
  /** Lines that were not there when photos could be taken of them: a picture of the vehicle as a whole shows them. */
  readonly newLineIds: readonly LineId[];
  /** Why prices below the floor may be charged; empty where nobody consents with sending it. */
  readonly floorReason?: string | undefined;
}

/**
 * Makes the next version of a work order's estimate out of its lines as they are and stores it for good. Refuses as
 * `readyToSubmit`, `checkFloor` and `loadPricing` do, and with `id_reused`.
 */
export async function makeVersion(scope: Scope, send: VersionToSend): Promise<Result<StoredEstimate>> {
  const { tx } = scope;
  const found = await findWorkOrder(tx, send.workOrderId);
  if (found === null) throw new Error('a locked work order is gone');
  const rows = await listWorkOrderLines(tx, send.workOrderId);
  const pricing = await loadPricing(scope, found.visit, found.workOrder.reworkOfId !== null);
  if (!pricing.ok) return pricing;
  const { priced, unpriced } = priceLines(rows, pricing.value);
  const photos = await listShownPhotos(tx, send.workOrderId);
  const ofVehicle = photos.filter((photo) => photo.lineId === null).map((photo) => photo.purpose);
  const ready = readyToSubmit({
    hasAccount: true,
    hasVehicle: true,
    madeAtBooking: false,
    lines: factsOfLines(rows).map(({ row, ...facts }) => {
      const line = photographedLine(facts, photos);
      const shown: readonly PhotoPurpose[] = send.newLineIds.includes(row.id) ? ofVehicle : [];
      return { ...line, photos: [...line.photos, ...shown], priced: !unpriced.has(row.id) };
    }),
  });
  if (!ready.ok) return ready;
  const floored = flooredLines(rows, priced, pricing.value);
  const allowed = await checkFloor(scope, send, floored);
  if (!allowed.ok) return allowed;
  const price = priceEstimate(priced, pricing.value.rules, subjectOf(found));
  if (!price.ok) return price;
  const number = (await newestVersionNumber(tx, send.workOrderId)) + 1;
  return store(scope, send, { rows, pricing: pricing.value, price: price.value, number });
}

interface Priced {
  readonly rows: readonly WorkOrderLineRow[];
  readonly pricing: Pricing;
  readonly price: EstimatePrice;
  readonly number: number;
}

async function store(scope: Scope, send: VersionToSend, priced: Priced): Promise<Result<StoredEstimate>> {
  const { pricing, price, number } = priced;
  const content = contentOf(scope, send, priced);
  const { totals } = price.invoice;
  const version = {
    id: send.versionId,
    workOrderId: send.workOrderId,
    version: number,
    content,
    digest: createHash('sha256').update(content, 'utf8').digest('hex'),
    rateDay: pricing.rateDay,
    expiresOn: pricing.expiresOn,
    currency: scope.business.currency,
    rules: toStoredJson(pricing.rules),
    repairsMinor: price.vehicle.repairsMinor,
    ...charges(price),
    taxMinor: totals.taxMinor,
    totalMinor: totals.withTaxMinor,
    madeBy: scope.actor.personId,
    madeAt: scope.now,
  };
  const lines = price.vehicle.lines.map((line, index) => storedLine(line, index + 1, priced.rows));
  if (!(await insertEstimate(scope.tx, version, lines))) return idReused();
  const stored = await findEstimate(scope.tx, send.versionId);
  return stored === null ? idReused() : ok(stored);
}

function charges({ vehicle, visit }: EstimatePrice) {
  return {
    minimumMinor: vehicle.minimum?.netMinor ?? 0n,
    afterHoursMinor: visit.afterHours?.amountMinor ?? 0n,
    rushMinor: visit.rush?.amountMinor ?? 0n,
    visitMinimumMinor: visit.minimum?.amountMinor ?? 0n,
    tripMinor: visit.trip?.amountMinor ?? 0n,
  };
}

/** The canonical text of the version: its digest is what an answer names as seen. */
function contentOf(scope: Scope, send: VersionToSend, { pricing, price, number, rows }: Priced): string {
  const { totals } = price.invoice;
  const { minimumMinor: vehicleMinimumMinor, ...others } = charges(price);
  return canonicalJson(
    estimateDigestInput({
      workOrderId: send.workOrderId,
      versionId: send.versionId,
      versionNumber: number,
      rateDay: pricing.rateDay,
      expiresOn: pricing.expiresOn,
      currency: scope.business.currency,
      lines: price.vehicle.lines.map((line) => {
        const { row, label } = writtenAs(line, rows);
        return {
          lineId: line.lineId,
          code: line.code,
          text: label,
          inches: row.measuredInches === null ? null : formatDecimal(row.measuredInches),
          beforeFurtherRepairMinor: line.beforeFurtherMinor,
          takesFurtherRepair: line.takesFurtherRepair,
          netMinor: line.netMinor,
          laborMinor: line.laborMinor,
          materialsMinor: line.materialsMinor,
        };
      }),
      vehicleMinimumMinor,
      ...others,
      taxMinor: totals.taxMinor,
      totalMinor: totals.withTaxMinor,
    }),
  );
}

function storedLine(line: EstimateLine, position: number, rows: readonly WorkOrderLineRow[]) {
  return { ...line, position, description: writtenAs(line, rows).label };
}

function writtenAs(line: EstimateLine, rows: readonly WorkOrderLineRow[]) {
  const written = factsOfLines(rows).find(({ row }) => row.id === line.lineId);
  if (written === undefined) throw new Error('a priced line is not on the work order');
  return written;
}
