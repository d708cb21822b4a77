import { allows, type InvoiceId, type PaymentId, type Problem } from '@grainwright/domain';
import { readPayment, readPaymentEntry } from '@grainwright/operations';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { unwrap } from '../../../plugins/problem-error.ts';
import { actorOf } from '../../../plugins/session.ts';
import { frameOf, type PageOptions } from '../../person.ts';
import { queryId } from '../../query-id.ts';
import { sendPage } from '../../send-page.ts';
import { applyForm } from './apply-form.ts';
import { type ChangeForms, changeForms } from './change-forms.ts';
import type { Typed } from './entry-form.ts';
import { paymentView } from './payment-view.ts';

export interface ShownPayment {
  readonly paymentId: PaymentId;
  /** The form that applies the rest, as it came back; null where it did not. */
  readonly apply: {
    readonly applicationId: string;
    readonly typed: Typed;
    readonly problem: Problem;
  } | null;
  /** As it came back, likewise. */
  readonly change: ChangeForms['sent'];
}

/** A payment with the forms for what can be done with it. */
export async function sendPayment(
  request: FastifyRequest,
  reply: FastifyReply,
  options: PageOptions,
  { paymentId, apply, change }: ShownPayment,
): Promise<FastifyReply> {
  const { services } = options;
  const actor = actorOf(request);
  const frame = await frameOf(request, reply, options);
  const payment = unwrap(await readPayment(services, actor, paymentId));
  const query = new URL(request.url, 'http://here').searchParams;
  const past = queryId<InvoiceId>(query.get('past'));
  const entry = unwrap(await readPaymentEntry(services, actor, { accountId: payment.accountId, past }));
  const may = allows(frame.me.role, 'record_payment');
  const form =
    may && payment.unappliedMinor > 0n
      ? applyForm({
          csrfToken: frame.csrfToken,
          paymentId,
          applicationId: apply?.applicationId ?? services.newId(),
          entry,
          past,
          typed: apply?.typed ?? (() => ''),
          problem: apply?.problem ?? null,
        })
      : null;
  const forms = may ? changeForms({ frame, payment, entry, newId: services.newId, sent: change }) : [];
  const shortPay = query.get('note') === 'short-pay';
  const page = paymentView({ frame, payment, apply: form, forms, shortPay });
  return sendPage(reply, page, (apply ?? change)?.problem.code);
}
