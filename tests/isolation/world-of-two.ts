import { runJobs } from '../support/run-jobs.ts';
import { asAdministrator } from '../support/work-in-hand.ts';
import {
  type Account,
  aBusiness,
  anAccount,
  type Business,
  openWorld,
  type World,
} from '../support/world.ts';
import { type Holdings, holdingsOf } from './holdings.ts';
import { rowsOf, storedSecrets } from './stored-rows.ts';

/** Stand in all that is written for the account whose things nobody else may see, and nowhere else. */
const marker = { word: 'Quenbywort', quote: '971.35' };
/** So low that nothing told here is below it, and a consent can be given. */
const floorPercent = '1';
const plain = (word: string) => ({ word, quote: '802.00' });

/** Two businesses that must not know of each other, and in the first of them two accounts. */
export interface WorldOfTwo {
  readonly world: World;
  /** The account that must stay unseen, of the business that must stay unseen. */
  readonly victim: Owned;
  readonly sameBusiness: Owned;
  readonly otherBusiness: Owned;
  /** Two accounts of a third business, to be used up by requests that are granted. */
  readonly spares: readonly [Owned, Owned];
  /** Ids, digests and words of the account, which the other account of its business must not see. */
  readonly accountSecrets: readonly string[];
  /** Those, and the ones of the whole business. */
  readonly businessSecrets: readonly string[];
  /** What is stored of the victim's business now, to be compared. */
  rows(): ReturnType<typeof rowsOf>;
}

export interface Owned {
  readonly business: Business;
  readonly account: Account;
  readonly holdings: Holdings;
  /** The address of the contact whose ids are among the holdings. */
  readonly email: string;
}

/** The accounts have the same name in both businesses, and the vehicles the same VIN. */
export async function worldOfTwo(): Promise<WorldOfTwo> {
  const world = await openWorld();
  const name = 'Brackwater Glass & Screen';
  const marrowby = await aBusiness(world, { name: 'Marrowby Trim Mending', floorPercent });
  const otherBusiness = await owned(marrowby, { name, shortName: 'BRACK' }, plain('Ostlethwaite'));
  const third = await aBusiness(world, { name: 'Pennyloaf Upholstery', floorPercent });
  const spare = (word: string) => owned(third, { name: word, shortName: word }, plain(word));
  const spares = [await spare('SPIND'), await spare('FENNI')] as const;
  const others = await secretsNow(world);
  const numbers = { firstWorkOrderNumber: 48_151_601, firstInvoiceNumber: 62_342_001, floorPercent };
  const quillfeather = await aBusiness(world, numbers);
  const second = { name: 'Sallowfield Fleet', shortName: 'SALLOW' };
  const sameBusiness = await owned(quillfeather, second, plain('Tarnbeck'));
  const before = await secretsNow(world);
  const victim = await owned(quillfeather, { name, shortName: 'QUENBY' }, marker);
  const after = await secretsNow(world);
  const words = ['quenby', marker.quote, ...(await documentNumbers(victim))];
  return {
    world,
    victim,
    sameBusiness,
    otherBusiness,
    spares,
    accountSecrets: [...words, ...added(after, before)],
    businessSecrets: [...words, 'Quillfeather', quillfeather.emailOf('').slice(1), ...added(after, others)],
    rows: () => rowsOf(world, quillfeather.tenantId),
  };
}

/** With what the worker makes of the photos. */
async function secretsNow(world: World): Promise<ReadonlySet<string>> {
  await runJobs(world);
  return storedSecrets(world);
}

async function owned(
  business: Business,
  named: { readonly name: string; readonly shortName: string },
  mark: typeof marker,
): Promise<Owned> {
  const account = await anAccount(business, named);
  const email = business.emailOf(`second-${named.shortName.toLowerCase()}`);
  return { business, account, email, holdings: await holdingsOf(account, mark, email) };
}

function added(now: ReadonlySet<string>, before: ReadonlySet<string>): readonly string[] {
  return [...now].filter((each) => !before.has(each));
}

async function documentNumbers({ account, business }: Owned): Promise<readonly string[]> {
  const rows = await asAdministrator<{ number: string }>(
    business.world,
    (sql) => sql<{ number: string }[]>`
      select number::text from work_orders where account_id = ${account.id}
      union all select number::text from invoices where account_id = ${account.id} and kind = 'invoice'`,
  );
  return rows.map(({ number }) => number);
}
