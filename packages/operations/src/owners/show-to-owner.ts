import { findAnswerByLink } from '@grainwright/db';
import { ok, type ProblemCode, type Result, type SignerRole } from '@grainwright/domain';
import { type AcceptanceToShow, readAcceptanceToShow } from '../evidence/acceptance-to-show.ts';
import type { Services } from '../services.ts';
import {
  type OwnerFacts,
  type OwnersCopy,
  type OwnersLinkOpened,
  ownerFacts,
  ownersCopy,
} from './owner-facts.ts';

type About = Pick<OwnerFacts, 'business' | 'workOrder'>;

/** What a vehicle's owner finds under their link. */
export type OwnersPage =
  | ({
      readonly stands: 'open';
      readonly signer: SignerRole;
      /** How to care for the repair, in sentences. */
      readonly expect: readonly string[];
    } & About &
      Pick<AcceptanceToShow, 'shown' | 'digest' | 'parts'>)
  | ({ readonly stands: 'answered' } & OwnersCopy)
  /** Accepted some other way, or to be done on again. */
  | ({ readonly stands: 'closed'; readonly why: ProblemCode } & About);

/**
 * What the owner looks at and signs, read in the owner's database role, or the copy of what they signed. Looking changes
 * nothing, however often.
 */
export async function showToOwner(services: Services, link: OwnersLinkOpened): Promise<Result<OwnersPage>> {
  const found = await ownerFacts(services, link);
  if (!found.ok) return found;
  const facts = found.value;
  const { business, workOrder, signer, expect, from } = facts;
  return services.database.withTenant(asOwner(link), async (tx): Promise<Result<OwnersPage>> => {
    const answered = await findAnswerByLink(tx, link.id);
    if (answered !== null) return ok({ stands: 'answered', ...ownersCopy(facts, answered) });
    if (!from.ok) return ok({ stands: 'closed', why: from.problem.code, business, workOrder });
    const toShow = await readAcceptanceToShow(tx, from.value);
    if (!toShow.ok) return toShow;
    const { shown, digest, parts } = toShow.value;
    return ok({ stands: 'open', business, workOrder, signer, expect, shown, digest, parts });
  });
}

/** The role of a vehicle's owner, with the link that they hold. */
export function asOwner({ tenantId, workOrderId, secretHash }: OwnersLinkOpened) {
  return { role: 'vehicle_owner', tenantId, workOrderId, secretHash } as const;
}
