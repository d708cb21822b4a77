import {
  type FloorConsentRow,
  type HandPrice,
  type JoinedWorkOrder,
  listFloorConsents,
  listHandPricesOfVersion,
  listPriceTerms,
  listWrittenHandPrices,
  type StoredEstimate,
  type WorkOrderLineRow,
} from '@grainwright/db';
import {
  allows,
  belowFloorSentence,
  floorOf,
  type Instant,
  type LineId,
  type WorkOrderId,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import { type FlooredLine, flooredLines, mayStillBeSent, needsConsent } from './below-floor.ts';
import { loadPricing, priceLines } from './price-lines.ts';

/** What the business alone knows of the prices of a work order. Amounts are minor units of its currency. */
export interface PriceNotes {
  readonly handPrices: readonly HandPrice[];
  /** Lines that have a floor, while something can still be sent. */
  readonly floored: readonly {
    readonly lineId: LineId;
    readonly words: string;
    /** Before further repairs. */
    readonly priceMinor: bigint;
    readonly floorMinor: bigint;
    /** Why it can’t be sent as it is, in a sentence; null where it can. */
    readonly refused: string | null;
  }[];
  /** What the owner consented to, the first one first. */
  readonly consents: readonly {
    readonly lineId: LineId;
    readonly priceMinor: bigint;
    readonly floorMinor: bigint;
    readonly reason: string;
    readonly by: string;
    readonly at: Instant;
  }[];
}

/** For accounts there are none. */
export const noPriceNotes: PriceNotes = { handPrices: [], floored: [], consents: [] };

interface Priced {
  readonly rows: readonly WorkOrderLineRow[];
  readonly sent: StoredEstimate | null;
  /** As it is written up. */
  readonly floored: readonly FlooredLine[];
}

export async function loadPriceNotes(
  scope: Scope,
  found: JoinedWorkOrder,
  priced: Priced,
): Promise<PriceNotes> {
  const { tx, business } = scope;
  const { id } = found.workOrder;
  const consents = await listFloorConsents(tx, id);
  return {
    handPrices: await handPrices(scope, id, priced),
    floored: (await floorsNow(scope, found, priced)).map((line) => ({
      lineId: line.lineId,
      words: line.label,
      priceMinor: line.priceMinor,
      floorMinor: floorOf(line),
      refused: needsConsent(line, consents) ? belowFloorSentence(line, business.currency) : null,
    })),
    consents: consents.map(consentView),
  };
}

async function handPrices(
  { tx }: Scope,
  id: WorkOrderId,
  { rows, sent }: Priced,
): Promise<readonly HandPrice[]> {
  if (sent !== null) return listHandPricesOfVersion(tx, sent.version.id);
  return rows.some(({ byHandMinor }) => byHandMinor !== null) ? listWrittenHandPrices(tx, id) : [];
}

/** While it is written up for whoever writes it up; afterwards for whoever may consent ahead to another price. */
async function floorsNow(
  scope: Scope,
  { workOrder, visit }: JoinedWorkOrder,
  { rows, floored }: Priced,
): Promise<readonly FlooredLine[]> {
  const { role } = scope.member;
  if (workOrder.state === 'written_up') return allows(role, 'change_estimate') ? floored : [];
  if (!mayStillBeSent(workOrder.state) || !allows(role, 'consent_below_floor')) return [];
  const terms = await listPriceTerms(scope.tx);
  if (terms.every(({ floorPercent }) => floorPercent === null)) return [];
  const pricing = await loadPricing(scope, visit, workOrder.reworkOfId !== null);
  return pricing.ok ? flooredLines(rows, priceLines(rows, pricing.value).priced, pricing.value) : [];
}

function consentView(row: FloorConsentRow & { readonly consentedByName: string }) {
  const { lineId, priceMinor, floorMinor, reason, consentedByName, consentedAt } = row;
  return { lineId, priceMinor, floorMinor, reason, by: consentedByName, at: consentedAt };
}
