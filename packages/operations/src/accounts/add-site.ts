import { findAccount, findSite, insertSite } from '@grainwright/db';
import { type AccountId, ok, type Result, refuse, type SiteId } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { readNumber, readOptionalWords, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';

export interface AddSiteInput {
  readonly id: SiteId;
  readonly accountId: AccountId;
  readonly name: string;
  readonly address: string;
  /** From the business to the site and no further, with at most one decimal. */
  readonly miles: string;
}

/** Adds a place where the account's vehicles are worked on. */
export function addSite(
  services: Services,
  actor: Actor,
  input: AddSiteInput,
): Promise<Result<{ id: SiteId }>> {
  return performAsStaff(services, actor, 'change_accounts', async (scope) => {
    const { tx } = scope;
    const { id, accountId } = input;
    const read = everyResult({
      name: readWords(input.name, 'name', 'the name of the site', 200),
      address: readOptionalWords(input.address, 'address', 'the address', 500),
      miles: readNumber(input.miles, 'miles', { least: '0', most: '5000', decimals: 1 }),
    });
    if (!read.ok) return read;
    if ((await findAccount(tx, accountId)) === null) return refuse('not_found', 'There is no such account.');
    const site = { id, accountId, ...read.value };
    if (!(await insertSite(tx, site))) {
      const there = await findSite(tx, id);
      return there !== null && sameContent(there, site)
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another site. Send a new one.', 'id');
    }
    await record(scope, 'site_added', { kind: 'account', id: accountId }, { site: id, name: site.name });
    return ok({ id });
  });
}
