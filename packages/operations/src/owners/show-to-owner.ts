import { findAnswerByLink } from '@grainwright/db';
import { ok, type ProblemCode, type Result, type SignerRole } from '@grainwright/domain';
import {
  type AcceptanceToShow,
  readAcceptanceToShow,
  readSignedParts,
} from '../evidence/acceptance-to-show.ts';
import type { SignedAcceptance } from '../evidence/read-acceptance.ts';
import { shownIn } from '../evidence/read-signed-text.ts';
import type { Services } from '../services.ts';
import { acceptanceView } from '../work-orders/acceptance-view.ts';
import { whyPartsTakenAgain } from '../work-orders/taken-again.ts';
import { readCopies } from './copy-view.ts';
import { type OwnerFacts, type OwnersLinkOpened, ownerFacts } from './owner-facts.ts';

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
  | {
      readonly stands: 'answered';
      readonly business: OwnerFacts['business'];
      readonly signed: SignedAcceptance;
    }
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
  const { business, workOrder, accountId, signer, expect, from } = facts;
  const page = await services.database.withTenant(asOwner(link), async (tx): Promise<Result<OwnersPage>> => {
    const answered = await findAnswerByLink(tx, link.id);
    if (answered !== null) {
      const shown = shownIn(answered);
      const text = { workOrder, accountId, shown, answer: acceptanceView(answered), expect };
      const parts = await readSignedParts(tx, shown);
      return ok({ stands: 'answered', business, signed: { ...text, parts, copies: [] } });
    }
    if (!from.ok) return ok({ stands: 'closed', why: from.problem.code, business, workOrder });
    const toShow = await readAcceptanceToShow(tx, from.value);
    if (!toShow.ok) return toShow;
    const { shown, digest, parts } = toShow.value;
    return ok({ stands: 'open', business, workOrder, signer, expect, shown, digest, parts });
  });
  if (!page.ok || page.value.stands === 'closed') return page;
  if (page.value.stands === 'open') return ok(await withReasons(services, link, page.value));
  return withCopies(services, link, page.value);
}

/** Why a picture was taken again is the business’s own to say as well. */
async function withReasons(
  services: Services,
  { tenantId }: OwnersLinkOpened,
  page: Extract<OwnersPage, { stands: 'open' }>,
): Promise<OwnersPage> {
  return { ...page, parts: await whyPartsTakenAgain(services, tenantId, page.parts) };
}

/** Where the copies went is the business's own to say: the owner's role reads no address. */
async function withCopies(
  { database }: Services,
  { tenantId }: OwnersLinkOpened,
  page: Extract<OwnersPage, { stands: 'answered' }>,
): Promise<Result<OwnersPage>> {
  return database.withTenant({ role: 'staff', tenantId }, async (tx) => {
    const copies = await readCopies(tx, page.signed.answer.id);
    return ok({ ...page, signed: { ...page.signed, copies } });
  });
}

/** The role of a vehicle's owner, with the link that they hold. */
export function asOwner({ tenantId, workOrderId, secretHash }: OwnersLinkOpened) {
  return { role: 'vehicle_owner', tenantId, workOrderId, secretHash } as const;
}
