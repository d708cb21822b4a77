import { isUuid, type Problem } from '@grainwright/domain';
import { addTierPrice, type PriceBookView, readPriceBook, type TierView } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { fieldGroup } from '../../../look/field-group.ts';
import {
  dateField,
  errorSummary,
  hiddenCsrf,
  hiddenField,
  moneyField,
  selectField,
  textField,
} from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { problemsOf } from '../../form-problems.ts';
import { requirePermission } from '../../permitted.ts';
import { type Frame, frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';

interface ByCode {
  readonly Params: { readonly code: string };
}

interface Typed {
  readonly id: string;
  readonly values: Readonly<Record<string, string>>;
}

const path = '/office/price-book/tiers/:code/prices/new';
const fields = ['code', 'price', 'reason', 'valid_from', 'valid_to'] as const;

/** The form that gives a tier its own price for a repair. */
export const newTierPricePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  app.get<ByCode>(path, async (request, reply) =>
    send(request, reply, { id: services.newId(), values: {} }, null),
  );
  app.post<ByCode>(path, async (request, reply) => {
    const form = formOf(request);
    const id = isUuid(form.text('id')) ? form.text('id') : services.newId();
    const added = await addTierPrice(services, actorOf(request), {
      id,
      tierCode: request.params.code,
      code: form.text('code'),
      price: form.text('price'),
      reason: form.text('reason'),
      validFrom: form.text('valid_from'),
      validTo: form.text('valid_to') === '' ? null : form.text('valid_to'),
    });
    const values = Object.fromEntries(fields.map((name) => [name, form.text(name)]));
    if (!added.ok) return send(request, reply, { id, values }, added.problem);
    return reply.redirect(`/office/price-book/tiers/${encodeURIComponent(request.params.code)}`, 303);
  });

  async function send(
    request: FastifyRequest<ByCode>,
    reply: FastifyReply,
    typed: Typed,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'change_price_book');
    const book = unwrap(await readPriceBook(services, actorOf(request)));
    const tier = book.tiers.find((each) => each.code === request.params.code);
    if (tier === undefined) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
    return sendPage(reply, newTierPriceView({ frame, book, tier, typed, problem }), problem?.code);
  }
};

interface NewTierPricePage {
  readonly frame: Frame;
  readonly book: PriceBookView;
  readonly tier: TierView;
  readonly typed: Typed;
  readonly problem: Problem | null;
}

function newTierPriceView({ frame, book, tier, typed, problem }: NewTierPricePage): Html {
  const { errorOf, summary } = problemsOf(problem, fields);
  const repairs = new Map(book.rates.map((rate) => [rate.code, `${rate.code}, ${rate.repair}`]));
  const field = (name: (typeof fields)[number], label: string, required = true) => ({
    name,
    label,
    value: typed.values[name],
    error: errorOf(name),
    required,
  });
  const href = `/office/price-book/tiers/${tier.code}`;
  return officePage({
    ...frame,
    title: 'Give a tier its own price',
    heading: `An own price for ${tier.name}`,
    lead: 'Its accounts then pay it in place of list price, care factor and discount. Contracts and accounts’ own prices go before it.',
    beside: quietLink({ label: `Tier ${tier.name}`, href }),
    current: 'price-book',
    body: html`<form method="post" action="${`${href}/prices/new`}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}${errorSummary(summary)}
      ${fieldGroup('Price', [
        selectField({
          ...field('code', 'Repair'),
          choices: [...repairs].map(([value, label]) => ({ value, label })),
          empty: 'Choose a repair',
        }),
        moneyField({ ...field('price', 'Price'), currency: book.currency }),
        textField({ ...field('reason', 'Why'), maxLength: 200 }),
        dateField({ ...field('valid_from', 'Valid from'), value: typed.values.valid_from ?? book.today }),
        dateField({
          ...field('valid_to', 'Valid to', false),
          hint: 'The last day; empty if it has no end. Then its discount counts again.',
        }),
      ])}
      <div class="buttons">${actionButton({ label: 'Give the price' })}</div>
    </form>`,
  });
}
