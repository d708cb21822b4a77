import { insertTaxArea, listTaxAreas, lockPriceBook, type TaxAreaWithRates } from '@grainwright/db';
import { type Decimal, type LineClass, lineClasses, ok, type Result, refuse } from '@grainwright/domain';
import { everyResult } from '../every-result.ts';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { type DatedInput, readPeriod, readWords } from '../read-input.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { readTaxPercent } from './read-tax-percent.ts';

export interface AddTaxAreaInput extends DatedInput {
  /** A UUID made by the client. */
  readonly id: string;
  /** Short, for documents; once within the business. */
  readonly code: string;
  readonly name: string;
  /** The state's part, the county's part, in the order documents show them. */
  readonly components: readonly { readonly name: string; readonly ratePercent: string }[];
  /** Which classes of charge are taxed there: the business and its licensed adviser decide. */
  readonly taxable: readonly LineClass[];
}

interface Component {
  readonly component: string;
  readonly ratePercent: Decimal;
}

/** Adds a place with its tax rates and what it taxes. The owner's to do. */
export function addTaxArea(
  services: Services,
  actor: Actor,
  input: AddTaxAreaInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx, newId } = scope;
    const { id } = input;
    const read = everyResult({
      code: readWords(input.code, 'code', 'a code for the place', 20),
      name: readWords(input.name, 'name', 'the name of the place', 100),
      inForce: readPeriod(input),
      components: readComponents(input.components),
    });
    if (!read.ok) return read;
    const { code, name, inForce, components } = read.value;
    const taxable = lineClasses.filter((each) => input.taxable.includes(each));
    await lockPriceBook(tx);
    const areas = await listTaxAreas(tx);
    const known = areas.find((area) => area.id === id);
    const dates = { validFrom: inForce.from, validTo: inForce.to };
    if (known !== undefined)
      return isSame(known, { code, name, components, taxable, ...dates })
        ? ok({ id })
        : refuse('id_reused', 'This id stands for another place. Send a new one.', 'id');
    if (areas.some((area) => area.code === code))
      return refuse('duplicate', `There is a tax area ${code} already. Choose another code.`, 'code');
    const rates = components.map((each, position) => ({ id: newId(), ...each, position, ...dates }));
    if (!(await insertTaxArea(tx, { id, code, name, rates, classes: { id: newId(), taxable, ...dates } })))
      return refuse('id_reused', 'This id stands for another place. Send a new one.', 'id');
    await record(
      scope,
      'tax_area_added',
      { kind: 'tenant', id: scope.actor.tenantId },
      { code, name, taxable },
    );
    return ok({ id });
  });
}

function readComponents(components: AddTaxAreaInput['components']): Result<readonly Component[]> {
  const read: Component[] = [];
  for (const each of components) {
    const one = everyResult({
      component: readWords(each.name, 'components', 'whose part of the tax it is', 40),
      ratePercent: readTaxPercent(each.ratePercent, 'components'),
    });
    if (!one.ok) return one;
    if (read.some((earlier) => earlier.component === one.value.component))
      return refuse(
        'duplicate',
        `“${one.value.component}” is there twice. Give each part of the tax its own name.`,
        'components',
      );
    read.push(one.value);
  }
  return ok(read);
}

type Given = Pick<TaxAreaWithRates['classes'][number], 'validFrom' | 'validTo'> & {
  readonly code: string;
  readonly name: string;
  readonly components: readonly Component[];
  readonly taxable: readonly string[];
};

function isSame(
  known: TaxAreaWithRates,
  { code, name, components, taxable, validFrom, validTo }: Given,
): boolean {
  const [classes] = known.classes;
  if (classes === undefined || !sameContent(classes, { taxable, validFrom, validTo })) return false;
  if (!sameContent(known, { code, name }) || known.rates.length !== components.length) return false;
  return components.every((each, index) => {
    const rate = known.rates[index];
    return rate !== undefined && sameContent(rate, { ...each, validFrom, validTo });
  });
}
