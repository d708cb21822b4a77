import { Readable } from 'node:stream';
import {
  type AcceptanceId,
  type AccountId,
  type DecisionId,
  formatMinor,
  type InvoiceId,
  type LineId,
  type PaymentId,
  type PhotoId,
  type SiteId,
  type VersionId,
  type WorkOrderId,
} from '@grainwright/domain';
import { drawPicture } from '@grainwright/evidence';
import {
  type Actor,
  acceptWork,
  addLine,
  addPhoto,
  decideEstimate,
  finishWork,
  issueInvoice,
  type LineInput,
  listCautions,
  previewDecision,
  readWorkOrder,
  recordPayment,
  type Services,
  showAcceptance,
  startWork,
  submitEstimate,
  writeUp,
} from '@grainwright/operations';
import { type DemoJob, type DemoLine, type DemoStage, demoStages } from './job.ts';
import { must } from './must.ts';

/** Who takes part in a work order of the demo, and where. */
export interface Cast {
  readonly technician: Actor;
  readonly office: Actor;
  readonly bookkeeper: Actor;
  readonly approver: Actor;
  readonly accountId: AccountId;
  readonly siteId: SiteId;
}

/** The clock of the demo: sets it, and says what the camera's shows. */
export interface DemoClock {
  /** So many minutes after the job began. */
  minutesIn(minutes: number): void;
  cameraTime(): { readonly local: string; readonly offset: string };
  atStartOf(day: string): void;
}

export interface Stage {
  readonly services: Services;
  readonly temporaryFolder: string;
  readonly clock: DemoClock;
}

/** Takes a work order as far along its path as the job says, through the operations that people use. */
export async function tellJob(stage: Stage, cast: Cast, job: DemoJob, seed: number): Promise<void> {
  const { services, clock } = stage;
  const id = <T extends string>() => services.newId() as T;
  const workOrderId = id<WorkOrderId>();
  clock.minutesIn(0);
  must(await writeUp(services, cast.technician, writeUpOf(job, cast, workOrderId)));
  const lines = job.lines.map((line, index) => ({ ...line, lineId: id<LineId>(), seed: seed * 10 + index }));
  for (const { lineId, line } of lines)
    must(await addLine(services, cast.technician, { workOrderId, lineId, line: { ...emptyLine, ...line } }));
  clock.minutesIn(4);
  await takePictures(stage, cast, workOrderId, lines, 'before');
  if (!reaches(job, 'awaiting_approval')) return;
  clock.minutesIn(8);
  must(await submitEstimate(services, cast.technician, { workOrderId, versionId: id<VersionId>() }));
  if (!reaches(job, 'approved')) return;
  clock.minutesIn(15);
  await decide(services, cast, workOrderId, lines, id<DecisionId>());
  if (!reaches(job, 'in_work')) return;
  clock.minutesIn(18);
  const cautions = must(await listCautions(services, cast.technician, { workOrderId, circumstances: [] }));
  const acknowledge = cautions.cautions.map((caution) => caution.code);
  must(
    await startWork(services, cast.technician, {
      acknowledgmentId: services.newId(),
      workOrderId,
      acknowledge,
      circumstances: [],
    }),
  );
  clock.minutesIn(30);
  await takePictures(stage, cast, workOrderId, lines, 'proof');
  if (!reaches(job, 'done')) return;
  await finish(stage, cast, job, workOrderId, lines);
}

type ToldLine = DemoLine & { readonly lineId: LineId; readonly seed: number };

async function finish(
  stage: Stage,
  cast: Cast,
  job: DemoJob,
  workOrderId: WorkOrderId,
  lines: readonly ToldLine[],
): Promise<void> {
  const { services, clock } = stage;
  clock.minutesIn(75);
  await takePictures(stage, cast, workOrderId, lines, 'after');
  const work = lines.map(({ lineId, line }) => ({ lineId, methods: line.methods ?? [], layers: '3' }));
  must(await finishWork(services, cast.technician, { workOrderId, work, overrides: [] }));
  if (!reaches(job, 'accepted')) return;
  if (job.signer) {
    clock.minutesIn(80);
    const shown = must(await showAcceptance(services, cast.technician, workOrderId));
    must(
      await acceptWork(services, cast.technician, {
        acceptanceId: services.newId() as AcceptanceId,
        workOrderId,
        shownDigest: shown.digest,
        outcome: job.signer.remark ? 'accepted_with_remark' : 'accepted',
        remark: job.signer.remark ?? '',
        signerName: job.signer.name,
        signerRole: job.signer.role,
        mark: { kind: 'drawn', strokes: scribble(job.signer.name) },
        overrideReason: '',
        device: 'the technician’s phone',
      }),
    );
  }
  if (!reaches(job, 'invoiced')) return;
  clock.minutesIn(95);
  const invoice = must(
    await issueInvoice(services, cast.office, {
      invoiceId: services.newId() as InvoiceId,
      workOrderIds: [workOrderId],
    }),
  );
  if (!job.payment) return;
  clock.atStartOf(job.payment.on);
  must(
    await recordPayment(services, cast.bookkeeper, {
      paymentId: services.newId() as PaymentId,
      accountId: cast.accountId,
      method: job.payment.method,
      amount: job.payment.amount,
      receivedOn: job.payment.on,
      reference: job.payment.reference,
      applications: [{ invoiceId: invoice.id, amount: job.payment.applied }],
    }),
  );
}

