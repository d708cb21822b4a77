import { expect, test } from 'vitest';
import { aKey, aPack, type MadeDay, type MadeSeal } from './any-pack.test-support.ts';
import { verifyPack } from './verify-pack.ts';

const [own, next, anew, later, stranger] = [aKey(1), aKey(2), aKey(3), aKey(4), aKey(9)] as const;
const [fifth, sixth] = ['2026-08-05', '2026-08-06'] as const;

type Pack = ReturnType<typeof aPack>;

function faultsOf({ archived }: Pack, day = ''): readonly string[] {
  const { checks } = verifyPack(archived, { day, keyId: '' });
  return checks.filter(({ result }) => result === 'fails').map(({ sentence }) => sentence);
}

const notesOf = ({ archived }: Pack) =>
  verifyPack(archived)
    .checks.filter(({ result }) => result === 'note')
    .map(({ sentence }) => sentence);

const approvals: readonly MadeSeal[] = [
  { by: own, on: fifth },
  { by: own, on: fifth },
];
const firstDay: MadeDay = { by: own, day: fifth, first: 1, size: 2 };
const genuine = aPack(own, approvals, [firstDay]);

const rotated = aPack(
  next,
  [
    { by: own, on: fifth },
    { by: own, on: fifth, introduces: next },
    { by: next, on: sixth },
  ],
  [
    { by: next, day: fifth, first: 1, size: 2 },
    { by: next, day: sixth, first: 3, size: 1 },
  ],
);

/** What the keys were made from changed on the second day; later the new key was rotated. */
const changed = aPack(
  later,
  [
    { by: own, on: fifth },
    { by: anew, on: sixth, introduces: anew },
    { by: anew, on: sixth, introduces: later },
    { by: later, on: sixth },
  ],
  [
    { by: own, day: fifth, first: 1, size: 1 },
    { by: later, day: sixth, first: 2, size: 3 },
  ],
);

test('genuine packs hold alone, and against the digest and the root of each day', () => {
  for (const pack of [genuine, rotated])
    for (const day of ['', ...pack.digests, ...pack.roots]) expect(faultsOf(pack, day)).toEqual([]);
});

test('whoever has the key and rewrites a day: the root of a later one says nothing of it, its digest does', () => {
  const seals: readonly MadeSeal[] = [
    { by: own, on: fifth },
    { by: own, on: fifth, leftOut: true },
    { by: own, on: sixth },
  ];
  const days: readonly MadeDay[] = [
    { by: own, day: fifth, first: 1, size: 2 },
    { by: own, day: sixth, first: 3, size: 1 },
  ];
  const before = aPack(own, seals, days);
  const rewritten = aPack(
    own,
    seals.map((seal, index) => (index === 0 ? { ...seal, rewrittenTo: '2026-08-04T09:00:00Z' } : seal)),
    days,
  );
  expect(rewritten.roots[1]).toBe(before.roots[1]);
  expect(faultsOf(rewritten, before.digests[1])).toEqual([
    expect.stringContaining('of none of the sealed days in this pack'),
  ]);
  // The root stands, and is not taken for more than it is.
  const byRoot = verifyPack(rewritten.archived, { day: before.roots[1] ?? '', keyId: '' });
  expect(byRoot.checks.filter(({ about }) => about === 'printed')).toEqual([
    {
      about: 'printed',
      result: 'holds',
      sentence:
        'The value that you compared it with is the root of 2026-08-06: the seals of that day were not changed since it was printed. Of the days before it proves nothing: compare the digest that is printed beside it, which proves them too.',
    },
  ]);
});

test('keys that were begun anew are told, hold against a day since then, and not against one before', () => {
  expect(faultsOf(changed)).toEqual([]);
  expect(notesOf(changed)).toContainEqual(expect.stringContaining(`${anew.id.slice(0, 16)}… was begun anew`));
  for (const day of [changed.digests[1], changed.roots[1]]) expect(faultsOf(changed, day)).toEqual([]);
  expect(faultsOf(changed, changed.digests[0])).toContainEqual(
    expect.stringContaining(
      `The key ${anew.id.slice(0, 16)}… signed here, but nothing leads to it from 2026-08-05`,
    ),
  );
});

test('seals that a stranger adds, with one that “introduces” the genuine key, fall by the printed day', () => {
  const added: readonly MadeSeal[] = [
    { by: stranger, on: fifth, introduces: own },
    { by: stranger, on: fifth },
  ];
  const forged = aPack(stranger, [...approvals, ...added], [firstDay]);
  expect([forged.digests, forged.roots]).toEqual([genuine.digests, genuine.roots]);
  const name = `The key ${stranger.id.slice(0, 16)}… signed here, but`;
  expect(faultsOf(forged)).toEqual([`${name} no seal of the business introduces it: somebody else signed.`]);
  expect(faultsOf(forged, genuine.digests[0])).toEqual([
    expect.stringContaining(`${name} nothing leads to it from 2026-08-05`),
  ]);
  // A root stands for the seals under it, not for whoever signs a day around it.
  const around = aPack(stranger, [...approvals, ...added], [{ ...firstDay, by: stranger }]);
  expect(around.roots).toEqual(genuine.roots);
  expect(faultsOf(around, genuine.roots[0])).toEqual([
    expect.stringContaining(`${name} nothing under the root of 2026-08-05 leads to it`),
  ]);
  // Nor does a key that only vouches for itself stand up to what was printed before it.
  const selfMade = { by: stranger, on: fifth, introduces: stranger };
  const own1 = aPack(stranger, [...approvals, selfMade, { by: stranger, on: fifth }], [firstDay]);
  expect(faultsOf(own1, genuine.digests[0])).toEqual([expect.stringContaining(name)]);
});

