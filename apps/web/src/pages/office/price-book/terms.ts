import { isUuid, type Problem } from '@grainwright/domain';
import { readPriceBook, type SetPriceTermsInput, setPriceTerms } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type TermsTyped, termsFields, termsView, typedFrom, zoneField, zoneRowsMax } from './terms-view.ts';

const path = '/office/price-book/terms';

/** The form that sets other terms from a day on; it starts from the last ones. */
export const priceTermsPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get(path, async (request, reply) => send(request, reply, null, null));
  app.post(path, async (request, reply) => {
    const typed = typedIn(formOf(request), services.newId());
    const set = await setPriceTerms(services, actorOf(request), termsOf(typed));
    if (!set.ok) return send(request, reply, typed, set.problem);
    return reply.redirect(`/office/price-book?on=${typed.values.valid_from}`, 303);
  });

  async function send(
    request: FastifyRequest,
    reply: FastifyReply,
    typed: TermsTyped | null,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'change_price_book');
    const book = unwrap(await readPriceBook(services, actorOf(request)));
    const shown = typed ?? typedFrom(book.terms.at(-1), book.currency, services.newId());
    return sendPage(reply, termsView({ frame, book, typed: shown, problem }), problem?.code);
  }
};

/** Rows of zones that were left empty are left out, so that a zone's place is the same for who reads it. */
function typedIn(form: FormValues, newId: string): TermsTyped {
  const rows = Array.from({ length: zoneRowsMax }, (_row, index) => ({
    name: form.text(zoneField(index, 'name')),
    upToMiles: form.text(zoneField(index, 'up_to_miles')),
    amount: form.text(zoneField(index, 'amount')),
  }));
  return {
    id: isUuid(form.text('id')) ? form.text('id') : newId,
    values: Object.fromEntries(termsFields.map((name) => [name, form.text(name)])),
    zones: rows.filter((row) => row.name !== '' || row.upToMiles !== '' || row.amount !== ''),
  };
}

function termsOf({ id, values, zones }: TermsTyped): SetPriceTermsInput {
  const text = (name: (typeof termsFields)[number]) => values[name] ?? '';
  return {
    id,
    furtherRepairPercents: text('further_repair_percents')
      .split(/[,;\s]+/)
      .filter((each) => each !== '' && each !== '%'),
    trip: text('trip'),
    milesIncluded: text('miles_included'),
    mile: text('mile'),
    tripZones: zones,
    afterHoursPercent: text('after_hours_percent'),
    afterHoursMinimum: text('after_hours_minimum'),
    rushPercent: text('rush_percent'),
    rushMinimum: text('rush_minimum'),
    depositFrom: text('deposit_from'),
    depositPercent: text('deposit_percent'),
    depositStep: text('deposit_step'),
    floorPercent: text('floor_percent') === '' ? null : text('floor_percent'),
    validFrom: text('valid_from'),
    validTo: null,
  };
}
