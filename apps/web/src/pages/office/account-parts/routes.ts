import { type AccountId, isUuid, type Problem } from '@grainwright/domain';
import { readAccount, readPriceBook } from '@grainwright/operations';
import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import { requirePermission } from '../../permitted.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { sendPage } from '../../send-page.ts';
import { certificatePart } from './certificate.ts';
import { contactPart } from './contact.ts';
import { contractPart } from './contract.ts';
import { delegationPart } from './delegation.ts';
import { joinCodeView } from './join-code-view.ts';
import type { Part, Values } from './part.ts';
import { pricePart } from './price.ts';
import { purchaseOrderPart } from './purchase-order.ts';
import { sitePart } from './site.ts';
import { standingApprovalPart } from './standing-approval.ts';
import { partView } from './view.ts';

const parts = [
  sitePart,
  contactPart,
  certificatePart,
  pricePart,
  contractPart,
  standingApprovalPart,
  purchaseOrderPart,
  delegationPart,
];

/** The forms that add to an account: a site, a contact, a certificate, an own price, a contract, what it agrees to or orders. */
export const officeAccountPartPages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  for (const part of parts) {
    const path = `/office/accounts/:id/${part.path}/new`;
    app.get<{ Params: { id: string } }>(path, async (request, reply) => {
      const ids = valuesOf(part.ids, () => options.services.newId());
      return sendForm(request, reply, options, {
        part,
        accountId: pathId(request.params.id),
        ids,
        values: part.initial,
        problem: null,
      });
    });
    app.post<{ Params: { id: string } }>(path, async (request, reply) => {
      const accountId = pathId<AccountId>(request.params.id);
      const form = formOf(request);
      const ids = valuesOf(part.ids, (name) => sentId(form, name) ?? options.services.newId());
      const sent = {
        accountId,
        text: (name: string) => form.text(name),
        asTyped: (name: string) => form.asTyped(name),
        id: (name: string) => ids[name] ?? '',
      };
      const added = await part.send(options.services, actorOf(request), sent);
      if (added.ok && added.value.joinCode !== null) {
        const { name = '', email = '' } = valuesOf(part.fields, (field) => form.text(field));
        const frame = await frameOf(request, reply, options);
        return sendPage(reply, joinCodeView({ frame, accountId, name, email, code: added.value.joinCode }));
      }
      if (added.ok) return reply.redirect(`/office/accounts/${accountId}`, 303);
      const values = valuesOf(part.fields, (name) => form.text(name));
      return sendForm(request, reply, options, { part, accountId, ids, values, problem: added.problem });
    });
  }
};

interface Shown {
  readonly part: Part;
  readonly accountId: AccountId;
  readonly ids: Values;
  readonly values: Values;
  readonly problem: Problem | null;
}

async function sendForm(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  shown: Shown,
): Promise<FastifyReply> {
  const { accountId, ...rest } = shown;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  requirePermission(frame, shown.part.permission);
  const view = unwrap(await readAccount(options.services, actor, accountId));
  const book = unwrap(await readPriceBook(options.services, actor));
  return sendPage(reply, partView({ frame, view, book, ...rest }), shown.problem?.code);
}

function sentId(form: FormValues, name: string): string | null {
  const text = form.text(name);
  return isUuid(text) ? text : null;
}

function valuesOf(names: readonly string[], value: (name: string) => string): Values {
  return Object.fromEntries(names.map((name) => [name, value(name)]));
}
