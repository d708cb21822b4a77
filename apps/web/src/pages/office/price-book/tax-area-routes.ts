import { allows, isUuid, lineClasses, type Problem } from '@grainwright/domain';
import { addTaxRate, readPriceBook, setTaxableClasses } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { type TaxTyped, taxAreaView } from './tax-area-view.ts';

interface ByCode {
  readonly Params: { readonly code: string };
}
type Asked = FastifyRequest<ByCode>;

const path = '/office/price-book/tax-areas/:code';

/** A place's taxes, period by period. */
export const taxAreaPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ByCode>(path, async (request, reply) => send(request, reply, null, null));

  app.post<ByCode>(`${path}/rates`, async (request, reply) => {
    const typed = typedIn(request, 'rates');
    const { id, component, ratePercent, validFrom } = typed;
    const input = { id, areaCode: request.params.code, component, ratePercent, validFrom };
    const added = await addTaxRate(services, actorOf(request), input);
    return added.ok ? reply.redirect(addressOf(request), 303) : send(request, reply, typed, added.problem);
  });

  app.post<ByCode>(`${path}/classes`, async (request, reply) => {
    const typed = typedIn(request, 'classes');
    const { id, taxable, validFrom } = typed;
    const set = await setTaxableClasses(services, actorOf(request), {
      id,
      areaCode: request.params.code,
      taxable,
      validFrom,
    });
    return set.ok ? reply.redirect(addressOf(request), 303) : send(request, reply, typed, set.problem);
  });

  function typedIn(request: Asked, of: TaxTyped['form']): TaxTyped {
    const form = formOf(request);
    return {
      form: of,
      id: isUuid(form.text('id')) ? form.text('id') : services.newId(),
      component: form.text('component'),
      ratePercent: form.text('rate_percent'),
      taxable: lineClasses.filter((each) => form.checked(each)),
      validFrom: form.text('valid_from'),
    };
  }

  async function send(
    request: Asked,
    reply: FastifyReply,
    typed: TaxTyped | null,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    const mayChange = allows(frame.me.role, 'change_price_book');
    if (!mayChange && problem !== null) throw new ProblemError(problem);
    const book = unwrap(await readPriceBook(services, actorOf(request)));
    const area = book.taxAreas.find((each) => each.code === request.params.code);
    if (area === undefined) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
    const page = { frame, book, area, typed, problem, newId: services.newId, mayChange };
    return sendPage(reply, taxAreaView(page), problem?.code);
  }
};

function addressOf(request: Asked): string {
  return `/office/price-book/tax-areas/${encodeURIComponent(request.params.code)}`;
}
