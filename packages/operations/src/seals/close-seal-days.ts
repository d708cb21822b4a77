import {
  type ChainHead,
  findBusiness,
  findDayToClose,
  findLastSealDay,
  insertSealDay,
  listChainHeads,
  listSealTexts,
  lockChain,
  type TenantTransaction,
} from '@grainwright/db';
import {
  type Day,
  dayAt,
  digestHex,
  merkleRoot,
  ok,
  type Result,
  type SealDay,
  sealDayText,
  sealLeafHash,
  signText,
  type TenantId,
} from '@grainwright/domain';
import { findKeyInUse } from './key-in-use.ts';
import type { SealServices } from './seal-records.ts';

/**
 * Puts the seals of every day that is over under one root, day by day, and answers how many days that were. Two at
 * once wait for each other.
 */
export async function closeSealDays(services: SealServices, tenantId: TenantId): Promise<Result<number>> {
  for (let closed = 0; ; closed += 1) {
    const one = await services.database.withTenant({ role: 'worker', tenantId }, (tx) =>
      closeOne(services, tx),
    );
    if (!one.ok) return one;
    if (!one.value) return ok(closed);
  }
}

async function closeOne(services: SealServices, tx: TenantTransaction): Promise<Result<boolean>> {
  const business = await findBusiness(tx);
  if (business === null) throw new Error('days of no business');
  const today = dayAt(services.now(), business.timeZone);
  if ((await dayToClose(tx, today)) === null) return ok(false);
  // Nobody may be putting a seal into the day while it is closed.
  await lockChain(tx, 'seals');
  const head = await lockChain(tx, 'seal_days');
  const day = await dayToClose(tx, today);
  if (day === null) return ok(false);
  await closeDay(services, tx, head, day);
  return ok(true);
}

async function dayToClose(tx: TenantTransaction, today: Day): Promise<Day | null> {
  const last = await findLastSealDay(tx);
  return findDayToClose(tx, last === null ? 0 : last.firstNumber + last.size - 1, today);
}

async function closeDay(
  services: SealServices,
  tx: TenantTransaction,
  { number, sha256: previous }: ChainHead,
  day: Day,
): Promise<void> {
  const texts = await listSealTexts(tx, day);
  const [first] = texts;
  if (first === undefined) throw new Error(`the day ${day} has no seals`);
  const leaves = texts.map(({ text }) => sealLeafHash(text));
  const { keyId, seed } = await findKeyInUse(services, tx);
  const audit = auditHead((await listChainHeads(tx)).get('audit'));
  const closed: SealDay = {
    tenantId: tx.tenantId,
    day,
    firstNumber: first.number,
    size: leaves.length,
    root: merkleRoot(leaves),
    previous,
    audit,
    keyId,
  };
  const text = sealDayText(closed);
  await insertSealDay(tx, {
    day,
    number: number + 1,
    firstNumber: closed.firstNumber,
    size: closed.size,
    root: closed.root,
    leaves,
    previous,
    auditNumber: audit?.number ?? null,
    auditSha256: audit?.sha256 ?? null,
    text,
    sha256: digestHex(text),
    keyId,
    signature: signText(text, seed).signature,
    closedAt: services.now(),
  });
}

function auditHead(head: ChainHead | undefined): SealDay['audit'] {
  return head === undefined || head.sha256 === null ? null : { number: head.number, sha256: head.sha256 };
}
