import {
  findBusiness,
  findLastSeal,
  findLastSealDay,
  findSealRequest,
  insertSeal,
  listWaitingForSeal,
  lockChain,
  type SealRequestRow,
  type TenantTransaction,
} from '@grainwright/db';
import {
  dayAt,
  digestHex,
  type Instant,
  ok,
  type Result,
  type Seal,
  sealMoment,
  sealText,
  signText,
  type TenantId,
} from '@grainwright/domain';
import type { Services } from '../services.ts';
import { type ContentToSeal, contentToSeal } from './content-to-seal.ts';
import { findKeyInUse, type KeyInUse } from './key-in-use.ts';

export type SealServices = Pick<Services, 'database' | 'links' | 'now' | 'newId'>;

/** What is on record of something is not whole, so no seal can be put on it. */
export class UnsealableRecord extends Error {}

/** So many are sealed in one transaction, under the lock of the chain's end. */
const sealsAtOnce = 50;

/**
 * Puts a seal on everything that waits for one, in the order in which it happened, and answers how many that were.
 * Stopped in the middle it is gone on with where it was; two at once wait for each other. One record that can't be
 * sealed does not keep the others from their seals; then this throws once they have them.
 */
export async function sealRecords(services: SealServices, tenantId: TenantId): Promise<Result<number>> {
  const failed = new Map<string, unknown>();
  for (let sealed = 0; ; ) {
    const batch = await services.database.withTenant({ role: 'worker', tenantId }, (tx) =>
      sealSome(services, tx, failed),
    );
    if (!batch.ok) return batch;
    sealed += batch.value;
    if (batch.value > 0) continue;
    const [first] = failed;
    if (first !== undefined) throw new UnsealableRecord(`${first[0]} can’t be sealed: ${String(first[1])}`);
    return ok(sealed);
  }
}

async function sealSome(
  services: SealServices,
  tx: TenantTransaction,
  failed: Map<string, unknown>,
): Promise<Result<number>> {
  if ((await listWaitingForSeal(tx, 1)).length === 0) return ok(0);
  const head = await lockChain(tx, 'seals');
  let key = await findKeyInUse(services, tx);
  const chain = await openChain(services, tx, head);
  let sealed = 0;
  const waiting = await listWaitingForSeal(tx, sealsAtOnce + failed.size);
  for (const request of [...(await introductionOf(tx, key)), ...waiting]) {
    if (request.kind === 'key' && request.subjectId === key.id && key.takesOverFrom === null) continue;
    const content = await attempt(tx, request, key, failed);
    if (content === null) continue;
    await chain.add(request, content, key);
    sealed += 1;
    if (request.kind === 'key') key = await findKeyInUse(services, tx);
  }
  return ok(sealed);
}

/** A key that has to introduce itself does so before all else that it signs. */
async function introductionOf(tx: TenantTransaction, key: KeyInUse): Promise<readonly SealRequestRow[]> {
  if (key.takesOverFrom === null) return [];
  const request = await findSealRequest(tx, { kind: 'key', subjectId: key.id });
  if (request === null) throw new Error(`nobody asked for the seal of key ${key.keyId}`);
  return [request];
}

/** Null where the record is one that can't be sealed: it waits on. */
async function attempt(
  tx: TenantTransaction,
  request: SealRequestRow,
  key: KeyInUse,
  failed: Map<string, unknown>,
): Promise<ContentToSeal | null> {
  const name = `${request.kind} ${request.subjectId}`;
  if (failed.has(name)) return null;
  try {
    return await contentToSeal(tx, request, key);
  } catch (error) {
    failed.set(name, error);
    return null;
  }
}

interface OpenChain {
  add(request: SealRequestRow, content: ContentToSeal, key: KeyInUse): Promise<void>;
}

/** The chain from its end on, while that is locked. */
async function openChain(
  { now }: SealServices,
  tx: TenantTransaction,
  head: { readonly number: number; readonly sha256: string | null },
): Promise<OpenChain> {
  const business = await findBusiness(tx);
  if (business === null) throw new Error('seals of no business');
  const last = await findLastSeal(tx);
  const closed = await findLastSealDay(tx);
  const before = { lastSealedAt: last?.sealedAt ?? null, closedThrough: closed?.day ?? null };
  const sealedAt = sealMoment(now(), before, business.timeZone);
  let end = head;
  return {
    async add(request, content, key) {
      const seal = sealOf(
        tx,
        request,
        { number: end.number + 1, previous: end.sha256, sealedAt },
        content,
        key,
      );
      const text = sealText(seal);
      const { signature } = signText(text, key.seed);
      const sha256 = digestHex(text);
      await insertSeal(tx, {
        ...request,
        number: seal.number,
        sealedAt,
        sealedOn: dayAt(sealedAt, business.timeZone),
        previous: seal.previous,
        text,
        sha256,
        content: content.text,
        contentSha256: seal.contentDigest,
        withheld: content.withheld,
        keyId: key.keyId,
        signature,
      });
      end = { number: seal.number, sha256 };
    },
  };
}

function sealOf(
  { tenantId }: TenantTransaction,
  { kind, subjectId, workOrderId, happenedAt }: SealRequestRow,
  place: { readonly number: number; readonly previous: string | null; readonly sealedAt: Instant },
  content: ContentToSeal,
  { keyId }: KeyInUse,
): Seal {
  const contentDigest = digestHex(content.text);
  return { tenantId, ...place, kind, subjectId, workOrderId, happenedAt, contentDigest, keyId };
}
