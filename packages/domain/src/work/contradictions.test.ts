import { describe, expect, test } from 'vitest';
import { instant } from '../dates.ts';
import { type LineId, toId } from '../ids.ts';
import { decimal } from '../money/decimal.ts';
import {
  type ContradictionCode,
  lineContradictions,
  openContradictions,
  overrideContradiction,
  type SignedWork,
  signatureContradictions,
  type WorkedLine,
} from './contradictions.ts';

const lineId = toId<LineId>('01890a5d-ac96-774b-bcce-b302099a8057');
/** A cut in a tailgate lining, done as it should be: 2.2 in, billed as over 1 to 3 in. */
const sound: WorkedLine = {
  lineId,
  label: 'Cut or tear, tailgate lining',
  damage: 'cut_or_tear',
  repairsDamage: true,
  material: 'foam_backed_vinyl',
  alreadyBurnt: false,
  methods: ['heat_flatten', 'fill_cut', 'mask', 'cold_grain', 'spray_color'],
  photos: ['before', 'after_heat', 'ruler', 'after'],
  layers: 3,
  measuredInches: decimal('2.2'),
  billedBand: { overInches: decimal('1'), toInches: decimal('3') },
  keyTest: null,
};

function codes(change: Partial<WorkedLine>): readonly ContradictionCode[] {
  return lineContradictions({ ...sound, ...change }).map((found) => found.code);
}

test('a line done as it should be has none', () => {
  expect(codes({})).toEqual([]);
});

// Common practice, no source.
test.each<[ContradictionCode, Partial<WorkedLine>]>([
  ['heat_on_burnt', { alreadyBurnt: true, material: 'leather', methods: ['heat_flatten', 'cold_grain'] }],
  ['heat_on_unbacked_vinyl', { material: 'unbacked_vinyl', methods: ['heat_cured_filler'] }],
  ['heat_grain_on_urethane', { material: 'urethane', methods: ['cut_out', 'heat_grain', 'cold_grain'] }],
  ['urethane_not_cut_out', { material: 'urethane', methods: ['heat_cured_filler'] }],
  ['urethane_not_cut_out', { material: 'urethane', methods: [], photos: ['before', 'after'] }],
  ['heat_without_blend', { methods: ['heat_flatten', 'fill_cut'] }],
  ['filler_in_molded_foam', { material: 'molded_foam', methods: ['wear_back', 'fill_cut'] }],
  ['cut_without_photo_after_heat', { photos: ['before', 'after'] }],
  ['spray_without_masking', { methods: ['heat_flatten', 'cold_grain', 'spray_color'] }],
  ['no_layers', { layers: null }],
  ['no_layers', { layers: 0 }],
  ['unusual_layers', { layers: 2 }],
  ['unusual_layers', { layers: 5 }],
  ['size_not_in_band', { measuredInches: decimal('3.1') }],
  ['size_not_in_band', { measuredInches: decimal('0.5') }],
  ['key_not_tested', { keyTest: 'unfinished' }],
  ['key_test_failed', { keyTest: 'failed' }],
])('%s is found', (code, change) => {
  expect(codes(change)).toContain(code);
});

test.each<[string, Partial<WorkedLine>]>([
  [
    'urethane filled with heat-cured filler after cutting out',
    { material: 'urethane', methods: ['cut_out', 'heat_cured_filler'] },
  ],
  [
    'a leather tear without a picture after heat',
    { material: 'leather', methods: ['fill_cut'], photos: ['before', 'after'] },
  ],
  ['four layers', { layers: 4 }],
  ['no layers where nothing was filled', { methods: ['heat_flatten', 'cold_grain'], layers: null }],
  ['a size on the upper boundary of its band', { measuredInches: decimal('3.0') }],
  ['a line that nobody measures', { measuredInches: null, billedBand: null }],
  ['a key remote’s case once every test passed', { keyTest: 'passed' }],
])('%s is fine', (_what, change) => {
  expect(codes(change)).toEqual([]);
});

// Common practice, no source: 1.0 in belongs to the band up to 1 in.
test('a size on the lower boundary belongs to the band below', () => {
  expect(codes({ measuredInches: decimal('1.0') })).toEqual(['size_not_in_band']);
});

