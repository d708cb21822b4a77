import { displayPercent, type Id, type Problem } from '@grainwright/domain';
import { type EndedKind, endPrice, type PriceBookView, readPriceBook } from '@grainwright/operations';
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

/** Something that is given a last day on a page of its own. */
interface Ended {
  /** The folder of its addresses. */
  readonly folder: string;
  readonly kind: EndedKind;
  readonly heading: string;
  readonly button: string;
  readonly find: (book: PriceBookView, id: string) => FoundEnded | null;
}

interface FoundEnded {
  /** What counts now, and what does from the day after its last. */
  readonly lead: string;
  /** Where it stands among the others. */
  readonly place: string;
}

const all: readonly Ended[] = [
  {
    folder: 'account-prices',
    kind: 'account_price',
    heading: 'End an own price',
    button: 'End the price',
    find: ({ accountPrices, currency }, id) => {
      const price = accountPrices.find((each) => each.id === id);
      if (price === undefined) return null;
      const { accountName, code, priceMinor } = price;
      return {
        lead: `${accountName} pays ${moneyText(priceMinor, currency)} for ${code}. From the day after its last it pays the price of its contract or tier.`,
        place: '/office/price-book#account-prices',
      };
    },
  },
  {
    folder: 'tier-prices',
    kind: 'tier_price',
    heading: 'End a tier’s own price',
    button: 'End the price',
    find: ({ tierPrices, tiers, currency }, id) => {
      const price = tierPrices.find((each) => each.id === id);
      if (price === undefined) return null;
      const { code, tierCode, priceMinor } = price;
      const name = tiers.find((tier) => tier.code === tierCode)?.name ?? tierCode;
      return {
        lead: `${name} pays ${moneyText(priceMinor, currency)} for ${code}. From the day after its last it pays list less its discount.`,
        place: `/office/price-book/tiers/${tierCode}`,
      };
    },
  },
  {
    folder: 'contracts',
    kind: 'contract',
    heading: 'End a contract',
    button: 'End the contract',
    find: ({ contracts }, id) => {
      const contract = contracts.find((each) => each.id === id);
      if (contract === undefined) return null;
      const { accountName, accountId, name, discountPercent } = contract;
      return {
        lead: `${accountName} pays list less ${displayPercent(discountPercent)} by “${name}”. From the day after its last it pays by its tier.`,
        place: `/office/accounts/${accountId}#contracts`,
      };
    },
  },
];

/** Gives what an account or a tier has of its own its last day. */
export const priceEndPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;
  for (const ended of all) {
    const path = `/office/price-book/${ended.folder}/:id/end`;
    app.get<ById>(path, async (request, reply) => send(request, reply, ended, null, null));
    app.post<ById>(path, async (request, reply) => {
      const validTo = formOf(request).text('valid_to');
      const id = pathId<Id<'price'>>(request.params.id);
      const done = await endPrice(services, actorOf(request), { kind: ended.kind, id, validTo });
      if (!done.ok) return send(request, reply, ended, validTo, done.problem);
      const book = unwrap(await readPriceBook(services, actorOf(request)));
      return reply.redirect(ended.find(book, id)?.place ?? '/office/price-book', 303);
    });
  }

  async function send(
    request: FastifyRequest<ById>,
    reply: FastifyReply,
    ended: Ended,
    typed: string | null,
    problem: Problem | null,
  ): Promise<FastifyReply> {
    const frame = await frameOf(request, reply, options);
    requirePermission(frame, 'change_price_book');
    const id = pathId<Id<'price'>>(request.params.id);
    const book = unwrap(await readPriceBook(services, actorOf(request)));
    const found = ended.find(book, id);
    if (found === null) throw new ProblemError({ code: 'not_found', detail: notFoundDetail });
    const page = { frame, ended, found, id, validTo: typed ?? book.today, problem };
    return sendPage(reply, endView(page), problem?.code);
  }
};

interface EndPage {
  readonly frame: Frame;
  readonly ended: Ended;
  readonly found: FoundEnded;
  readonly id: string;
  readonly validTo: string;
  readonly problem: Problem | null;
}

function endView({ frame, ended, found, id, validTo, problem }: EndPage): Html {
  const { errorOf, summary } = problemsOf(problem, ['valid_to']);
  return officePage({
    ...frame,
    title: ended.heading,
    heading: ended.heading,
    lead: found.lead,
    beside: quietLink({ label: 'Price book', href: '/office/price-book' }),
    current: 'price-book',
    body: html`<form method="post" action="${`/office/price-book/${ended.folder}/${id}/end`}" novalidate>
      ${hiddenCsrf(frame.csrfToken)}${errorSummary(summary)}
      ${dateField({ name: 'valid_to', label: 'Last day', hint: 'Today or later: what was priced before stays', value: validTo, error: errorOf('valid_to'), required: true })}
      <div class="buttons">${actionButton({ label: ended.button })}</div>
    </form>`,
  });
}
