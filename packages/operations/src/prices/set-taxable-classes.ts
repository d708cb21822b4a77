import { insertTaxClasses, listTaxAreas, lockPriceBook } from '@grainwright/db';
import { type LineClass, lineClasses, ok, parseDay, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import { sameContent } from '../same-content.ts';
import type { Services } from '../services.ts';
import { endBefore, fitNext } from './next-period.ts';
import { checkNotInvoiced } from './not-invoiced.ts';

export interface SetTaxableClassesInput {
  /** A UUID made by the client. */
  readonly id: string;
  readonly areaCode: string;
  /** The classes of charge that are taxed; none is an answer too. */
  readonly taxable: readonly LineClass[];
  readonly validFrom: string;
}

/** Sets which classes of charge a place taxes from a day on; as `addTaxRate`. The owner's to do, with the adviser. */
export function setTaxableClasses(
  services: Services,
  actor: Actor,
  input: SetTaxableClassesInput,
): Promise<Result<{ id: string }>> {
  return performAsStaff(services, actor, 'change_price_book', async (scope) => {
    const { tx } = scope;
    const { id } = input;
    const from = parseDay(input.validFrom.trim(), 'valid_from');
    if (!from.ok) return from;
    const validFrom = from.value;
    const taxable = lineClasses.filter((each) => input.taxable.includes(each));
    await lockPriceBook(tx);
    const areas = await listTaxAreas(tx);
    const area = areas.find((each) => each.code === input.areaCode);
    const known = areas.flatMap((each) => each.classes).find((each) => each.id === id);
    if (known !== undefined)
      return area !== undefined && sameContent(known, { taxAreaId: area.id, taxable, validFrom })
        ? ok({ id })
        : refuse('id_reused', 'This id stands for something else. Send a new one.', 'id');
    if (area === undefined) return refuse('not_found', 'There is no such tax area.');
    const fits = fitNext(
      { what: `A list of what ${area.name} taxes`, another: 'a list' },
      validFrom,
      area.classes,
    );
    if (!fits.ok) return fits;
    const free = await checkNotInvoiced(scope, area.code, validFrom);
    if (!free.ok) return free;
    await endBefore(tx, 'tax_classes', fits.value, validFrom);
    await insertTaxClasses(tx, { id, taxAreaId: area.id, taxable, validFrom, validTo: null });
    await record(
      scope,
      'taxable_classes_set',
      { kind: 'tax_area', id: area.id },
      { taxable, valid_from: validFrom },
    );
    return ok({ id });
  });
}
