import { Readable } from 'node:stream';
import {
  type AcceptanceId,
  type DecisionId,
  formatMinor,
  type LineId,
  type MissingSignatureId,
  type PhotoId,
  type PurchaseOrderId,
  type QuoteId,
  type StopPointId,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type Actor,
  acceptWork,
  addLine,
  addPhoto,
  addPurchaseOrder,
  addStopPoint,
  decideEstimate,
  finishWork,
  giveNumbers,
  giveQuote,
  holdWorkOrder,
  listCautions,
  previewDecision,
  readWorkOrder,
  recordDecision,
  recordKeyTest,
  recordNoAcceptance,
  releaseAcceptance,
  reviseEstimate,
  showAcceptance,
  startWork,
  submitEstimate,
  voidWorkOrder,
  writeRework,
  writeUp,
} from '@grainwright/operations';
import { must } from './must.ts';
import { minuteOf, reaches, type Shot, type ShotMoment } from './picture-book.ts';
import { sealNow } from './seal-now.ts';
import { scribble } from './signature.ts';
import { accountOf, personOf, type Stage } from './stage.ts';
import type { DemoLine, DemoVisit, DemoWorkOrder } from './work-order.ts';
import { lineInput, quoteInput, writeUpOf } from './write-up-input.ts';

type ToldLine = DemoLine & { readonly lineId: LineId };

/** A work order while it is told: who works on it, and what its lines became. */
interface Told {
  readonly stage: Stage;
  readonly visit: Pick<DemoVisit, 'account' | 'technician' | 'afterHours'>;
  readonly workOrder: DemoWorkOrder;
  readonly shots: readonly Shot[];
  readonly technician: Actor;
  readonly id: WorkOrderId;
  readonly lines: readonly ToldLine[];
  readonly laterLines: readonly ToldLine[];
  readonly photos: Map<Shot, PhotoId>;
}

/** Takes a work order as far along its path as it says, through the operations that people use. */
export async function tellWorkOrder(
  stage: Stage,
  visit: Told['visit'],
  workOrder: DemoWorkOrder,
  shots: readonly Shot[],
): Promise<void> {
  const { services } = stage;
  const withIds = (lines: readonly DemoLine[]) =>
    lines.map((line) => ({ ...line, lineId: services.newId() as LineId }));
  const told: Told = {
    stage,
    visit,
    workOrder,
    shots,
    technician: personOf(stage.people, visit.technician),
    id: services.newId() as WorkOrderId,
    lines: withIds(workOrder.lines),
    laterLines: withIds(workOrder.foundLater ?? []),
    photos: new Map(),
  };
  await write(told);
  if (workOrder.voided) return voidIt(told);
  if (workOrder.hold !== undefined)
    must(await holdWorkOrder(services, stage.office, { workOrderId: told.id, reason: workOrder.hold }));
  if (reaches(workOrder, 'awaiting_approval')) await agree(told);
  await sealNow(stage);
  if (reaches(workOrder, 'in_work')) await work(told);
  if (reaches(workOrder, 'done')) await finish(told);
}

async function write(told: Told): Promise<void> {
  const { stage, visit, workOrder, technician, id } = told;
  const { services, clock, remembered } = stage;
  const { accountId, siteId } = accountOf(stage, visit.account);
  const place = { id, day: '', afterHours: visit.afterHours === true };
  const { reworkOf } = workOrder;
  const written =
    reworkOf === undefined
      ? must(
          await writeUp(services, technician, {
            ...place,
            accountId,
            siteId,
            ...writeUpOf(workOrder),
            anotherDamage: workOrder.voided?.reason === 'duplicate',
          }),
        )
      : must(
          await writeRework(services, technician, {
            ...place,
            reworkOfId: workOrderOf(stage, reworkOf.number),
            reason: reworkOf.reason,
          }),
        );
  remembered.workOrders.set(Number(written.number), id);
  for (const { lineId, line } of told.lines)
    must(
      await addLine(services, technician, {
        workOrderId: id,
        lineId,
        line: lineInput(line),
        anotherDamage: workOrder.voided?.reason === 'duplicate' || reworkOf !== undefined,
      }),
    );
  for (const quote of workOrder.quotes ?? []) {
    const quoteId = services.newId() as QuoteId;
    must(await giveQuote(services, technician, { id: quoteId, workOrderId: id, ...quoteInput(quote) }));
  }
  clock.minutesIn(minuteOf.before);
  await take(told, 'before');
}