test('a stranger’s seals beside genuine days without their own seals fall, alone and by what was printed', () => {
  const leftOut = approvals.map((seal) => ({ ...seal, leftOut: true }));
  const added = [
    { by: stranger, on: fifth, introduces: own },
    { by: stranger, on: fifth },
  ];
  const forged = aPack(stranger, [...leftOut, ...added], [firstDay]);
  expect(forged.digests).toEqual(genuine.digests);
  for (const [day, why] of [
    ['', 'no seal of the business introduces it'],
    [genuine.digests[0], 'nothing leads to it from 2026-08-05'],
    [genuine.roots[0], 'nothing under the root of 2026-08-05 leads to it'],
  ])
    expect(faultsOf(forged, day)).toContainEqual(
      expect.stringContaining(`The key ${stranger.id.slice(0, 16)}… signed here, but ${why}`),
    );
});

test('a seal that a stranger puts before the first day begins nothing', () => {
  const seals = [{ by: stranger, on: fifth, introduces: own }, ...approvals];
  const faults = faultsOf(aPack(stranger, seals, [{ ...firstDay, first: 2 }]));
  expect(faults).toContainEqual(expect.stringContaining('no seal of the business introduces it'));
  expect(faults).toContainEqual(
    'Seal 1 (change of the signing key) has its number before the end of 2026-08-05, and lies in no sealed day.',
  );
});

test('a seal tells a date that agrees with its day, but for the time zone', () => {
  const on = (first: string, second: string) => [
    { by: own, on: first },
    { by: own, on: second },
  ];
  expect(faultsOf(aPack(own, on('2026-08-04', '2026-08-06'), [firstDay]))).toEqual([]);
  expect(faultsOf(aPack(own, on('2026-08-03', fifth), [firstDay]))).toEqual([
    'Seal 1 (approval) lies in 2026-08-05, but says that it was put on another day.',
  ]);
  const outside = (date: string) => aPack(own, on('2026-08-03', date), [{ ...firstDay, size: 1 }]);
  expect(faultsOf(outside('2026-08-03'))).toContainEqual(
    'Seal 2 (approval) lies in no sealed day, but says that it was put before 2026-08-05: it was dated back.',
  );
  expect(faultsOf(outside('2026-08-04')).join()).not.toContain('dated back');
});

test('a value that nothing of the pack answers to says nothing against the pack itself, and what it is instead', () => {
  const compared = (day: string, keyId = '') => {
    const { holds, holdsByItself, checks } = verifyPack(genuine.archived, { day, keyId });
    return [holds, holdsByItself, checks.find(({ about }) => about === 'printed')?.sentence ?? ''];
  };
  expect(compared('hello')).toEqual([false, true, expect.stringContaining('“hello” is no digest')]);
  expect(compared('', 'hello')).toEqual([false, true, expect.stringContaining('“hello” is no key')]);
  expect(compared(own.id)).toEqual([false, true, expect.stringContaining('the name of a key')]);
  expect(compared('12'.repeat(32))).toEqual([
    false,
    true,
    expect.stringContaining('It is not the pack that this value was printed for'),
  ]);
  expect(compared('', own.id)).toEqual([true, true, 'It is the key that you compared it with.']);
  expect(compared('', stranger.id)).toEqual([false, true, expect.stringContaining('not by the key')]);
});

test('the root of a day without a seal of the pack proves nothing of it, and does not make it false', () => {
  const pack = aPack(
    own,
    [
      { by: own, on: fifth },
      { by: own, on: sixth, leftOut: true },
    ],
    [
      { by: own, day: fifth, first: 1, size: 1 },
      { by: own, day: sixth, first: 2, size: 1 },
    ],
  );
  const byRoot = verifyPack(pack.archived, { day: pack.roots[1] ?? '', keyId: '' });
  expect([byRoot.holds, byRoot.holdsByItself]).toEqual([false, true]);
  expect(byRoot.checks.filter(({ result }) => result === 'fails')).toEqual([
    {
      about: 'printed',
      result: 'fails',
      sentence: expect.stringContaining(
        'a root stands for the seals of its own day, and tells nothing of this pack',
      ),
    },
  ]);
  expect(verifyPack(pack.archived, { day: pack.digests[1] ?? '', keyId: '' }).holds).toBe(true);
});
