import { withCheckDigit } from '@grainwright/domain';

/** Makes that do not exist, with maker's identifiers that begin with 0, which no region of the world uses. */
const makers = { Halden: '0HM', Ostra: '0VE', Corvane: '0CT', Brisko: '0BR', Luma: '0LP' } as const;

const models = { Halden: 'Meridian', Ostra: 'Vela', Corvane: 'T4', Brisko: '1500', Luma: 'Petite' } as const;

/** Position 10 of a VIN by model year: 49 CFR 565.15(d), Table VII. */
const yearCodes: Readonly<Record<number, string>> = {
  2014: 'E',
  2015: 'F',
  2016: 'G',
  2017: 'H',
  2018: 'J',
  2019: 'K',
  2020: 'L',
  2021: 'M',
  2022: 'N',
  2023: 'P',
  2024: 'R',
  2025: 'S',
  2026: 'T',
};

export interface DemoVehicle {
  readonly vin: string;
  readonly modelYear: string;
  readonly make: string;
  readonly model: string;
  readonly color: string;
}

/** A vehicle whose VIN has the right check digit; the serial makes it one of a kind. */
export function demoVehicle(
  make: keyof typeof makers,
  modelYear: number,
  color: string,
  serial: number,
): DemoVehicle {
  const yearCode = yearCodes[modelYear];
  if (yearCode === undefined) throw new Error(`no model year ${modelYear} in the demo`);
  const unchecked = `${makers[make]}EA2C40${yearCode}K${String(serial).padStart(6, '0')}`;
  return { vin: withCheckDigit(unchecked), modelYear: String(modelYear), make, model: models[make], color };
}
