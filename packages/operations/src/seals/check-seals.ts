import {
  type Chain,
  countUnchained,
  countWaitingForSeal,
  findBusiness,
  listAuditLinksAfter,
  listChainHeads,
  listChainsBeyondEnd,
  listSealDaysAfter,
  listSealTextsFrom,
  listSigningKeys,
  listUnasked,
  type TenantTransaction,
} from '@grainwright/db';
import {
  beforeAnyLink,
  endFaults,
  ok,
  type Result,
  refuse,
  type TenantId,
  type Walked,
  type WalkedSeals,
  walkAuditLink,
  walkDay,
} from '@grainwright/domain';
import type { Services } from '../services.ts';
import { checkSealChain } from './check-seal-chain.ts';

/** What the check walked, and a sentence for everything that does not hold; none is the only good answer. */
export interface SealReport {
  readonly business: string;
  readonly seals: number;
  readonly days: number;
  readonly auditRecords: number;
  /** What waits for its seal: no fault, as long as it gets it. */
  readonly waiting: number;
  /** What is no fault and has to be known. */
  readonly notes: readonly string[];
  readonly faults: readonly string[];
}

const linksAtOnce = 500;

/**
 * Walks a business's chains from their beginning: seals and what was sealed by them, the days over them, and the audit
 * records; each chain up to its first break, which is named. For administration: it asks for no person.
 */
export function checkSeals(
  services: Pick<Services, 'database'>,
  tenantId: TenantId,
): Promise<Result<SealReport>> {
  return services.database.withTenant({ role: 'worker', tenantId }, async (tx) => {
    const business = await findBusiness(tx);
    if (business === null) return refuse('not_found', 'There is no such business.');
    const heads = await listChainHeads(tx);
    const seals = await checkSealChain(tx, heads.get('seals') ?? beforeAnyLink);
    const days = await checkDays(tx, heads.get('seal_days') ?? beforeAnyLink, seals.walked);
    const audit = await checkAudit(tx, heads.get('audit') ?? beforeAnyLink);
    return ok({
      business: business.name,
      seals: seals.walked.number,
      days: days.walked.number,
      auditRecords: audit.walked.number,
      waiting: await countWaitingForSeal(tx),
      notes: seals.walked.notes,
      faults: [
        ...seals.faults,
        ...days.faults,
        ...audit.faults,
        ...(await checkAsked(tx)),
        ...(await checkEnds(tx)),
      ],
    });
  });
}

/** Nothing stands behind the end that a chain is kept to. */
async function checkEnds(tx: TenantTransaction): Promise<readonly string[]> {
  const beyond = await listChainsBeyondEnd(tx);
  return beyond.map(
    (chain) => `There are ${chainWords[chain]} behind the end of their chain: they were put in.`,
  );
}

const chainWords = {
  seals: 'seals',
  seal_days: 'sealed days',
  audit: 'links of audit records',
} as const satisfies Record<Chain, string>;

interface Checked<W extends Walked> {
  readonly walked: W;
  readonly faults: readonly string[];
}

async function checkDays(tx: TenantTransaction, head: Walked, seals: WalkedSeals): Promise<Checked<Walked>> {
  const keys = new Map((await listSigningKeys(tx)).map(({ keyId, publicKey }) => [keyId, publicKey]));
  let walked: Walked & { readonly nextSeal: number } = { ...beforeAnyLink, nextSeal: 1 };
  for (;;) {
    // What was added since the check began is for the next one.
    const found = await listSealDaysAfter(tx, walked.number, linksAtOnce);
    const rows = found.filter(({ number }) => number <= head.number);
    if (rows.length === 0) return { walked, faults: endFaults('sealed days', head, walked) };
    for (const { auditNumber, auditSha256, ...row } of rows) {
      const audit =
        auditNumber === null || auditSha256 === null ? null : { number: auditNumber, sha256: auditSha256 };
      const texts = await listSealTextsFrom(tx, row.firstNumber, row.size);
      const day = { tenantId: tx.tenantId, ...row, audit };
      const next = walkDay(day, walked, { texts, keys, known: seals.known });
      if (typeof next === 'string') return { walked, faults: [next] };
      walked = next;
      if (
        audit !== null &&
        (await listAuditLinksAfter(tx, audit.number - 1, 1))[0]?.link.sha256 !== audit.sha256
      )
        return {
          walked,
          faults: [
            `Link ${audit.number} of the audit records is not the one that the sealed day ${row.day} names.`,
          ],
        };
    }
  }
}

async function checkAudit(tx: TenantTransaction, head: Walked): Promise<Checked<Walked>> {
  const lost = await countUnchained(tx);
  const unchained =
    lost === 0 ? [] : [`${lost} audit records are in no chain and wait for none: they were put in.`];
  let walked = beforeAnyLink;
  for (;;) {
    const found = await listAuditLinksAfter(tx, walked.number, linksAtOnce);
    const rows = found.filter(({ link }) => link.number <= head.number);
    if (rows.length === 0)
      return { walked, faults: [...endFaults('audit records', head, walked), ...unchained] };
    for (const { link, fact } of rows) {
      const next = walkAuditLink({ ...link, tenantId: tx.tenantId, record: link.recordSha256 }, fact, walked);
      if (typeof next === 'string') return { walked, faults: [next, ...unchained] };
      walked = next;
    }
  }
}

/** Everything that has to have a seal has one, or waits for it. */
async function checkAsked(tx: TenantTransaction): Promise<readonly string[]> {
  const unasked = await listUnasked(tx, linksAtOnce);
  return unasked.map(({ kind, subjectId }) => `The ${kind} ${subjectId} has no seal and waits for none.`);
}
