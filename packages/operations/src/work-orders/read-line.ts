import type { BookedPrices, WorkOrderLineRow } from '@grainwright/db';
import {
  adviseMethods,
  compareDecimals,
  type Damage,
  type Decimal,
  damageKinds,
  decimal,
  familyInBook,
  findMaterial,
  type MaterialFinding,
  type Method,
  materials,
  methods,
  observationLabels,
  ok,
  overruleMaterial,
  parseDecimal,
  parseMoney,
  partPositions,
  type Result,
  refuse,
  settledMaterial,
  vehicleParts,
} from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { readOptionalWords, readPercent, readWords } from '../read-input.ts';
import { checkPricing, type PricingRules } from './check-pricing.ts';
import { observationOf, storedObservation } from './line-facts.ts';
import { readChoice, readOptionalChoice } from './read-choice.ts';

/** A line as people and clients write it; empty text is the same as nothing. Fields' names are those of the API. */
export interface LineInput {
  readonly part: string;
  readonly side: string;
  readonly damage: string;
  readonly visibleWhen: string;
  /** What the heat test showed; empty where nothing was tested. */
  readonly observation: string;
  /** The material, where the observation is one told by eye or the damage was the test. */
  readonly looksLike: string;
  readonly overruledMaterial: string;
  readonly overruleReason: string;
  readonly methods: readonly string[];
  readonly measuredInches: string;
  /** The repair: a family, of which the measured size picks the rate, or one rate by its code. */
  readonly family: string;
  readonly rateCode: string;
  readonly factorCode: string;
  readonly byHandPrice: string;
  readonly byHandReason: string;
  readonly byHandMaterialsPercent: string;
  readonly note: string;
}

/** A line read, as it is stored. */
export type LineFields = Omit<
  WorkOrderLineRow,
  'tenantId' | 'id' | 'workOrderId' | 'position' | 'layers' | 'withdrawnAt' | 'byHandBy'
>;

/**
 * Reads a line. Refuses with `invalid_input`, `invalid_size`, `invalid_money`, or `contradiction` where a method is
 * known to fail on the material, and as `checkPricing` does. A kind of repair that the price book does not know is
 * taken: it is priced by hand later.
 */
export function readLine(input: LineInput, rules: PricingRules): Result<LineFields> {
  const finding = readFinding(input);
  const parts = everyResult({
    damage: readDamage(input),
    notes: readNotes(input),
    finding,
    methods: finding.ok ? readMethods(input.methods, finding.value) : finding,
    inches: readInches(input.measuredInches),
    repair: readRepair(input, rules.book),
    byHand: readByHand(input, rules.currency),
  });
  if (!parts.ok) return parts;
  const { damage, notes, inches, repair, byHand } = parts.value;
  const priced = { ...repair, ...byHand, measuredInches: inches };
  const material = parts.value.finding === null ? null : settledMaterial(parts.value.finding);
  const fits = checkPricing({ ...priced, part: damage.part, material }, rules);
  if (!fits.ok) return fits;
  return ok({
    part: damage.part,
    side: damage.position ?? '',
    damage: damage.kind,
    ...notes,
    ...storedFinding(parts.value.finding),
    methods: [...parts.value.methods],
    ...priced,
  });
}

/** What a line says besides its price: the damage, what was found, how it is worked, its size. */
export interface LineAtVehicle {
  readonly damage: Damage;
  readonly finding: MaterialFinding | null;
  readonly methods: readonly Method[];
  readonly inches: Decimal | null;
  readonly note: string;
}

/** Reads a line as far as that needs no price book: what a phone can check without signal. Refuses as `readLine` does. */
export function readLineAtVehicle(input: LineInput): Result<LineAtVehicle> {
  const finding = readFinding(input);
  const read = everyResult({
    damage: readDamage(input),
    notes: readNotes(input),
    finding,
    methods: finding.ok ? readMethods(input.methods, finding.value) : finding,
    inches: readInches(input.measuredInches),
  });
  if (!read.ok) return read;
  const { notes, ...rest } = read.value;
  return ok({ ...rest, note: notes.note });
}

/** The finding of a heat test as typed; null where nothing was tested. */
export function readFinding(
  input: Pick<LineInput, 'observation' | 'looksLike' | 'overruledMaterial' | 'overruleReason'>,
): Result<MaterialFinding | null> {
  const fromList = 'Choose the material from the list.';
  const read = everyResult({
    kind: readOptionalChoice(
      observationLabels,
      input.observation,
      'observation',
      'Choose what the heat test showed.',
    ),
    looksLike: readOptionalChoice(materials, input.looksLike, 'looks_like', fromList),
    material: readOptionalChoice(materials, input.overruledMaterial, 'overruled_material', fromList),
    reason: readOptionalWords(input.overruleReason, 'overrule_reason', 'the reason', 500),
  });
  if (!read.ok) return read;
  const { kind, looksLike, material, reason } = read.value;
  if (kind === null) {
    if (material === null) return ok(null);
    return refuse(
      'invalid_input',
      'Say first what the test showed, or that it is told by eye. What you know better is kept beside it.',
      'observation',
    );
  }
  const observed = observationOf(kind, looksLike);
  if (observed === null)
    return refuse(
      'invalid_input',
      'By eye one can tell leather, fabric, hard plastic, headliner and carpet. Choose one of them, or test with heat.',
      'looks_like',
    );
  const finding = findMaterial(observed);
  if (material === null) return ok(finding);
  const overruled = overruleMaterial(finding, { material, reason });
  return overruled.ok
    ? overruled
    : refuse(overruled.problem.code, overruled.problem.detail, 'overrule_reason');
}

