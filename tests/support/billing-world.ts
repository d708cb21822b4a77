import {
  type AcceptanceId,
  type DecisionId,
  formatMinor,
  type LineId,
  type PhotoPurpose,
  type SiteId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  acceptWork,
  addLine,
  addSite,
  decideEstimate,
  finishWork,
  listCautions,
  readWorkOrder,
  showAcceptance,
  startWork,
} from '@grainwright/operations';
import { must } from './must.ts';
import { photographed } from './work-in-hand.ts';
import type { Account } from './world-account.ts';
import { aLine, sent, writtenUp } from './write-ups.ts';

/** Accepted work of one vehicle, and the place where its visit was. */
export interface AcceptedWork {
  readonly id: WorkOrderId;
  readonly siteId: SiteId;
}

export interface AcceptedWorkOptions {
  /** Codes of the price book; all approved. */
  readonly codes: readonly string[];
  readonly afterHours?: boolean;
  /** The visit of another one, to be billed with it. */
  readonly sameVisitAs?: AcceptedWork;
  readonly roNumber?: string;
  /** What a new part was quoted at, as text. */
  readonly replacement?: string;
  readonly state?: 'done' | 'accepted';
}

/**
 * Takes a vehicle today from the write-up to the owner's signature, as the technician and the account's approver do
 * it. Its limit must cover what the estimate comes to.
 */
export async function acceptedWork(account: Account, options: AcceptedWorkOptions): Promise<AcceptedWork> {
  const siteId = options.sameVisitAs?.siteId ?? (await anotherSite(account));
  const id = await writtenUp(account, {
    visitId: account.business.world.newId<VisitId>(),
    siteId,
    afterHours: options.afterHours ?? false,
    roNumber: options.roNumber ?? '',
    replacement: options.replacement ?? '',
  });
  const lines = await writtenLines(account, id, options.codes);
  await photographedAs(account, id, lines, ['before']);
  await approved(account, id);
  await started(account, id);
  await photographedAs(account, id, lines, ['after_heat', 'after']);
  const { services } = account.business.world;
  must(await finishWork(services, account.business.technician, { workOrderId: id, work: [], overrides: [] }));
  if (options.state !== 'done') await signed(account, id);
  return { id, siteId };
}

/** A visit is told from another by its place, technician and day, so each has a place of its own. */
async function anotherSite(account: Account): Promise<SiteId> {
  const { world, office } = account.business;
  const id = world.newId<SiteId>();
  const site = { id, accountId: account.id, name: `Bay ${id}`, address: '9 Mill Lane', miles: '12' };
  must(await addSite(world.services, office, site));
  return id;
}

async function writtenLines(
  account: Account,
  workOrderId: WorkOrderId,
  codes: readonly string[],
): Promise<readonly LineId[]> {
  const { world, technician } = account.business;
  const lineIds: LineId[] = [];
  for (const rateCode of codes) {
    const lineId = world.newId<LineId>();
    must(await addLine(world.services, technician, { lineId, workOrderId, line: aLine({ rateCode }) }));
    lineIds.push(lineId);
  }
  return lineIds;
}

async function photographedAs(
  account: Account,
  workOrderId: WorkOrderId,
  lines: readonly LineId[],
  purposes: readonly PhotoPurpose[],
): Promise<void> {
  for (const lineId of lines)
    for (const purpose of purposes) await photographed(account, workOrderId, lineId, purpose);
}

async function approved(account: Account, workOrderId: WorkOrderId): Promise<void> {
  const { world } = account.business;
  const versionId = await sent(account, workOrderId);
  const { estimate } = must(await readWorkOrder(world.services, account.approver, workOrderId));
  if (estimate === null || estimate.digest === null) throw new Error('nothing was sent');
  must(
    await decideEstimate(world.services, account.approver, {
      decisionId: world.newId<DecisionId>(),
      workOrderId,
      versionId,
      digest: estimate.digest,
      answers: estimate.lines.map(({ lineId }) => ({ lineId, answer: 'approved', reason: '' })),
      total: formatMinor(estimate.price.invoice.totals.withTaxMinor, 'USD'),
    }),
  );
}

async function started(account: Account, workOrderId: WorkOrderId): Promise<void> {
  const { world, technician } = account.business;
  const asked = { workOrderId, circumstances: [] };
  const { cautions } = must(await listCautions(world.services, technician, asked));
  const acknowledge = cautions.map(({ code }) => code);
  const acknowledgmentId = world.newId();
  must(await startWork(world.services, technician, { ...asked, acknowledgmentId, acknowledge }));
}

async function signed(account: Account, workOrderId: WorkOrderId): Promise<void> {
  const { world, technician } = account.business;
  const { digest } = must(await showAcceptance(world.services, technician, workOrderId));
  must(
    await acceptWork(world.services, technician, {
      acceptanceId: world.newId<AcceptanceId>(),
      workOrderId,
      shownDigest: digest,
      outcome: 'accepted',
      remark: '',
      signerName: 'Orrin Vasek',
      signerRole: 'vehicle_owner',
      mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
      overrideReason: '',
      device: 'a phone',
    }),
  );
}
