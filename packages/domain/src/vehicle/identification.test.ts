import { expect, test } from 'vitest';
import { identifyVehicle, type VehicleInput } from './identification.ts';

const nothing: VehicleInput = { vin: null, lastEight: null, ownNumbers: [] };

function identified(input: Partial<VehicleInput>) {
  const result = identifyVehicle({ ...nothing, ...input });
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
}

test('a VIN is enough, and its last 8 and model year come with it', () => {
  expect(identified({ vin: '1HGCM82633A004352' })).toMatchObject({
    vin: '1HGCM82633A004352',
    lastEight: '3A004352',
    modelYear: 2003,
    warnings: [],
  });
});

test('the last 8 alone are enough', () => {
  expect(identified({ lastEight: '3a004352' })).toMatchObject({ vin: null, lastEight: '3A004352' });
});

test('the last 8 may be written where the VIN goes, and what is wrong with them is said there', () => {
  expect(identified({ vin: '3a-004352' })).toMatchObject({ vin: null, lastEight: '3A004352', warnings: [] });
  expect(identifyVehicle({ ...nothing, vin: '3A0O4352' })).toMatchObject({
    problem: {
      code: 'invalid_vin',
      field: 'vin',
      detail: expect.stringContaining('Position 4 is the letter O'),
    },
  });
});

test.each(['stock', 'unit', 'lot', 'job', 'claim', 'repair_order'] as const)(
  'the account’s own number is enough: %s',
  (kind) => {
    expect(identified({ ownNumbers: [{ kind, number: '  BG-9107 ' }] }).ownNumbers).toEqual([
      { kind, number: 'BG-9107' },
    ]);
  },
);

test.each([nothing, { vin: ' ', lastEight: '', ownNumbers: [{ kind: 'stock', number: ' ' } as const] }])(
  'a vehicle that nothing identifies is refused',
  (input) => {
    expect(identifyVehicle(input)).toMatchObject({
      ok: false,
      problem: { code: 'invalid_input', field: 'vin' },
    });
  },
);

test('a VIN and last 8 that disagree are a warning, because the stock number may be the wrong one', () => {
  const { warnings } = identified({ vin: '1HGCM82633A004352', lastEight: '3A004353' });
  expect(warnings).toEqual([
    'The VIN ends in 3A004352, the last 8 written are 3A004353. Is this the right vehicle?',
  ]);
});

test('a wrong check digit is a warning here too', () => {
  expect(identified({ vin: '3FA6P0HR5DR246490' }).warnings).toHaveLength(1);
});

test('a VIN that can’t be read is refused even where a stock number would do', () => {
  const input = { ...nothing, vin: '1HGCM8', ownNumbers: [{ kind: 'stock', number: 'PL-251' } as const] };
  expect(identifyVehicle(input)).toMatchObject({ ok: false, problem: { code: 'invalid_vin' } });
});

test('two numbers of a kind, or one that is too long, are refused at their own field', () => {
  const two = [
    { kind: 'unit', number: '118' },
    { kind: 'unit', number: '094' },
  ] as const;
  const long = [{ kind: 'lot', number: '7'.repeat(41) }] as const;
  expect(identifyVehicle({ ...nothing, ownNumbers: two })).toMatchObject({ problem: { field: 'unit' } });
  expect(identifyVehicle({ ...nothing, ownNumbers: long })).toMatchObject({ problem: { field: 'lot' } });
});