/** Where the damage is and what it is, as typed. */
export function readDamage(input: Pick<LineInput, 'part' | 'side' | 'damage'>): Result<Damage> {
  return everyResult({
    part: readChoice(vehicleParts, input.part, 'part', 'Choose the part.'),
    position: readOptionalChoice(
      partPositions,
      input.side,
      'side',
      'The side is left, center or right, or nothing.',
    ),
    kind: readChoice(damageKinds, input.damage, 'damage', 'Choose what is wrong with it.'),
  });
}

function readNotes(input: LineInput): Result<Pick<LineFields, 'visibleWhen' | 'note'>> {
  return everyResult({
    visibleWhen: readOptionalWords(input.visibleWhen, 'visible_when', 'when it can be seen', 200),
    note: readOptionalWords(input.note, 'note', 'the note', 2000),
  });
}

export function storedFinding(
  finding: MaterialFinding | null,
): Pick<LineFields, 'observation' | 'inference' | 'material' | 'overruleReason'> {
  if (finding === null) return { observation: '', inference: '', material: '', overruleReason: null };
  return {
    observation: storedObservation(finding.observed),
    inference: finding.inferred.words,
    material: settledMaterial(finding) ?? '',
    overruleReason: finding.overruled?.reason ?? null,
  };
}

/** A method that is known to fail on the material is locked out; overruling the material opens it. */
function readMethods(written: readonly string[], finding: MaterialFinding | null): Result<readonly Method[]> {
  const read: Method[] = [];
  for (const text of new Set(written)) {
    const method = readChoice(methods, text, 'methods', 'Choose methods from the list.');
    if (!method.ok) return method;
    read.push(method.value);
  }
  const fails = finding === null ? [] : adviseMethods(finding).fails;
  const failing = read.filter((method) => fails.includes(method));
  if (finding === null || failing.length === 0) return ok(read);
  const material = settledMaterial(finding);
  const names = new Intl.ListFormat('en-US').format(failing.map((method) => `“${methods[method].label}”`));
  const on = material === null ? 'damage that is already burnt' : materials[material];
  return refuse(
    'contradiction',
    `Not on ${on}: ${names}. Choose another method, or say with a reason that it is another material.`,
    'methods',
  );
}

const inchesMax = decimal('999');

function readInches(text: string): Result<Decimal | null> {
  if (text.trim() === '') return ok(null);
  const plain = text
    .trim()
    .replace(/\s*(in|")$/, '')
    .replace('−', '-');
  const wrong = (sentence: string) => refuse('invalid_size', sentence, 'measured_inches');
  if (/^-?\d+,\d+$/.test(plain))
    return wrong(
      `“${plain}” has a comma. Write decimals behind a point, like ${plain.replace(',', '.').replace('-', '')}.`,
    );
  const inches = parseDecimal(plain);
  if (!inches.ok) return wrong('Write the measured size in inches, like 2.2.');
  if (inches.value.digits < 0n)
    return wrong(`“${plain}” is negative. A size is more than zero: measure it again.`);
  if (inches.value.digits === 0n)
    return wrong('A size is more than zero. Measure the damage along its longest side.');
  if (inches.value.scale > 3 || compareDecimals(inches.value, inchesMax) > 0)
    return refuse(
      'invalid_size',
      'A size has at most three decimals and is less than 1000 in. Measure again.',
      'measured_inches',
    );
  return inches;
}

function readRepair(
  input: LineInput,
  book: BookedPrices,
): Result<Pick<LineFields, 'family' | 'rateCode' | 'factorCode' | 'repairsDamage'>> {
  const read = everyResult({
    code: readOptionalWords(input.rateCode, 'rate_code', 'the rate’s code', 12),
    family: readOptionalWords(input.family, 'family', 'the kind of repair', 60),
  });
  if (!read.ok) return read;
  const factorCode = input.factorCode.trim() === '' ? null : input.factorCode.trim();
  if (factorCode !== null && !book.factors.some((factor) => factor.code === factorCode))
    return refuse(
      'invalid_input',
      'The price book has no such care factor. Choose one from the list.',
      'factor_code',
    );
  const rateCode = read.value.code === '' ? null : read.value.code.toUpperCase();
  const family = familyInBook(book.rates, read.value.family);
  const rate = book.rates.find((candidate) =>
    rateCode === null ? candidate.family === family : candidate.code === rateCode,
  );
  if (rateCode !== null && rate === undefined)
    return refuse(
      'invalid_input',
      `The price book has no rate ${rateCode}. Choose one from the list, or leave it out.`,
      'rate_code',
    );
  return ok({
    family: rate?.family ?? family,
    rateCode,
    factorCode,
    repairsDamage: rate?.repairsDamage ?? true,
  });
}

function readByHand(
  input: LineInput,
  currency: string,
): Result<Pick<LineFields, 'byHandMinor' | 'byHandReason' | 'byHandMaterialsPercent'>> {
  if (input.byHandPrice.trim() === '')
    return ok({ byHandMinor: null, byHandReason: null, byHandMaterialsPercent: null });
  const read = everyResult({
    byHandMinor: parseMoney(input.byHandPrice, { currency, field: 'by_hand_price' }),
    byHandReason: readWords(input.byHandReason, 'by_hand_reason', 'why this is priced by hand', 500),
    byHandMaterialsPercent: readMaterialsPercent(input.byHandMaterialsPercent),
  });
  if (read.ok && read.value.byHandMinor === 0n)
    return refuse(
      'invalid_money',
      'A price by hand must be more than zero. Write what it costs.',
      'by_hand_price',
    );
  return read;
}

function readMaterialsPercent(text: string): Result<Decimal> {
  const field = 'by_hand_materials_percent';
  if (text.trim() === '')
    return refuse('invalid_input', 'Say how much of it is materials, in percent.', field);
  return readPercent(text, field);
}