async function voidIt({ stage, workOrder, id, technician }: Told): Promise<void> {
  const { voided } = workOrder;
  if (!voided) return;
  const by = voided.reason === 'vehicle_not_there' ? technician : stage.office;
  must(
    await voidWorkOrder(stage.services, by, {
      workOrderId: id,
      reason: voided.reason,
      note: voided.note,
      duplicateOfId: voided.duplicateOf === undefined ? null : workOrderOf(stage, voided.duplicateOf),
    }),
  );
}

/** Sends the estimate; where no standing approval answers it, somebody does. */
async function agree(told: Told): Promise<void> {
  const { stage, workOrder, technician, id, lines, laterLines } = told;
  const { services, clock } = stage;
  clock.minutesIn(minuteOf.submit);
  must(
    await submitEstimate(services, technician, { workOrderId: id, versionId: services.newId() as VersionId }),
  );
  if (workOrder.answeredBy === undefined) return;
  clock.minutesIn(minuteOf.answer);
  await answer(told, lines);
  if (laterLines.length === 0) return;
  clock.minutesIn(minuteOf.found_later);
  await take(told, 'found_later');
  const added = laterLines.map(({ lineId, line }) => ({ lineId, line: lineInput(line) }));
  must(
    await reviseEstimate(services, technician, {
      workOrderId: id,
      versionId: services.newId() as VersionId,
      added,
      changed: [],
      removed: [],
    }),
  );
  clock.minutesIn(minuteOf.found_before);
  await take(told, 'found_before');
  await answer(told, [...lines, ...laterLines]);
}

async function answer(told: Told, lines: readonly ToldLine[]): Promise<void> {
  const { stage, visit, workOrder, technician, id } = told;
  const { services } = stage;
  const { contacts } = accountOf(stage, visit.account);
  const inPerson = workOrder.answeredBy === 'in_person';
  const approver = inPerson ? [...contacts.values()][0] : contacts.get(workOrder.answeredBy ?? '');
  if (approver === undefined) throw new Error(`the demo’s ${visit.account} has no such approver`);
  const { estimate } = must(await readWorkOrder(services, approver, id));
  if (!estimate?.versionId || !estimate.digest) throw new Error('there is no estimate to answer');
  const seen = { workOrderId: id, versionId: estimate.versionId, digest: estimate.digest };
  const answers = lines.map(({ lineId, declined }) => ({
    lineId,
    answer: declined === undefined ? ('approved' as const) : ('declined' as const),
    reason: declined ?? '',
  }));
  const { totalMinor } = must(await previewDecision(services, approver, { ...seen, answers }));
  const given = {
    ...seen,
    decisionId: services.newId() as DecisionId,
    answers,
    total: formatMinor(totalMinor),
  };
  if (inPerson)
    must(
      await recordDecision(services, technician, {
        ...given,
        decidedBy: approver.personId,
        given: 'in_person',
      }),
    );
  else must(await decideEstimate(services, approver, { ...given, photoIds: [...told.photos.values()] }));
}

async function work(told: Told): Promise<void> {
  const { stage, technician, id, workOrder, lines } = told;
  const { services, clock } = stage;
  clock.minutesIn(minuteOf.start);
  const { cautions } = must(await listCautions(services, technician, { workOrderId: id, circumstances: [] }));
  must(
    await startWork(services, technician, {
      acknowledgmentId: services.newId(),
      workOrderId: id,
      acknowledge: cautions.map((caution) => caution.code),
      circumstances: [],
    }),
  );
  for (const { lineId, line } of lines)
    if (line.rateCode === 'KF-1')
      must(
        await recordKeyTest(services, technician, {
          id: services.newId() as Parameters<typeof recordKeyTest>[2]['id'],
          workOrderId: id,
          lineId,
          steps: {
            battery: 'pass',
            coating: 'pass',
            lock: 'pass',
            unlock: 'pass',
            trunk: 'pass',
            horn: 'pass',
          },
        }),
      );
  clock.minutesIn(minuteOf.proof);
  await take(told, 'proof');
  if (workOrder.stopPoint === undefined) return;
  clock.minutesIn(minuteOf.stop_point);
  await take(told, 'stop_point');
  await stopHere(told, workOrder.stopPoint);
}

async function stopHere({ stage, technician, id, lines, photos, shots }: Told, note: string): Promise<void> {
  const shot = shots.find((each) => each.moment === 'stop_point');
  const photoId = shot === undefined ? undefined : photos.get(shot);
  const line = lines[shot?.line ?? 0];
  if (photoId === undefined || line === undefined) throw new Error('a stop point without its picture');
  const stopPoint = {
    id: stage.services.newId() as StopPointId,
    workOrderId: id,
    lineId: line.lineId,
    photoId,
  };
  must(await addStopPoint(stage.services, technician, { ...stopPoint, note, shown: true }));
}