test('the sentence names the line and the figures', () => {
  expect(lineContradictions({ ...sound, measuredInches: decimal('3.10') })[0]?.sentence).toBe(
    'Cut or tear, tailgate lining: measured 3.1 in, but billed as over 1 to 3 in.',
  );
});

describe('signatures', () => {
  const signed: SignedWork = {
    signedAt: instant('2026-08-05T15:00:00.5Z'),
    signerRole: 'vehicle_owner',
    signerName: 'Orrin Vasek',
    payerNames: ['Ravi Stellmacher'],
    payerOwnsVehicle: false,
    lastAfterPhotoAt: instant('2026-08-05T15:00:00Z'),
  };
  const found = (change: Partial<SignedWork>) =>
    signatureContradictions({ ...signed, ...change }).map(({ code }) => code);

  test('an owner’s signature after the last after picture contradicts nothing', () => {
    expect(found({})).toEqual([]);
    expect(found({ lastAfterPhotoAt: null })).toEqual([]);
  });

  test('a signature older than the last after picture is found', () => {
    expect(found({ lastAfterPhotoAt: instant('2026-08-05T15:00:01Z') })).toEqual([
      'signature_older_than_photo',
    ]);
  });

  test('somebody of the payer’s signing as the owner is found, however the name is typed', () => {
    expect(found({ signerName: ' ravi  STELLMACHER ' })).toEqual(['owner_signature_by_payer']);
  });

  test('a payer who owns the vehicle, or signs for the account, may sign', () => {
    expect(found({ signerName: 'Ravi Stellmacher', payerOwnsVehicle: true })).toEqual([]);
    expect(found({ signerName: 'Ravi Stellmacher', signerRole: 'account_representative' })).toEqual([]);
  });
});

describe('overriding', () => {
  const foundIn = (change: Partial<WorkedLine>) => {
    const [found] = lineContradictions({ ...sound, ...change });
    if (found === undefined) throw new Error('expected a contradiction');
    return found;
  };
  const unmasked = foundIn({ methods: ['heat_flatten', 'cold_grain', 'spray_color'] });

  test('needs a reason', () => {
    expect(overrideContradiction(unmasked, '  ')).toMatchObject({ ok: false, problem: { field: 'reason' } });
  });

  test('with a reason closes that contradiction on that line only', () => {
    const override = overrideContradiction(unmasked, 'a drop-in stencil');
    if (!override.ok) throw new Error(override.problem.detail);
    const elsewhere = { ...unmasked, lineId: toId<LineId>('01890a5d-ac96-774b-bcce-b302099a8058') };
    expect(openContradictions([unmasked, elsewhere], [override.value])).toEqual([elsewhere]);
  });

  // Common practice, no source: three to four layers are usual; ask outside that, don’t refuse.
  test('an unusual number of layers is asked about and stops nothing', () => {
    const layers = foundIn({ layers: 6 });
    expect(layers.weight).toBe('ask');
    expect(openContradictions([layers], [])).toEqual([]);
  });

  // Common practice, no source: a band is computed from inches, and a key that fails gets no case.
  test.each<[ContradictionCode, Partial<WorkedLine>]>([
    ['size_not_in_band', { measuredInches: decimal('3.1') }],
    ['key_not_tested', { keyTest: 'unfinished' }],
    ['key_test_failed', { keyTest: 'failed' }],
  ])('no reason helps against %s', (code, change) => {
    const found = foundIn(change);
    expect(found).toMatchObject({ code, weight: 'mend' });
    expect(overrideContradiction(found, 'the customer insists')).toMatchObject({
      ok: false,
      problem: { code: 'contradiction' },
    });
  });
});

test('work that repairs no damage has no contradictions about repairing it', () => {
  const colorMix = {
    damage: 'cut_or_tear',
    repairsDamage: false,
    methods: ['fill_cut', 'heat_flatten'],
    photos: [],
    layers: null,
  } as const;
  expect(codes(colorMix)).toEqual([]);
  expect(codes({ ...colorMix, material: 'urethane', methods: ['sand'] })).toEqual([]);
  expect(codes({ ...colorMix, methods: ['spray_color'] })).toEqual(['spray_without_masking']);
});