function reaches(job: DemoJob, stage: DemoStage): boolean {
  return demoStages.indexOf(job.until) >= demoStages.indexOf(stage);
}

function writeUpOf(job: DemoJob, cast: Cast, id: WorkOrderId) {
  return {
    id,
    accountId: cast.accountId,
    siteId: cast.siteId,
    day: '',
    afterHours: false,
    ...job.vehicle,
    lastEight: '',
    ownNumber: job.ownNumber ?? '',
    roNumber: job.roNumber ?? '',
    poNumber: job.poNumber ?? '',
    ownerName: job.owner?.name ?? '',
    ownerPhone: job.owner?.phone ?? '',
    odometerMiles: job.odometerMiles ?? '',
    replacement: job.replacement?.amount ?? '',
    replacementNote: job.replacement?.note ?? '',
  };
}

const emptyLine: LineInput = {
  part: '',
  side: '',
  damage: '',
  visibleWhen: '',
  observation: '',
  looksLike: '',
  overruledMaterial: '',
  overruleReason: '',
  methods: [],
  measuredInches: '',
  family: '',
  rateCode: '',
  factorCode: '',
  byHandPrice: '',
  byHandReason: '',
  byHandMaterialsPercent: '',
  note: '',
};

async function decide(
  services: Services,
  cast: Cast,
  workOrderId: WorkOrderId,
  lines: readonly ToldLine[],
  decisionId: DecisionId,
): Promise<void> {
  const { estimate } = must(await readWorkOrder(services, cast.approver, workOrderId));
  if (!estimate?.versionId || !estimate.digest) throw new Error('there is no estimate to answer');
  const seen = { versionId: estimate.versionId, digest: estimate.digest };
  const answers = lines.map(({ lineId, declined }) => ({
    lineId,
    answer: declined ? ('declined' as const) : ('approved' as const),
    reason: declined ?? '',
  }));
  const preview = must(await previewDecision(services, cast.approver, { workOrderId, ...seen, answers }));
  must(
    await decideEstimate(services, cast.approver, {
      decisionId,
      workOrderId,
      ...seen,
      answers,
      total: formatMinor(preview.totalMinor),
    }),
  );
}

async function takePictures(
  stage: Stage,
  cast: Cast,
  workOrderId: WorkOrderId,
  lines: readonly ToldLine[],
  moment: 'before' | 'proof' | 'after',
): Promise<void> {
  for (const line of lines) {
    if (line.picture === null) continue;
    for (const drawn of moment === 'proof' ? line.proof : [moment])
      await takePicture(stage, cast, workOrderId, line, drawn);
  }
  const [first] = lines;
  if (moment === 'before' && first?.picture)
    await takePicture(stage, cast, workOrderId, { ...first, lineId: null }, 'walk_around');
}

async function takePicture(
  { services, temporaryFolder, clock }: Stage,
  cast: Cast,
  workOrderId: WorkOrderId,
  line: Pick<ToldLine, 'picture' | 'seed'> & { readonly lineId: LineId | null },
  purpose: 'before' | 'after_heat' | 'progress' | 'after' | 'walk_around',
): Promise<void> {
  if (line.picture === null) return;
  const { local, offset } = clock.cameraTime();
  const stage = purpose === 'walk_around' ? 'before' : purpose;
  const seed = purpose === 'walk_around' ? line.seed + 5000 : line.seed;
  const jpeg = await drawPicture({
    ...line.picture,
    stage,
    seed,
    takenAtLocal: local,
    takenAtOffset: offset,
  });
  must(
    await addPhoto(services, cast.technician, {
      photoId: services.newId() as PhotoId,
      workOrderId,
      lineId: line.lineId,
      purpose,
      stream: Readable.from([jpeg]),
      truncated: () => false,
      directory: temporaryFolder,
      bytesMax: 40_000_000,
    }),
  );
}

/** A signature made of a few arcs, different for each name. */
function scribble(name: string): { x: number; y: number; t: number }[][] {
  return [...name.split(' ').entries()].map(([word, letters]) =>
    [...Array(24).keys()].map((step) => ({
      x: 30 + word * 170 + step * 6,
      y:
        80 +
        Math.round(
          28 * Math.sin(step / 1.7 + letters.length) + 10 * Math.sin(step * 1.1 + letters.charCodeAt(0)),
        ),
      t: word * 600 + step * 16,
    })),
  );
}
