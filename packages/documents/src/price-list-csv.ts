import { type Decimal, formatDecimal, formatMinor, type ListedRate } from '@grainwright/domain';
import { type CsvCell, csv } from './csv.ts';

/** The columns of a price list as a file. They stay; part and material are by their words in the API. */
export const priceListColumns = [
  'code',
  'repair',
  'family',
  'over_inches',
  'to_inches',
  'part',
  'material',
  'list',
  'materials_percent',
  'takes_further_repair',
  'repairs_damage',
] as const;

/** A price list as CSV, a row a rate; what it writes can be read in again. */
export function priceListCsv(rates: readonly ListedRate[], currency: string): string {
  return csv(
    priceListColumns,
    rates.map((rate) => [
      rate.code,
      rate.repair,
      rate.family,
      inches(rate.overInches),
      inches(rate.toInches),
      rate.part ?? '',
      rate.material ?? '',
      { figure: formatMinor(rate.listMinor, currency) },
      { figure: formatDecimal(rate.materialsPercent) },
      yesOrNo(rate.takesFurtherRepair),
      yesOrNo(rate.repairsDamage),
    ]),
  );
}

function inches(size: Decimal | null): CsvCell {
  return size === null ? '' : { figure: formatDecimal(size) };
}

function yesOrNo(is: boolean): string {
  return is ? 'yes' : 'no';
}
