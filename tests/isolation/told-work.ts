import {
  type AcceptanceId,
  type DecisionId,
  formatMinor,
  type LineId,
  type PhotoId,
  type SiteId,
  type VersionId,
  type VisitId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type Actor,
  acceptWork,
  addLine,
  decideEstimate,
  finishWork,
  listCautions,
  readWorkOrder,
  showAcceptance,
  startWork,
  submitEstimate,
  writeUp,
} from '@grainwright/operations';
import { cutLining, photographed } from '../support/work-in-hand.ts';
import { type Account, must } from '../support/world.ts';
import { aLine, aWriteUp, photoRow } from '../support/write-ups.ts';

/** By what somebody's things are known. */
export interface Mark {
  /** Stands in everything that is written down. */
  readonly word: string;
  /** What a new part would cost, for each vehicle. */
  readonly quote: string;
}

export interface Teller extends Mark {
  readonly account: Account;
  readonly siteId: SiteId;
  readonly approver: Actor;
}

const stages = ['written_up', 'awaiting_approval', 'approved', 'in_work', 'done', 'accepted'] as const;
type Stage = (typeof stages)[number];

/** Ids of a work order with one line; what it did not come to is an empty text. */
export interface ToldWork {
  readonly workOrder: WorkOrderId;
  readonly number: string;
  readonly visit: VisitId;
  readonly line: LineId;
  /** Of the line, with its bytes; only where it was accepted. */
  readonly photo: PhotoId | '';
  readonly version: VersionId | '';
  readonly digest: string;
  /** What the estimate comes to. */
  readonly total: string;
  readonly decision: DecisionId | '';
  readonly start: string;
  readonly shownDigest: string;
  readonly acceptance: AcceptanceId | '';
}

/** The same in every business, so that it must not lead from one to the other. From the rule's own examples. */
export const sharedVin = '1M8GDM9AXKP042788';

/** Takes a work order as far along its path as is said, through the operations that people use. */
export async function toldWork(teller: Teller, until: Stage): Promise<ToldWork> {
  const reaches = (stage: Stage) => stages.indexOf(until) >= stages.indexOf(stage);
  const written = await beginWork(teller);
  const begun = { ...written, photo: await photographLine(teller, written, reaches('accepted')) };
  if (!reaches('awaiting_approval')) return begun;
  const asked = await sendEstimate(teller, begun);
  if (!reaches('approved')) return asked;
  const approved = await approve(teller, asked);
  if (!reaches('in_work')) return approved;
  const started = await start(teller, approved);
  if (!reaches('done')) return started;
  const finished = await finish(teller, started);
  return reaches('accepted') ? accept(teller, finished) : finished;
}

async function beginWork({ account, siteId, word, quote }: Teller): Promise<ToldWork> {
  const { world, technician } = account.business;
  const written = aWriteUp(account, {
    siteId,
    vin: sharedVin,
    roNumber: `${word}-RO`,
    poNumber: `${word}-PO`,
    ownerName: `Ysolde ${word}`,
    ownerPhone: `555 ${word}`,
    replacement: quote,
    replacementNote: `quoted by ${word}`,
    anotherDamage: true,
  });
  const { workOrderId, number } = must(await writeUp(world.services, technician, written));
  const line = { ...cutLining, note: `note of ${word}`, visibleWhen: `when ${word} is open` };
  const lineId = world.newId<LineId>();
  const { visit } = must(
    await addLine(world.services, technician, { lineId, workOrderId, line, anotherDamage: true }),
  );
  return {
    workOrder: workOrderId,
    number: number.toString(),
    visit: visit.id,
    line: lineId,
    photo: '',
    version: '',
    digest: '',
    total: '',
    decision: '',
    start: '',
    shownDigest: '',
    acceptance: '',
  };
}

