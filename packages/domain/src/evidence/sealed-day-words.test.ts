import { expect, test } from 'vitest';
import { day } from '../dates.ts';
import { sealedDayWords } from './sealed-day-words.ts';

const address = 'https://repair.example';
const sealedDay = { day: day('2026-08-31'), root: 'aa'.repeat(32), sha256: 'bb'.repeat(32) };

test.each([
  [0, 'Every approval, signature and credit of yours through that day is among it.'],
  [
    1,
    'One of your approvals, signatures and credits through that day is not among it: its seal came later or has not come yet. Ask us why.',
  ],
  [
    3,
    '3 of your approvals, signatures and credits through that day are not among it: their seals came later or have not come yet. Ask us why.',
  ],
])('a statement says whether all of the account’s records are sealed: %d are not', (unsealed, words) => {
  expect(sealedDayWords({ ...sealedDay, unsealed }, address)[0]).toContain(words);
});

test('a statement that was issued before that was counted claims nothing of it, and no digest shows more than it does', () => {
  expect(sealedDayWords(sealedDay, address)).toEqual([
    'Below stands what was sealed through Aug 31, 2026. Keep this statement: the digest shows if anything sealed up to that day was changed since, the root shows it for the seals of that day alone.',
    `Root of 2026-08-31: ${'aa'.repeat(32)}`,
    `Digest of 2026-08-31: ${'bb'.repeat(32)}`,
    'To check an evidence pack, open https://repair.example/verify and put the digest, not the root, into the field “Digest of a sealed day”. The root is for comparing with the page Seals of your account, https://repair.example/account/seals, which shows both.',
  ]);
});
