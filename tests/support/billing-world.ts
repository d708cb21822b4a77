import {
  type AcceptanceId,
  type DecisionId,
  formatMinor,
  type KeyTestId,
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
  previewDecision,
  readWorkOrder,
  recordKeyTest,
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
  /** Codes of the price book, each with the code of its care factor after a stroke: `LT-L/perf`. */
  readonly codes: readonly string[];
  /** The places of the lines that the approver declines, from 0; none unless given. */
  readonly declined?: readonly number[];
  readonly afterHours?: boolean;
  /** The visit of another one, to be billed with it. */
  readonly sameVisitAs?: Pick<AcceptedWork, 'siteId'>;
  readonly ownNumber?: string;
  readonly roNumber?: string;
  readonly poNumber?: string;
  readonly ownerName?: string;
  /** What a new part was quoted at, as text. */
  readonly replacement?: string;
  /** A retail account wants the whole vehicle photographed before the work. */
  readonly walkAround?: boolean;
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
    ownNumber: options.ownNumber ?? '',
    roNumber: options.roNumber ?? '',
    poNumber: options.poNumber ?? '',
    ownerName: options.ownerName ?? '',
    replacement: options.replacement ?? '',
  });
  const lines = await writtenLines(account, id, options.codes);
  await photographedAs(account, id, lines, ['before']);
  await answered(account, id, options.declined ?? []);
  if (options.declined?.length === lines.length) return { id, siteId };
  if (options.walkAround) await photographed(account, id, null, 'walk_around');
  await started(account, id);
  const approved = lines.filter((_, index) => !options.declined?.includes(index));
  await photographedAs(account, id, approved, ['after_heat', 'after']);
  const { services } = account.business.world;
  const { technician } = account.business;
  const finished = must(await finishWork(services, technician, { workOrderId: id, work: [], overrides: [] }));
  if (finished.state === 'done' && options.state !== 'done') await signed(account, id);
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
  for (const code of codes) {
    const [rateCode = '', factorCode = ''] = code.split('/');
    const lineId = world.newId<LineId>();
    const line = aLine({ rateCode, factorCode });
    must(await addLine(world.services, technician, { lineId, workOrderId, line }));
    if (rateCode === 'KF-1') await keyTested(account, workOrderId, lineId);
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

async function keyTested(account: Account, workOrderId: WorkOrderId, lineId: LineId): Promise<void> {
  const { world, technician } = account.business;
  const steps = {
    battery: 'pass',
    coating: 'pass',
    lock: 'pass',
    unlock: 'pass',
    trunk: 'pass',
    horn: 'pass',
  };
  must(
    await recordKeyTest(world.services, technician, {
      id: world.newId<KeyTestId>(),
      workOrderId,
      lineId,
      steps,
    }),
  );
}

/** As the account's approver answers; where a standing approval covers it, nobody is asked. */
async function answered(
  account: Account,
  workOrderId: WorkOrderId,
  declined: readonly number[],
): Promise<void> {
  const { world } = account.business;
  const versionId = await sent(account, workOrderId);
  const { estimate, state } = must(await readWorkOrder(world.services, account.approver, workOrderId));
  if (state === 'approved') return;
  if (estimate === null || estimate.digest === null) throw new Error('nothing was sent');
  const { digest } = estimate;
  const answers = estimate.lines.map(({ lineId }, index) =>
    declined.includes(index)
      ? ({ lineId, answer: 'declined', reason: 'not this time' } as const)
      : ({ lineId, answer: 'approved', reason: '' } as const),
  );
  const seen = { workOrderId, versionId, digest, answers };
  const preview = must(await previewDecision(world.services, account.approver, seen));
  must(
    await decideEstimate(world.services, account.approver, {
      ...seen,
      decisionId: world.newId<DecisionId>(),
      total: formatMinor(preview.totalMinor, 'USD'),
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

/** The vehicle’s owner signs finished work. */
export async function signed(account: Account, workOrderId: WorkOrderId): Promise<void> {
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
