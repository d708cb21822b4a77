import { Readable } from 'node:stream';
import {
  type DecisionId,
  formatMinor,
  type LineId,
  type PhotoId,
  type PhotoPurpose,
  type WorkOrderId,
} from '@grainwright/domain';
import {
  type AddPhotoInput,
  addLine,
  addPhoto,
  decideEstimate,
  finishWork,
  type LineInput,
  listCautions,
  readWorkOrder,
  startWork,
} from '@grainwright/operations';
import postgres from 'postgres';
import sharp from 'sharp';
import { type Account, must, type World } from './world.ts';
import { aLine, sent, writtenUp } from './write-ups.ts';

/** The cut of scenario (a), a tailgate lining of foam-backed vinyl. Common practice, no published source. */
export const cutLining = aLine({
  observation: 'relaxes_and_lies_down',
  methods: ['cold_grain'],
  measuredInches: '2.2',
  family: 'Vinyl cut or tear',
});

let taken = 0;

/** A small JPEG that nothing is to be said against: patches with hard edges, other ones each time. */
export function aJpeg(): Promise<Buffer> {
  taken += 1;
  const [width, height, patch] = [640, 480, 20];
  const shades = patchesOf(taken, (width / patch) * (height / patch));
  const pixels = Buffer.alloc(width * height);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const at = Math.floor(y / patch) * (width / patch) + Math.floor(x / patch);
      pixels[y * width + x] = shades[at] ?? 0;
    }
  return sharp(pixels, { raw: { width, height, channels: 1 } })
    .jpeg()
    .toBuffer();
}

/** Numbers of a linear congruential generator (Numerical Recipes’ constants), from its higher bits. */
function patchesOf(seed: number, count: number): readonly number[] {
  let state = seed * 7919;
  return Array.from({ length: count }, () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return 60 + Math.floor((state / 2 ** 32) * 160);
  });
}

export function photoInput(
  account: Account,
  bytes: Buffer,
  where: Pick<AddPhotoInput, 'workOrderId' | 'lineId' | 'purpose'>,
): AddPhotoInput {
  const { world } = account.business;
  return {
    photoId: world.newId<PhotoId>(),
    stream: Readable.from([bytes]),
    truncated: () => false,
    directory: world.objects.temporaryDirectory,
    bytesMax: 2_000_000,
    ...where,
  };
}

/** Takes a photo as the technician and answers with its id. */
export async function photographed(
  account: Account,
  workOrderId: WorkOrderId,
  lineId: LineId | null,
  purpose: PhotoPurpose,
): Promise<PhotoId> {
  const { world, technician } = account.business;
  const input = photoInput(account, await aJpeg(), { workOrderId, lineId, purpose });
  return must(await addPhoto(world.services, technician, input)).photoId;
}

export interface WorkInHand {
  readonly workOrderId: WorkOrderId;
  readonly lineId: LineId;
}

/** A line written up on a vehicle of its own. */
export async function writtenUpLine(account: Account, line: LineInput = cutLining): Promise<WorkInHand> {
  const { world, technician } = account.business;
  const workOrderId = await writtenUp(account);
  const lineId = world.newId<LineId>();
  must(await addLine(world.services, technician, { lineId, workOrderId, line }));
  return { workOrderId, lineId };
}

/** Photographed, sent, and approved by the account's approver. */
export async function approvedLine(account: Account, line: LineInput = cutLining): Promise<WorkInHand> {
  const { world } = account.business;
  const work = await writtenUpLine(account, line);
  await photographed(account, work.workOrderId, work.lineId, 'before');
  const versionId = await sent(account, work.workOrderId);
  const { estimate } = must(await readWorkOrder(world.services, account.approver, work.workOrderId));
  if (estimate === null || estimate.digest === null) throw new Error('nothing was sent');
  must(
    await decideEstimate(world.services, account.approver, {
      decisionId: world.newId<DecisionId>(),
      workOrderId: work.workOrderId,
      versionId,
      digest: estimate.digest,
      answers: estimate.lines.map(({ lineId }) => ({ lineId, answer: 'approved', reason: '' })),
      total: formatMinor(estimate.price.invoice.totals.withTaxMinor, 'USD'),
    }),
  );
  return work;
}

/** Started with every caution acknowledged. */
export async function startedLine(account: Account, line: LineInput = cutLining): Promise<WorkInHand> {
  const { world, technician } = account.business;
  const work = await approvedLine(account, line);
  const { cautions } = must(
    await listCautions(world.services, technician, { workOrderId: work.workOrderId, circumstances: [] }),
  );
  must(
    await startWork(world.services, technician, {
      acknowledgmentId: world.newId(),
      workOrderId: work.workOrderId,
      acknowledge: cautions.map(({ code }) => code),
      circumstances: [],
    }),
  );
  return work;
}

/** Started, and with the photos that a trade account asks for at the end. */
export async function photographedLine(account: Account): Promise<WorkInHand> {
  const work = await startedLine(account);
  await photographed(account, work.workOrderId, work.lineId, 'after_heat');
  await photographed(account, work.workOrderId, work.lineId, 'after');
  return work;
}

/** Finished, and where the account asks for an acceptance, waiting for it. */
export async function finishedLine(account: Account): Promise<WorkInHand> {
  const { world, technician } = account.business;
  const work = await photographedLine(account);
  must(
    await finishWork(world.services, technician, { workOrderId: work.workOrderId, work: [], overrides: [] }),
  );
  return work;
}

/** Looks behind the product's back, as the database's administrator. */
export async function asAdministrator<Row>(
  world: Pick<World, 'adminUrl'>,
  query: (sql: postgres.Sql) => Promise<Iterable<Row>>,
): Promise<readonly Row[]> {
  const sql = postgres(world.adminUrl, { max: 1 });
  try {
    return [...(await query(sql))];
  } finally {
    await sql.end();
  }
}
