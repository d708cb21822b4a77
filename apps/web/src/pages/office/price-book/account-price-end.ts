import type { Id, Problem } from '@grainwright/domain';
import { type AccountPriceView, endPrice, readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { moneyText } from '../../../look/figures.ts';
import { dateField, errorSummary, hiddenCsrf } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { formOf } from '../../../plugins/forms.ts';
import { ProblemError, unwrap } from '../../../plugins/problem-error.ts';
import { notFoundDetail } from '../../../plugins/problems.ts';
import { actorOf } from '../../../plugins/session.ts';
import { problemsOf } from '../../form-problems.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { type Frame, frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';

interface ById {
  readonly Params: { readonly id: string };
}

const path = '/office/price-book/account-prices/:id/end';

/** Gives an account's own price its last day; from the next day on the account pays as its tier does. */
export const accountPriceEndPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<ById>(path, async (request, reply) => send(request, reply, null, null));

  app.post<ById>(path, async (request, reply) => {
    const validTo = formOf(request).text('valid_to');
    const input = { kind: 'account_price' as const, id: pathId<Id<'price'>>(request.params.id), validTo };
    const ended = await endPrice(services, actorOf(request), input);
    if (ended.ok) return reply.redirect('/office/price-book#account-prices', 303);
    return send(request, reply, validTo, ended.problem);
  });

  async function send(
    request: FastifyRequest<ById>,
    reply: FastifyReply,
    typed: string | null,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'change_price_book');
    const id = pathId<Id<'price'>>(request.params.id);
    const book = unwrap(await readPriceBook(services, actorOf(request)));
    const price = book.accountPrices.find((each) => each.id === id);
    if (price === undefined) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
    const page = { frame, price, currency: book.currency, validTo: typed ?? book.today, problem };
    return sendPage(reply, endView(page), problem?.code);
  }
};

interface EndPage {
  readonly frame: Frame;
  readonly price: AccountPriceView;
  readonly currency: string;
  readonly validTo: string;
  readonly problem: Problem | null;
}

function endView({ frame, price, currency, validTo, problem }: EndPage): Html {
  const { errorOf, summary } = problemsOf(problem, ['valid_to']);
  return officePage({
    ...frame,
    title: 'End an own price',
    heading: 'End an own price',
    lead: `${price.accountName} pays ${moneyText(price.priceMinor, currency)} for ${price.code}. From the day after its last it pays the price of its tier.`,
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`<form method="post" action="${`/office/price-book/account-prices/${price.id}/end`}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}${errorSummary(summary)}
      ${dateField({ name: 'valid_to', label: 'Last day', hint: 'Today or later: what was priced before stays', value: validTo, error: errorOf('valid_to'), required: true })}
      <div class="buttons">${actionButton({ label: 'End the price' })}</div>
    </form>`,
  });
}
