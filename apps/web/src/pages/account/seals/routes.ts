import { listSealKeys, listSeals } from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { quietLink } from '../../../look/buttons.ts';
import { html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { type DaysQuery, readDays } from '../../seals/read-days.ts';
import { daysPart, keysTable, sealsTable } from '../../seals/seal-tables.ts';
import { sendPage } from '../../send-page.ts';

/** What an account compares its statements and evidence packs with. */
export const accountSealPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  const { services } = options;

  app.get<{ Querystring: DaysQuery }>('/account/seals', async (request, reply) => {
    const frame = await frameOf(request, reply, options);
    const actor = actorOf(request);
    const keys = unwrap(await listSealKeys(services, actor));
    const days = await readDays(services, actor, request.query);
    const { business } = frame.me;
    const { seals, more } =
      days.view === null
        ? { seals: [], more: false }
        : unwrap(await listSeals(services, actor, { from: days.from, to: days.to }));
    return sendPage(
      reply,
      accountPage({
        ...frame,
        title: 'Seals',
        heading: 'Seals',
        lead: `Approvals, signatures and credits with ${business.name} are sealed day by day. Compare what a statement of yours prints with the same day here: both values have to be the same. What of yours is under them stands below.`,
        beside: quietLink({ label: 'Statements', href: '/account/statements' }),
        current: 'statements',
        body: html`<section><h2>Sealed days</h2>${daysPart(days, '/account/seals')}</section>
          ${days.view !== null && html`<section><h2>Your seals of these days</h2>${more && html`<p>Only the newest ${seals.length} are listed. Choose fewer days to see those before.</p>`}${sealsTable(seals, '/account/work-orders', business.timeZone)}</section>`}
          <section><h2>Signing keys</h2>
            <p class="hint">An evidence pack names the key that signed it. <a href="/verify">Check a pack</a> with the key that stands here.</p>
            ${keysTable(keys, business.timeZone)}</section>`,
      }),
    );
  });
};
