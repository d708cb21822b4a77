import type {
  AccessLinkId,
  KeyTestId,
  LineId,
  MissingSignatureId,
  PersonId,
  PhotoId,
  QuoteId,
  StopPointId,
  VisitId,
  VisitSignatureId,
  WorkOrderId,
} from '@grainwright/domain';
import {
  acceptVisit,
  addLine,
  addStopPoint,
  askOwner,
  giveQuote,
  planStop,
  readWorkOrder,
  recordKeyTest,
  recordNoAcceptance,
  writeUp,
} from '@grainwright/operations';
import { anAccount, must } from '../support/world.ts';
import { aLine, aWriteUp, photoRow } from '../support/write-ups.ts';
import { type Teller, type ToldWork, toldWork } from './told-work.ts';

/** What happened to work besides being done and paid, and work that it can still happen to. */
export interface ToldTurns {
  readonly voidable: WorkOrderId;
  readonly notThere: WorkOrderId;
  readonly unsigned: WorkOrderId;
  readonly missingSignature: MissingSignatureId;
  readonly ownerLeft: WorkOrderId;
  readonly ownerLink: AccessLinkId;
  readonly keyLine: LineId;
  readonly keyTest: KeyTestId;
  readonly stopPhoto: PhotoId;
  readonly stopPoint: StopPointId;
  readonly lotVisit: VisitId;
  readonly lotWork: WorkOrderId;
  readonly lotDigest: string;
  readonly lotSignature: VisitSignatureId;
  readonly quote: QuoteId;
  /** A stop, the only one of this person on `plannedDay`. */
  readonly stop: VisitId;
  readonly stopPerson: PersonId;
  /** Planned, without a vehicle so far. */
  readonly emptyStop: VisitId;
}

export async function tellTurns(
  teller: Teller,
  works: { readonly writtenUp: ToldWork; readonly started: ToldWork },
): Promise<ToldTurns> {
  const { workOrder: unsigned, line } = await toldWork(teller, 'done');
  const stopPhotoOf = (work: { workOrderId: WorkOrderId; lineId: LineId }) =>
    photoRow(teller.account, { ...work, purpose: 'stop_point' });
  return {
    voidable: (await toldWork(teller, 'written_up')).workOrder,
    notThere: (await toldWork(teller, 'written_up')).workOrder,
    unsigned,
    missingSignature: await leaveUnsigned(teller, unsigned),
    ...(await askOwnerWhoLeft(teller)),
    ...(await testKey(teller, works.writtenUp)),
    stopPhoto: await stopPhotoOf({ workOrderId: works.started.workOrder, lineId: works.started.line }),
    stopPoint: await stopAt(teller, { workOrderId: unsigned, lineId: line }),
    ...(await signAtLot(teller)),
    quote: await quoteLining(teller, works.started.workOrder),
    ...(await goThere(teller)),
    emptyStop: await planEmptyStop(teller),
  };
}

async function quoteLining({ account, word, quote }: Teller, workOrderId: WorkOrderId): Promise<QuoteId> {
  const { world, technician } = account.business;
  const id = world.newId<QuoteId>();
  const sum = { amount: quote, partPrice: '', fittingHours: '', hourlyRate: '' };
  const told = { ...sum, part: 'tailgate_lining', side: '', note: `quoted by ${word}`, takenFromId: null };
  must(await giveQuote(world.services, technician, { id, workOrderId, ...told }));
  return id;
}

/** A day on which nothing else is told. */
export const plannedDay = '2026-09-15';
let plannedStops = 0;

/** The only stop of whose day it is there: two accounts of one business never have the same person’s. */
async function goThere({ account, siteId }: Teller) {
  const { world, technician, office, owner } = account.business;
  const [person] = [technician, office, owner].slice(plannedStops % 3);
  if (person === undefined) throw new Error('somebody has to go there');
  plannedStops += 1;
  const stop = world.newId<VisitId>();
  const planned = aWriteUp(account, { siteId, visitId: stop, day: plannedDay });
  must(await writeUp(world.services, person, planned));
  return { stop, stopPerson: person.personId };
}

