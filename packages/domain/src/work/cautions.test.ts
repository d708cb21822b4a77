import { describe, expect, test } from 'vitest';
import {
  type CautionCode,
  type CautionedWork,
  cautionsFor,
  heatTestCautions,
  seamIsBlocked,
} from './cautions.ts';

const nothing: CautionedWork = { parts: [], materials: [], methods: [], circumstances: [] };
const everything: CautionedWork = {
  parts: ['steering_wheel', 'seat_back'],
  materials: ['urethane'],
  methods: ['heat_flatten', 'degrease', 'two_part_coating', 'sand', 'cut_out', 're_sew', 'trim_off_and_on'],
  circumstances: ['airbag_lamp_on', 'high_voltage_cables', 'used_vehicle', 'hot_day'],
};

function codes(work: Partial<CautionedWork>): readonly CautionCode[] {
  return cautionsFor({ ...nothing, ...work }).map((caution) => caution.code);
}

// Common practice, no source.
test.each<[CautionCode, Partial<CautionedWork>]>([
  ['airbag_near', { parts: ['steering_wheel'] }],
  ['airbag_near', { parts: ['dash'] }],
  ['airbag_near', { parts: ['seat_bolster'] }],
  ['airbag_near', { parts: ['rear_door_panel'] }],
  ['airbag_near', { parts: ['pillar_trim'] }],
  ['airbag_near', { parts: ['knee_panel'] }],
  ['airbag_near', { parts: ['other'] }],
  ['airbag_near', { parts: ['quarter_trim'] }],
  ['airbag_near', { parts: ['seat_cushion'] }],
  ['airbag_near', { parts: ['seat_back'] }],
  ['airbag_near', { parts: ['armrest'] }],
  ['airbag_near', { parts: ['console'] }],
  ['seat_seam', { parts: ['seat_back'], methods: ['re_sew'] }],
  ['airbag_lamp', { circumstances: ['airbag_lamp_on'] }],
  ['high_voltage', { circumstances: ['high_voltage_cables'] }],
  ['trim_removal', { methods: ['trim_off_and_on'] }],
  ['heat', { methods: ['heat_cured_filler'] }],
  ['heat', { materials: ['foam_backed_vinyl'] }],
  ['solvent', { methods: ['degrease'] }],
  ['solvent', { materials: ['molded_foam'] }],
  ['isocyanates', { methods: ['two_part_coating'] }],
  ['spraying', { methods: ['spray_color'] }],
  ['dust', { methods: ['sand'] }],
  ['blades', { methods: ['cut_out'] }],
  ['used_vehicle', { circumstances: ['used_vehicle'] }],
  ['hot_day', { circumstances: ['hot_day'] }],
  ['cure_time', { methods: ['fill_cut'] }],
])('the caution %s is shown for %j', (code, work) => {
  expect(codes(work)).toContain(code);
});

test('a carpet judged by eye, with nothing planned, shows no caution', () => {
  expect(codes({ parts: ['carpet'], materials: ['carpet'] })).toEqual([]);
});

test('each caution is shown once, the airbag first, and only the cure time at hand-over', () => {
  const shown = cautionsFor(everything);
  expect(shown).toHaveLength(14);
  expect(new Set(shown.map(({ code }) => code)).size).toBe(14);
  expect(shown[0]?.code).toBe('airbag_near');
  expect(shown.filter(({ moment }) => moment === 'hand_over').map(({ code }) => code)).toEqual(['cure_time']);
});

describe('the wording', () => {
  test.each(cautionsFor(everything))(
    'of $code has no figure and defers to somebody who knows',
    ({ sentence }) => {
      expect(sentence).not.toMatch(/\d|°|degree/i);
      expect(sentence).not.toContain('\n');
      expect(sentence).toMatch(/vehicle maker|SDS|data sheet|local/);
    },
  );
});

// Common practice, no source.
test('before the heat test, airbags and vapor are spoken of in general, and then as the part asks', () => {
  expect(heatTestCautions(null).join()).toMatch(
    /Before you warm anything: .*airbag.*vehicle maker.*solvent vapor/,
  );
  const heat = cautionsFor({ ...nothing, methods: ['heat_flatten'] }).map(({ sentence }) => sentence);
  expect(heatTestCautions('tailgate_lining')).toEqual(heat);
  expect(heatTestCautions('quarter_trim')[0]).toContain('airbag');
  expect(heatTestCautions('quarter_trim').slice(1)).toEqual(heat);
  for (const part of [null, 'dash'] as const)
    expect(heatTestCautions(part).join()).not.toMatch(/\d|°|degree/i);
});

test('re-sewing a seat’s seam is blocked, re-sewing elsewhere is not', () => {
  expect(seamIsBlocked({ parts: ['seat_bolster'], methods: ['re_sew'] })).toBe(true);
  expect(seamIsBlocked({ parts: ['console'], methods: ['re_sew'] })).toBe(false);
  expect(seamIsBlocked({ parts: ['seat_bolster'], methods: ['sand'] })).toBe(false);
});
