import type { ShownPhotoRow, WorkOrderLineRow } from '@grainwright/db';
import {
  type DamageKind,
  damageKinds,
  findMaterial,
  type LineId,
  lineWords,
  type Material,
  type MaterialByEye,
  type MaterialFinding,
  type Method,
  materials,
  materialWords,
  methods,
  numberedNames,
  type Observation,
  type ObservationKind,
  observationLabels,
  overruleMaterial,
  type PartPosition,
  type PhotographedLine,
  partPositions,
  type Repaired,
  settledMaterial,
  type VehiclePart,
  vehicleParts,
} from '@grainwright/domain';

/** What a stored line says, in the domain's own words. */
export interface LineFacts {
  readonly lineId: LineId;
  /** E.g. “Cut or tear, tailgate lining”. */
  readonly label: string;
  readonly part: VehiclePart;
  readonly side: PartPosition | null;
  readonly damage: DamageKind;
  /** Null where nothing was tested: trim taken off, color mixed. */
  readonly finding: MaterialFinding | null;
  readonly material: Material | null;
  readonly methods: readonly Method[];
  readonly repairsDamage: boolean;
}

/** As much of a stored line as says what it is. */
export type StoredLine = Pick<
  WorkOrderLineRow,
  | 'id'
  | 'part'
  | 'side'
  | 'damage'
  | 'observation'
  | 'material'
  | 'overruleReason'
  | 'methods'
  | 'family'
  | 'repairsDamage'
>;

/** Reads all lines of a work order, in the order written; lines of one name are told apart by their number. */
export function factsOfLines<Row extends StoredLine>(
  rows: readonly Row[],
): readonly (LineFacts & { readonly row: Row })[] {
  const lines = rows.map((row) => ({ ...lineFacts(row), row }));
  const names = numberedNames(lines.map(({ label }) => label));
  return lines.map((line, index) => ({ ...line, label: names[index] ?? line.label }));
}

/** Reads a line as stored, by itself. Throws on a word that the domain does not know: nothing here wrote it. */
export function lineFacts(row: StoredLine): LineFacts {
  const part = known(vehicleParts, row.part);
  const side = row.side === '' ? null : known(partPositions, row.side);
  const damage = known(damageKinds, row.damage);
  const finding = storedFinding(row);
  return {
    lineId: row.id,
    label: lineWords({
      damage: { kind: damage, part, position: side },
      family: row.family,
      repairsDamage: row.repairsDamage,
    }),
    part,
    side,
    damage,
    finding,
    material: finding === null ? null : settledMaterial(finding),
    methods: row.methods.map((method) => known(methods, method)),
    repairsDamage: row.repairsDamage,
  };
}

/** Part and settled material of a stored line. Throws as `lineFacts` does. */
export function storedRepaired({
  part,
  material,
}: {
  readonly part: string;
  readonly material: string;
}): Repaired {
  return {
    part: known(vehicleParts, part),
    material: material === '' ? null : known(materials, material),
  };
}

/** A line with the purposes of its photos, as the rules about photos ask. */
export function photographedLine(
  facts: LineFacts,
  photos: readonly Pick<ShownPhotoRow, 'lineId' | 'purpose'>[],
): PhotographedLine {
  return {
    label: facts.label,
    repairsDamage: facts.repairsDamage,
    photos: photos.filter((photo) => photo.lineId === facts.lineId).map((photo) => photo.purpose),
  };
}

/** What was observed, in words. */
export function observedWords(finding: MaterialFinding | null): string {
  if (finding === null) return 'not tested';
  const { observed } = finding;
  const label = observationLabels[observed.kind];
  const looksLike = 'looksLike' in observed ? observed.looksLike : null;
  return looksLike === null ? label : `${label}; looks like ${materials[looksLike]}`;
}

export function inferredWords(finding: MaterialFinding | null): string {
  return finding === null ? '' : materialWords(finding);
}

/** The observation as one word for its column: its kind, and what it looks like where that was said. */
export function storedObservation(observed: Observation): string {
  const looksLike = 'looksLike' in observed ? observed.looksLike : null;
  return looksLike === null ? observed.kind : `${observed.kind}:${looksLike}`;
}

/** The observation of a kind; null where the kind asks for what it looks like and that is not given. */
export function observationOf(kind: ObservationKind, looksLike: Material | null): Observation | null {
  if (kind === 'already_burnt') return { kind, looksLike };
  if (kind !== 'by_eye') return { kind };
  return looksLike !== null && isByEye(looksLike) ? { kind, looksLike } : null;
}

const byEye = ['leather', 'fabric', 'hard_plastic', 'headliner', 'carpet'] as const satisfies MaterialByEye[];

function isByEye(material: Material): material is MaterialByEye {
  return byEye.some((each) => each === material);
}

function storedFinding(row: StoredLine): MaterialFinding | null {
  if (row.observation === '') return null;
  const [kind = '', looksLike] = row.observation.split(':');
  const observed = observationOf(
    known(observationLabels, kind),
    looksLike === undefined ? null : known(materials, looksLike),
  );
  if (observed === null) throw new Error(`not an observation: ${row.observation}`);
  const finding = findMaterial(observed);
  if (row.overruleReason === null) return finding;
  const overruled = overruleMaterial(finding, {
    material: known(materials, row.material),
    reason: row.overruleReason,
  });
  if (!overruled.ok) throw new Error(overruled.problem.detail);
  return overruled.value;
}

export function known<Word extends string>(words: Readonly<Record<Word, unknown>>, stored: string): Word {
  const isWord = (candidate: string): candidate is Word => Object.hasOwn(words, candidate);
  if (!isWord(stored)) throw new Error(`a stored line says ${stored}, which no rule knows`);
  return stored;
}
