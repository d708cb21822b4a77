import { describe, expect, test } from 'vitest';
import { type LineId, type PhotoId, toId, type VersionId, type WorkOrderId } from '../ids.ts';
import { withCheckDigit } from '../vehicle/vin.ts';
import {
  type AcceptanceAnswer,
  type AcceptanceToShow,
  acceptanceShown,
  checkAcceptanceAnswer,
  overstatement,
  signerFits,
  standardAcceptanceWording,
  standardConsentWording,
} from './acceptance.ts';
import { canonicalJson } from './canonical-json.ts';

const id = (last: number) => `01890a5d-ac96-774b-bcce-b3020990000${last}`;

/** The tailgate lining of a glass installer's customer: 165.75 and 72.68, 284.90 in all. */
const toShow: AcceptanceToShow = {
  workOrderId: toId<WorkOrderId>(id(1)),
  versionId: toId<VersionId>(id(2)),
  vehicle: {
    description: '2025 Ostra Vela',
    vin: withCheckDigit('0AAAAAA10SA000001'),
    lastEight: null,
    ownNumbers: [{ kind: 'job', number: 'BG-9107' }],
  },
  work: [
    { lineId: toId<LineId>(id(3)), text: 'Cut in the tailgate lining filled and grained' },
    { lineId: toId<LineId>(id(4)), text: 'Raised vinyl of the tailgate lining laid down' },
  ],
  photos: [
    { photoId: toId<PhotoId>(id(5)), purpose: 'before', sha256: 'a'.repeat(64) },
    { photoId: toId<PhotoId>(id(6)), purpose: 'after', sha256: 'b'.repeat(64) },
  ],
  wording: standardAcceptanceWording,
  consent: standardConsentWording,
  prices: null,
};

function text(change: Partial<AcceptanceToShow> = {}): string {
  const shown = acceptanceShown({ ...toShow, ...change });
  if (!shown.ok) throw new Error(shown.problem.detail);
  return canonicalJson(shown.value);
}

describe('what is shown', () => {
  test('names the vehicle, the work, the photos by digest, and the words with their version', () => {
    for (const part of ['2025 Ostra Vela', 'BG-9107', 'filled and grained', 'b'.repeat(64), '"version":"1"'])
      expect(text()).toContain(part);
  });

  test('has no amount unless prices are shown', () => {
    const prices = { currency: 'USD', netMinor: [16575n, 7268n], totalMinor: 28490n };
    expect(text()).toContain('"prices":null');
    expect(text()).not.toMatch(/16575|28490|Minor|USD/);
    expect(text({ prices })).toContain(
      '"prices":{"currency":"USD","netMinor":["16575","7268"],"totalMinor":"28490"}',
    );
  });

  test.each<[string, Partial<AcceptanceToShow>]>([
    ['a line', { work: toShow.work.slice(1) }],
    ['a photo', { photos: toShow.photos.slice(1) }],
    ['the order of the photos', { photos: toShow.photos.toReversed() }],
    ['the words', { wording: { version: '2', text: standardAcceptanceWording.text } }],
    ['the consent', { consent: { version: '2', text: standardConsentWording.text } }],
    ['the vehicle', { vehicle: { ...toShow.vehicle, ownNumbers: [] } }],
  ])('is another text when %s changes', (_what, change) => {
    expect(text(change)).not.toBe(text());
  });

  test('without work there is nothing to accept', () => {
    expect(acceptanceShown({ ...toShow, work: [] })).toMatchObject({
      ok: false,
      problem: { code: 'line_missing' },
    });
  });

  test('a digest that is none, or prices that don’t match the work, are a broken invariant', () => {
    const photos = toShow.photos.map((photo) => ({ ...photo, sha256: 'A'.repeat(64) }));
    expect(() => acceptanceShown({ ...toShow, photos })).toThrow('digest');
    const prices = { currency: 'USD', netMinor: [16575n], totalMinor: 28490n };
    expect(() => acceptanceShown({ ...toShow, prices })).toThrow('exactly one');
  });
});

describe('honest words', () => {
  test.each([
    'Perfect match',
    'looks like new',
    'Like-New finish',
    'as good as new',
    'perfectly blended',
    'guaranteed for life',
  ])('“%s” promises too much', (words) => {
    const work = [{ lineId: toId<LineId>(id(3)), text: words }];
    expect(acceptanceShown({ ...toShow, work })).toMatchObject({
      problem: { code: 'invalid_input', field: 'text' },
    });
  });

  test.each([
    standardAcceptanceWording.text,
    standardConsentWording.text,
    'Imperfection in the grain filled',
    'New fasteners fitted',
  ])('“%s” is plain', (words) => {
    expect(overstatement(words)).toBeNull();
  });
});

describe('the answer', () => {
  const answer: AcceptanceAnswer = {
    outcome: 'accepted',
    remark: '',
    signerName: ' Orrin  Vasek ',
    signerRole: 'vehicle_owner',
    mark: { kind: 'typed', name: 'Orrin Vasek', confirmed: true },
  };
  const check = (
    change: Partial<AcceptanceAnswer>,
    rule: 'none' | 'vehicle_owner' | 'account_representative' = 'vehicle_owner',
  ) => checkAcceptanceAnswer({ ...answer, ...change }, rule);

  test('of the owner is taken, with the name tidied', () => {
    expect(check({})).toMatchObject({ ok: true, value: { signerName: 'Orrin Vasek' } });
  });

  test('may be typed with other capitals and spaces', () => {
    expect(check({ mark: { kind: 'typed', name: 'orrin VASEK', confirmed: true } }).ok).toBe(true);
  });

  test('“not accepted” needs a reason but no signature', () => {
    expect(check({ outcome: 'not_accepted', remark: 'edge shows in low sun', mark: null }).ok).toBe(true);
    expect(check({ outcome: 'not_accepted', mark: null })).toMatchObject({ problem: { field: 'remark' } });
  });

  test.each<[string, Partial<AcceptanceAnswer>, string]>([
    ['no name', { signerName: ' ' }, 'invalid_input'],
    ['a remark announced and not written', { outcome: 'accepted_with_remark' }, 'invalid_input'],
    ['a remark without end', { remark: 'a'.repeat(2001) }, 'invalid_input'],
    ['no signature', { mark: null }, 'signature_missing'],
    ['another name typed', { mark: { kind: 'typed', name: 'Orrin Vase', confirmed: true } }, 'invalid_input'],
    ['an empty drawing', { mark: { kind: 'drawn', strokes: [] } }, 'signature_missing'],
    ['somebody of the account for the owner', { signerRole: 'account_representative' }, 'signer_not_fitting'],
  ])('with %s is refused', (_what, change, code) => {
    expect(check(change)).toMatchObject({ ok: false, problem: { code } });
  });
});

// Common practice, no source.
test.each([
  ['none', 'vehicle_owner', true],
  ['none', 'account_representative', true],
  ['vehicle_owner', 'vehicle_owner', true],
  ['vehicle_owner', 'account_representative', false],
  ['account_representative', 'account_representative', true],
  ['account_representative', 'vehicle_owner', false],
] as const)('where the rule is %s, a signature of the %s fits: %s', (rule, role, fits) => {
  expect(signerFits(rule, role).ok).toBe(fits);
});
