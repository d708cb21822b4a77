import { type AcceptanceRow, findAcceptance, insertAcceptanceCopies } from '@grainwright/db';
import {
  type AcceptanceCopyId,
  type AcceptanceId,
  ok,
  type Result,
  type TenantId,
  toId,
} from '@grainwright/domain';
import { type JobScope, jobScope } from '../job-scope.ts';
import type { Services } from '../services.ts';
import { readOwnerFacts } from './owner-facts.ts';
import { tellNotAccepted } from './tell-not-accepted.ts';
import { writeCopy } from './write-copy.ts';

export interface CopyToMail {
  readonly tenantId: TenantId;
  readonly acceptanceId: AcceptanceId;
}

/**
 * The worker's part after an answer by a link: keeps that the signer has their copy under that link, mails one that can be
 * read longer where there is an address, and tells the business of a no. Done twice each is done once; the mailed copy
 * has the answer's own id.
 */
export function mailOwnersCopy(
  services: Pick<Services, 'database' | 'links' | 'now' | 'newId'>,
  { tenantId, acceptanceId }: CopyToMail,
): Promise<Result<'queued' | 'nothing to do'>> {
  return services.database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const row = await findAcceptance(tx, acceptanceId);
    if (row === null || row.linkId === null) throw new Error(`nobody answered ${acceptanceId} by a link`);
    const found = await readOwnerFacts(tx, { id: row.linkId, workOrderId: row.workOrderId });
    if (!found.ok) return found;
    const scope = await jobScope(services, tx, found.value.request.madeBy);
    if (row.outcome === 'not_accepted') {
      const told = await tellNotAccepted(scope, services.links.publicUrl, row);
      if (!told.ok) return told;
    }
    await keepUnderLink(scope, row);
    // An answer of before has no address of its own.
    const address = row.signerEmail || found.value.request.email;
    if (address === '') return ok('nothing to do');
    const wish = { id: toId<AcceptanceCopyId>(acceptanceId), channel: 'mail', address } as const;
    const given = await writeCopy(services, scope, { wish, rows: [row], givenBy: null });
    return given.ok ? ok('queued') : given;
  });
}

/** The page that the answer was given on shows it from then on. */
async function keepUnderLink({ tx }: JobScope, { id, workOrderId, linkId, acceptedAt }: AcceptanceRow) {
  if (linkId === null) return;
  await insertAcceptanceCopies(tx, [
    {
      id: toId<AcceptanceCopyId>(linkId),
      acceptanceId: id,
      workOrderId,
      channel: 'link',
      address: '',
      linkId,
      mailId: null,
      givenBy: null,
      givenAt: acceptedAt,
    },
  ]);
}
