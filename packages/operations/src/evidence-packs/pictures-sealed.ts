import type { PhotoId } from '@grainwright/domain';
import { momentWords } from '../work-orders/moment-words.ts';
import type { PackRecords } from './pack-records.ts';

/** Which pictures a seal names, by their numbers; and why the others have only the signature of the pack. */
export function picturesSealed(records: PackRecords): readonly string[] {
  const { photos } = records;
  if (photos.length === 0) return [];
  const sealed = sealedPhotos(records);
  const numbers = photos.map(({ id }, index) => ({ number: index + 1, isSealed: sealed.has(id) }));
  const under = numbers.filter(({ isSealed }) => isSealed).map(({ number }) => number);
  const others = numbers.filter(({ isSealed }) => !isSealed).map(({ number }) => number);
  if (others.length === 0) return ['Under a seal: all pictures.'];
  return [
    under.length === 0 ? 'Under a seal: no picture.' : `Under a seal: ${named(under)}.`,
    `Under no seal: ${named(others)}. For ${others.length === 1 ? 'it' : 'them'} stands only the signature of the archive, which the business makes on the day of the archive: it does not show what a picture was before. ${why(records)}`,
  ];
}

/** Every seal of the work names the pictures that there were by then. */
function sealedPhotos({ seals }: PackRecords): ReadonlySet<string> {
  return new Set(
    seals.flatMap(({ content }) => {
      // Written from a value of this shape, and append-only since.
      const { photos = [] } = JSON.parse(content) as {
        readonly photos?: readonly { readonly photo: PhotoId }[];
      };
      return photos.map(({ photo }) => photo);
    }),
  );
}

function why({ seals, account, business, view }: PackRecords): string {
  const last = seals.findLast(({ kind }) => kind !== 'key' && kind !== 'credit');
  const since =
    last === undefined
      ? ''
      : `Pictures are sealed with an answer, and the last one was sealed ${momentWords(last.sealedAt, business.timeZone)}; these came in after it. `;
  if (view.acceptance === null && account.acceptanceRule === 'none')
    return `${since}The account’s terms ask for no acceptance of finished work, so that none was sealed with its pictures.`;
  return view.acceptance === null
    ? `${since}Nobody has accepted the finished work, so that no answer was sealed with its pictures.`
    : since.trim();
}

/** “1, 2 and 5 to 7”. */
function named(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run !== undefined && run[1] === number - 1) run[1] = number;
    else runs.push([number, number]);
  }
  const parts = runs.map(([first, last]) =>
    first === last ? String(first) : last === first + 1 ? `${first} and ${last}` : `${first} to ${last}`,
  );
  const word = numbers.length === 1 ? 'picture' : 'pictures';
  return `${word} ${new Intl.ListFormat('en-US', { type: 'conjunction' }).format(parts)}`;
}
