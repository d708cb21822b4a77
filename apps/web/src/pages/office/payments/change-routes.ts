import {
  type AccountId,
  type ApplicationId,
  type CreditMoveId,
  isUuid,
  type PaymentId,
  type RefundId,
  type Result,
  type ReturnId,
  toId,
  type UnapplicationId,
} from '@grainwright/domain';
import {
  type Actor,
  moveCredit,
  readPayment,
  refundCredit,
  refundDeposit,
  returnPayment,
  type Services,
  unapplyPayment,
} from '@grainwright/operations';
import type { FastifyPluginAsync } from 'fastify';
import { type FormValues, formOf } from '../../../plugins/forms.ts';
import { actorOf } from '../../../plugins/session.ts';
import { pathId } from '../../path-id.ts';
import type { PageOptions } from '../../person.ts';
import { type Change, changes } from './change-forms.ts';
import { sendPayment } from './payment-page.ts';

/** What a form of the payment's page sends. */
export const paymentChangePages: FastifyPluginAsync<PageOptions> = async (app, options) => {
  for (const change of changes)
    app.post<{ Params: { id: string } }>(`/office/payments/:id/${change}`, async (request, reply) => {
      const form = formOf(request);
      const paymentId = pathId<PaymentId>(request.params.id);
      const changeId = isUuid(form.text('change_id')) ? form.text('change_id') : options.services.newId();
      const done = await make[change]({
        services: options.services,
        actor: actorOf(request),
        paymentId,
        changeId,
        form,
      });
      if (done.ok) return reply.redirect(`/office/payments/${paymentId}`, 303);
      const typed = (name: string) => (name === 'change_id' ? changeId : form.text(name));
      return sendPayment(request, reply, options, {
        paymentId,
        apply: null,
        change: { change, typed, problem: done.problem },
      });
    });
};

interface Wanted {
  readonly services: Services;
  readonly actor: Actor;
  readonly paymentId: PaymentId;
  readonly changeId: string;
  readonly form: FormValues;
}

const make: Readonly<Record<Change, (wanted: Wanted) => Promise<Result<unknown>>>> = {
  return: ({ services, actor, paymentId, changeId, form }) =>
    returnPayment(services, actor, {
      returnId: toId<ReturnId>(changeId),
      paymentId,
      returnedOn: form.text('returned_on'),
      reason: form.text('reason'),
      fee: form.text('fee') === '' ? null : form.text('fee'),
    }),
  unapply: async ({ services, actor, paymentId, changeId, form }) => {
    const applicationId = form.text('application_id');
    if (!isUuid(applicationId)) return unchosen('Choose what to take it off.', 'application_id');
    return unapplyPayment(services, actor, {
      unapplicationId: toId<UnapplicationId>(changeId),
      paymentId,
      applicationId: toId<ApplicationId>(applicationId),
      reason: form.text('reason'),
      on: null,
    });
  },
  refund: async ({ services, actor, paymentId, changeId, form }) => {
    const payment = await readPayment(services, actor, paymentId);
    if (!payment.ok) return payment;
    const refund = {
      refundId: toId<RefundId>(changeId),
      amount: form.text('amount'),
      method: form.text('method'),
      reference: form.text('reference'),
      on: form.text('on'),
    };
    return payment.value.purpose === 'deposit'
      ? refundDeposit(services, actor, { ...refund, paymentId, feeKept: form.text('fee_kept') })
      : refundCredit(services, actor, { ...refund, from: { paymentId } });
  },
  move: async ({ services, actor, paymentId, changeId, form }) => {
    const to = form.text('to_account_id');
    if (!isUuid(to)) return unchosen('Choose the account that it goes to.', 'to_account_id');
    return moveCredit(services, actor, {
      moveId: toId<CreditMoveId>(changeId),
      from: { paymentId },
      toAccountId: toId<AccountId>(to),
      amount: form.text('amount'),
      on: null,
    });
  },
};

function unchosen(detail: string, field: string): Result<never> {
  return { ok: false, problem: { code: 'invalid_input', detail, field } };
}
