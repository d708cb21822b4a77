import { describe, expect, test } from 'vitest';
import {
  adviseMethods,
  findMaterial,
  inferMaterial,
  materialWords,
  type Observation,
  overruleMaterial,
  settledMaterial,
} from './material.ts';

describe('the heat test', () => {
  // Common practice, no source.
  test.each<[Observation, string]>([
    [{ kind: 'relaxes_and_lies_down' }, 'likely foam-backed vinyl'],
    [{ kind: 'shrinks_hole_grows' }, 'likely unbacked vinyl'],
    [{ kind: 'nothing_crumbles_or_flakes' }, 'likely urethane (PU) or bonded leather'],
    [{ kind: 'softens_cleanly' }, 'possibly thermoplastic polyurethane (TPU)'],
    [{ kind: 'already_burnt', looksLike: 'unbacked_vinyl' }, 'unbacked vinyl, inferred from damage'],
    [{ kind: 'already_burnt', looksLike: null }, 'material not known, inferred from damage'],
    [{ kind: 'foam_wheel_missing_material' }, 'likely molded foam'],
    [{ kind: 'by_eye', looksLike: 'leather' }, 'leather, by eye'],
  ])('%j is called %s', (observed, words) => {
    expect(inferMaterial(observed).words).toBe(words);
  });

  test('what was observed stays beside what was inferred', () => {
    const observed = { kind: 'softens_cleanly' } as const;
    expect(findMaterial(observed)).toMatchObject({
      observed,
      inferred: { material: 'tpu' },
      overruled: null,
    });
  });
});

describe('overruling', () => {
  const finding = findMaterial({ kind: 'softens_cleanly' });

  test('a technician’s word counts for the work, and the inference stays on record', () => {
    const result = overruleMaterial(finding, {
      material: 'foam_backed_vinyl',
      reason: ' foam seen at the edge ',
    });
    if (!result.ok) throw new Error(result.problem.detail);
    expect(settledMaterial(result.value)).toBe('foam_backed_vinyl');
    expect(result.value.inferred).toEqual(finding.inferred);
    expect(materialWords(result.value)).toBe(
      'foam-backed vinyl, in the technician’s judgment (foam seen at the edge); the test suggested possibly thermoplastic polyurethane (TPU)',
    );
  });

  test('without a reason it is refused', () => {
    const result = overruleMaterial(finding, { material: 'urethane', reason: '  ' });
    expect(result).toMatchObject({ ok: false, problem: { code: 'invalid_input', field: 'reason' } });
  });

  test('where nothing is overruled the inference counts', () => {
    expect(settledMaterial(finding)).toBe('tpu');
    expect(materialWords(finding)).toBe(finding.inferred.words);
  });
});

// Common practice, no source.
describe('methods', () => {
  test('foam-backed vinyl is laid down by heat and blended cold, never with texture from a can', () => {
    const advice = adviseMethods(findMaterial({ kind: 'relaxes_and_lies_down' }));
    expect(advice.works).toEqual(expect.arrayContaining(['heat_flatten', 'cold_grain', 'spray_texture']));
    expect(advice.fails).toEqual(['can_texture']);
  });

  test('unbacked vinyl takes no heat of any kind', () => {
    const advice = adviseMethods(findMaterial({ kind: 'shrinks_hole_grows' }));
    expect(advice.fails).toEqual(expect.arrayContaining(['heat_flatten', 'heat_grain', 'heat_cured_filler']));
    expect(advice.works).toContain('clear_flexible_filler');
  });

  test('urethane is not heated, but its filler is cured with heat', () => {
    const advice = adviseMethods(findMaterial({ kind: 'nothing_crumbles_or_flakes' }));
    expect(advice.works).toEqual(expect.arrayContaining(['cut_out', 'degrease', 'heat_cured_filler']));
    expect(advice.fails).toEqual(['heat_flatten', 'heat_grain']);
  });

  test('a molded foam wheel is worn back and takes no filler', () => {
    const advice = adviseMethods(findMaterial({ kind: 'foam_wheel_missing_material' }));
    expect(advice.works).toContain('wear_back');
    expect(advice.fails).toEqual(['fill_cut', 'clear_flexible_filler', 'heat_cured_filler']);
  });

  test.each(['foam_backed_vinyl', 'tpu', null] as const)(
    'what is already burnt is not heated again: %s',
    (looksLike) => {
      const advice = adviseMethods(findMaterial({ kind: 'already_burnt', looksLike }));
      expect(advice.works).not.toContain('heat_flatten');
      expect(advice.fails).toEqual(expect.arrayContaining(['heat_flatten', 'heat_grain']));
    },
  );

  test('leather and cloth have methods of their own, so none is forbidden here', () => {
    expect(adviseMethods(findMaterial({ kind: 'by_eye', looksLike: 'fabric' }))).toEqual({
      works: [],
      fails: [],
    });
  });
});