/** Decoding a picture takes long, so only what is looked at has one; the rest have the rows of photos. */
async function photographLine({ account }: Teller, told: ToldWork, whole: boolean): Promise<PhotoId | ''> {
  const { workOrder: workOrderId, line: lineId } = told;
  await photoRow(account, { workOrderId, lineId: null, purpose: 'before' });
  if (whole) return photographed(account, workOrderId, lineId, 'before');
  await photoRow(account, { workOrderId, lineId, purpose: 'before' });
  return '';
}

export async function sendEstimate({ account }: Teller, told: ToldWork): Promise<ToldWork> {
  const { world, technician } = account.business;
  const versionId = world.newId<VersionId>();
  const submitted = { workOrderId: told.workOrder, versionId };
  must(await submitEstimate(world.services, technician, submitted));
  const { estimate } = must(await readWorkOrder(world.services, technician, told.workOrder));
  if (estimate === null || estimate.digest === null) throw new Error('nothing was sent');
  const total = formatMinor(estimate.price.invoice.totals.withTaxMinor, 'USD');
  return { ...told, version: versionId, digest: estimate.digest, total };
}

async function approve({ account, approver, word }: Teller, told: ToldWork): Promise<ToldWork> {
  const { services, newId } = account.business.world;
  if (told.version === '') throw new Error('nothing was asked for');
  const answers = [{ lineId: told.line, answer: 'approved' as const, reason: `reason of ${word}` }];
  const seen = { workOrderId: told.workOrder, versionId: told.version, digest: told.digest, answers };
  const decisionId = newId<DecisionId>();
  must(await decideEstimate(services, approver, { ...seen, decisionId, total: told.total }));
  return { ...told, decision: decisionId };
}

async function start({ account }: Teller, told: ToldWork): Promise<ToldWork> {
  const { world, technician } = account.business;
  const asked = { workOrderId: told.workOrder, circumstances: [] };
  const { cautions } = must(await listCautions(world.services, technician, asked));
  const acknowledgmentId = world.newId();
  const acknowledge = cautions.map(({ code }) => code);
  must(await startWork(world.services, technician, { ...asked, acknowledgmentId, acknowledge }));
  for (const purpose of ['after_heat', 'after'] as const)
    await photoRow(account, { workOrderId: told.workOrder, lineId: told.line, purpose });
  return { ...told, start: acknowledgmentId };
}

async function finish({ account }: Teller, told: ToldWork): Promise<ToldWork> {
  const { world, technician } = account.business;
  const finished = { workOrderId: told.workOrder, work: [], overrides: [] };
  must(await finishWork(world.services, technician, finished));
  const { digest } = must(await showAcceptance(world.services, technician, told.workOrder));
  return { ...told, shownDigest: digest };
}

const signature = [
  { x: 10, y: 20, t: 0 },
  { x: 60, y: 44, t: 40 },
];

async function accept({ account, word }: Teller, told: ToldWork): Promise<ToldWork> {
  const { world, technician } = account.business;
  const acceptanceId = world.newId<AcceptanceId>();
  const signerName = `Ysolde ${word}`;
  must(
    await acceptWork(world.services, technician, {
      acceptanceId,
      workOrderId: told.workOrder,
      shownDigest: told.shownDigest,
      outcome: 'accepted_with_remark',
      remark: `remark of ${word}`,
      signerName,
      signerRole: 'vehicle_owner',
      mark: { kind: 'drawn', strokes: [signature] },
      overrideReason: '',
      device: `phone of ${word}`,
    }),
  );
  return { ...told, acceptance: acceptanceId };
}

/** Adds taking the trim off and on, which needs no photo and so can be taken away again. */
export async function addTrimLine(
  { account }: Teller,
  { workOrder: workOrderId }: ToldWork,
): Promise<LineId> {
  const { world, technician } = account.business;
  const lineId = world.newId<LineId>();
  const line = aLine({ damage: 'other', rateCode: 'RI-1' });
  must(await addLine(world.services, technician, { lineId, workOrderId, line }));
  return lineId;
}
