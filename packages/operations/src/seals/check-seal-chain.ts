import {
  listSealsAfter,
  listSigningKeys,
  type SealRow,
  type SigningKeyRow,
  type TenantTransaction,
} from '@grainwright/db';
import {
  beforeAnySeal,
  endFaults,
  type KeptSeal,
  readSealed,
  recordFault,
  type SealedContent,
  type Walked,
  type WalkedSeals,
  walkSeal,
} from '@grainwright/domain';
import { contentAgain } from './content-to-seal.ts';

const sealsAtOnce = 200;

export interface CheckedSeals {
  readonly walked: WalkedSeals;
  readonly faults: readonly string[];
}

/** Walks the seals up to the first break, and holds what each one sealed against what is on record now. */
export async function checkSealChain(tx: TenantTransaction, head: Walked): Promise<CheckedSeals> {
  const keys = await listSigningKeys(tx);
  const publicKeys = new Map(keys.map(({ keyId, publicKey }) => [keyId, publicKey]));
  let walked = beforeAnySeal(keys.find(({ cause }) => cause === 'first')?.keyId ?? null);
  const faults: string[] = [];
  for (;;) {
    const found = await listSealsAfter(tx, walked.number, sealsAtOnce);
    // What was added since the check began is for the next one.
    const rows = found.filter(({ number }) => number <= head.number);
    if (rows.length === 0) return { walked, faults: [...faults, ...endFaults('seals', head, walked)] };
    for (const row of rows) {
      const next = walkSeal(keptSeal(tx, row), walked, publicKeys);
      if (typeof next === 'string') return { walked, faults: [...faults, next] };
      walked = next;
      faults.push(...(await recordFaults(tx, row, keys)));
    }
  }
}

function keptSeal({ tenantId }: TenantTransaction, { contentSha256, ...row }: SealRow): KeptSeal {
  return { ...row, tenantId, contentDigest: contentSha256 };
}

async function recordFaults(
  tx: TenantTransaction,
  row: SealRow,
  keys: readonly SigningKeyRow[],
): Promise<readonly string[]> {
  const sealed = readSealed(row.content);
  const fault = sealed === null ? null : await faultOf(tx, row, sealed, keys);
  return fault === null
    ? []
    : [`What seal ${row.number} stands for (${row.kind} ${row.subjectId}): ${fault}`];
}

async function faultOf(
  tx: TenantTransaction,
  row: SealRow,
  sealed: SealedContent,
  keys: readonly SigningKeyRow[],
): Promise<string | null> {
  try {
    return recordFault(sealed, await contentAgain(tx, row, sealed, keys));
  } catch (error) {
    return error instanceof Error ? `${error.message}.` : String(error);
  }
}