async function planEmptyStop({ account, siteId }: Teller): Promise<VisitId> {
  const { world, technician } = account.business;
  const visitId = world.newId<VisitId>();
  const place = { accountId: account.id, siteId, day: '2026-09-17', afterHours: false, rush: false };
  must(await planStop(world.services, technician, { visitId, ...place }));
  return visitId;
}

async function leaveUnsigned(
  { account, word }: Teller,
  workOrderId: WorkOrderId,
): Promise<MissingSignatureId> {
  const { world, technician } = account.business;
  const id = world.newId<MissingSignatureId>();
  const said = { why: 'absent', reason: `${word} was out`, witness: `Odo ${word}` } as const;
  must(await recordNoAcceptance(world.services, technician, { id, workOrderId, ...said }));
  return id;
}

async function askOwnerWhoLeft(teller: Teller) {
  const { account, word } = teller;
  const { world, technician } = account.business;
  const { workOrder: ownerLeft } = await toldWork(teller, 'done');
  const ownerLink = world.newId<AccessLinkId>();
  const owner = {
    ownerName: `Owner ${word}`,
    phone: `555 ${word}`,
    email: `${word.toLowerCase()}@example.com`,
  };
  must(await askOwner(world.services, technician, { linkId: ownerLink, workOrderId: ownerLeft, ...owner }));
  return { ownerLeft, ownerLink };
}

async function testKey({ account }: Teller, { workOrder: workOrderId }: ToldWork) {
  const { world, technician } = account.business;
  const keyLine = world.newId<LineId>();
  const line = aLine({ part: 'key_remote', damage: 'worn_out_buttons', rateCode: 'KF-1' });
  must(await addLine(world.services, technician, { lineId: keyLine, workOrderId, line }));
  const keyTest = world.newId<KeyTestId>();
  const steps = { battery: 'fail', coating: '', lock: '', unlock: '', trunk: '', horn: '' };
  must(await recordKeyTest(world.services, technician, { id: keyTest, workOrderId, lineId: keyLine, steps }));
  return { keyLine, keyTest };
}

async function stopAt(
  { account, word }: Teller,
  work: { readonly workOrderId: WorkOrderId; readonly lineId: LineId },
): Promise<StopPointId> {
  const { world, technician } = account.business;
  const photoId = await photoRow(account, { ...work, purpose: 'stop_point' });
  const id = world.newId<StopPointId>();
  const told = { id, ...work, photoId, note: `an edge that ${word} knows of`, shown: true };
  must(await addStopPoint(world.services, technician, told));
  return id;
}

/** An account of its own, whose representative signs for all vehicles of a visit: one signed for, one not yet. */
async function signAtLot(teller: Teller) {
  const { account, word } = teller;
  const { world, technician } = account.business;
  const lot = await anAccount(account.business, {
    name: `${word} Autos`,
    shortName: `${word.slice(0, 5).toUpperCase()}L`,
    acceptanceRule: 'account_representative',
    limit: null,
  });
  const atLot = { ...teller, account: lot, siteId: lot.siteId, approver: lot.approver };
  const signed = await toldWork(atLot, 'done');
  const waiting = await toldWork(atLot, 'done');
  const { visit } = must(await readWorkOrder(world.services, technician, waiting.workOrder));
  const lotSignature = world.newId<VisitSignatureId>();
  const signerName = `Ravi ${word}`;
  must(
    await acceptVisit(world.services, technician, {
      id: lotSignature,
      visitId: visit.id,
      workOrders: [{ workOrderId: signed.workOrder, shownDigest: signed.shownDigest }],
      outcome: 'accepted',
      remark: '',
      signerName,
      signerRole: 'account_representative',
      mark: { kind: 'typed', name: signerName, confirmed: true },
      overrideReason: '',
      device: `phone of ${word}`,
    }),
  );
  return {
    lotVisit: visit.id,
    lotWork: waiting.workOrder,
    lotDigest: waiting.shownDigest,
    lotSignature,
  };
}