async function finish(told: Told): Promise<void> {
  const { stage, technician, id, workOrder } = told;
  const { services, clock } = stage;
  clock.minutesIn(minuteOf.after);
  await take(told, 'after');
  clock.minutesIn(minuteOf.finish);
  const approved = [...told.lines, ...told.laterLines].filter((line) => line.declined === undefined);
  must(
    await finishWork(services, technician, {
      workOrderId: id,
      work: approved.map(({ lineId, line }) => ({ lineId, methods: line.methods ?? [], layers: '3' })),
      overrides: [],
      technicianMinutes: workOrder.technicianMinutes?.toString(),
      materialsCost: workOrder.materialsCost,
    }),
  );
  clock.minutesIn(minuteOf.accept);
  if (workOrder.poLater) await givePurchaseOrder(told, workOrder.poLater);
  if (workOrder.unsigned) await leaveUnsigned(told, workOrder.unsigned);
  if (reaches(workOrder, 'accepted') && workOrder.signer) await sign(told, workOrder.signer);
}

async function givePurchaseOrder(
  { stage, visit, id }: Told,
  { number, cap, by }: NonNullable<DemoWorkOrder['poLater']>,
): Promise<void> {
  const { services, bookkeeper } = stage;
  const { accountId, contacts } = accountOf(stage, visit.account);
  must(
    await addPurchaseOrder(services, bookkeeper, {
      id: services.newId() as PurchaseOrderId,
      accountId,
      number,
      cap,
      validFrom: '2026-10-01',
      validTo: null,
      note: '',
    }),
  );
  must(
    await giveNumbers(services, personOf(contacts, by), {
      workOrderId: id,
      ownNumber: '',
      roNumber: '',
      poNumber: number,
    }),
  );
}

async function leaveUnsigned(
  { stage, technician, id }: Told,
  unsigned: NonNullable<DemoWorkOrder['unsigned']>,
): Promise<void> {
  const { services, office } = stage;
  const { why, reason, witness, released } = unsigned;
  must(
    await recordNoAcceptance(services, technician, {
      id: services.newId() as MissingSignatureId,
      workOrderId: id,
      why,
      reason,
      witness,
    }),
  );
  if (released !== undefined)
    must(await releaseAcceptance(services, office, { workOrderId: id, reason: released }));
}

async function sign(
  { stage, technician, id }: Told,
  { name, role, remark }: NonNullable<DemoWorkOrder['signer']>,
): Promise<void> {
  const { services } = stage;
  const shown = must(await showAcceptance(services, technician, id));
  must(
    await acceptWork(services, technician, {
      acceptanceId: services.newId() as AcceptanceId,
      workOrderId: id,
      shownDigest: shown.digest,
      outcome: remark === undefined ? 'accepted' : 'accepted_with_remark',
      remark: remark ?? '',
      signerName: name,
      signerRole: role,
      mark: { kind: 'drawn', strokes: scribble(name) },
      overrideReason: '',
      device: 'the technician’s phone',
    }),
  );
}

async function take(told: Told, moment: ShotMoment): Promise<void> {
  const lines = [...told.lines, ...told.laterLines];
  for (const shot of told.shots) {
    if (shot.moment !== moment) continue;
    const jpeg = await told.stage.pictures.pictureOf(shot);
    const photoId = told.stage.services.newId() as PhotoId;
    const { warnings } = must(
      await addPhoto(told.stage.services, told.technician, {
        photoId,
        workOrderId: told.id,
        lineId: shot.line === null ? null : (lines[shot.line]?.lineId ?? null),
        purpose: shot.purpose,
        stream: Readable.from([jpeg]),
        truncated: () => false,
        directory: told.stage.temporaryFolder,
        bytesMax: 40_000_000,
      }),
    );
    // The demo's technicians take good pictures; one that is warned of would want its reason told here.
    if (warnings.length > 0)
      throw new Error(
        `the demo’s ${shot.purpose} picture ${shot.drawn.seed}: ${warnings.map(({ sentence }) => sentence).join(' ')}`,
      );
    told.photos.set(shot, photoId);
  }
}

function workOrderOf({ remembered }: Stage, number: number): WorkOrderId {
  const id = remembered.workOrders.get(number);
  if (id === undefined) throw new Error(`the demo has no work order ${number}`);
  return id;
}
