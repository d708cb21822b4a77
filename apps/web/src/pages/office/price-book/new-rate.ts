import { isUuid, type Problem } from '@grainwright/domain';
import { addRates, type RateInput, readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { newRateView, type RateTyped, rateFields } from './new-rate-view.ts';

const path = '/office/price-book/rates/new';

/** The form that adds a rate with a code of its own. */
export const newRatePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get(path, async (request, reply) => {
    const typed = { id: services.newId(), values: {}, takesFurtherRepair: true, repairsDamage: true };
    return send(request, reply, typed, null);
  });
  app.post(path, async (request, reply) => {
    const typed = typedIn(formOf(request), services.newId());
    const added = await addRates(services, actorOf(request), { rates: [rateOf(typed)] });
    if (!added.ok) return send(request, reply, typed, added.problem);
    return reply.redirect(`/office/price-book/rates/${rateOf(typed).code}`, 303);
  });

  async function send(
    request: FastifyRequest,
    reply: FastifyReply,
    typed: RateTyped,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'change_price_book');
    const book = unwrap(await readPriceBook(services, actorOf(request)));
    return sendPage(reply, newRateView({ frame, book, typed, problem }), problem?.code);
  }
};

function typedIn(form: FormValues, newId: string): RateTyped {
  return {
    id: isUuid(form.text('id')) ? form.text('id') : newId,
    values: Object.fromEntries(rateFields.map((name) => [name, form.text(name)])),
    takesFurtherRepair: form.checked('takes_further_repair'),
    repairsDamage: form.checked('repairs_damage'),
  };
}

function rateOf({ id, values, takesFurtherRepair, repairsDamage }: RateTyped): RateInput {
  const text = (name: (typeof rateFields)[number]) => values[name] ?? '';
  const optional = (name: (typeof rateFields)[number]) => (text(name) === '' ? null : text(name));
  return {
    id,
    code: text('code').toUpperCase(),
    repair: text('repair'),
    family: text('family'),
    overInches: optional('over_inches'),
    toInches: optional('to_inches'),
    part: optional('part'),
    material: optional('material'),
    list: text('list'),
    materialsPercent: text('materials_percent'),
    takesFurtherRepair,
    repairsDamage,
    validFrom: text('valid_from'),
    validTo: optional('valid_to'),
  };
}
