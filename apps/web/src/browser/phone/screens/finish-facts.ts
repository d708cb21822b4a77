import {
  type Contradiction,
  decimal,
  type LineId,
  lineContradictions,
  type Method,
  methods as methodTraits,
  parseDecimal,
} from '@grainwright/domain';
import type { PhoneWork } from '../projection.ts';
import { purposesOf } from './photos.ts';
import { linesOf } from './work-words.ts';

/** How a line was worked, as somebody says. */
export interface SaidOfLine {
  readonly lineId: LineId;
  readonly methods: readonly string[];
  readonly layers: string;
}

/** The approved lines as they were worked: what was said now stands over what was planned. */
export function workedLines(work: PhoneWork, said: readonly SaidOfLine[]) {
  return linesOf(work)
    .filter(({ row }) => row.answer === 'approved')
    .map((line) => {
      const own = said.find(({ lineId }) => lineId === line.lineId);
      const layers = own === undefined ? line.row.layers : own.layers === '' ? null : Number(own.layers);
      const methods = own === undefined ? line.methods : own.methods.filter(isMethod);
      return { ...line, methods, layers, photos: purposesOf(work, line.lineId) };
    });
}

/** What does not fit together, as far as the phone knows. */
export function contradictionsIn(work: PhoneWork, said: readonly SaidOfLine[]): readonly Contradiction[] {
  return workedLines(work, said).flatMap((line) => {
    const inches = line.row.measuredInches === null ? null : parseDecimal(line.row.measuredInches);
    const { billedBand, keyTest } = line.row;
    return lineContradictions({
      lineId: line.lineId,
      label: line.label,
      damage: line.damage,
      repairsDamage: line.repairsDamage,
      material: line.material,
      alreadyBurnt: line.finding?.observed.kind === 'already_burnt',
      methods: line.methods,
      photos: line.photos,
      layers: line.layers,
      measuredInches: inches?.ok ? inches.value : null,
      billedBand: billedBand && {
        overInches: decimal(billedBand.overInches),
        toInches: decimal(billedBand.toInches),
      },
      keyTest,
    });
  });
}

function isMethod(word: string): word is Method {
  return Object.hasOwn(methodTraits, word);
}
