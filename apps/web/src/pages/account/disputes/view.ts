import { quietLink } from '../../../look/buttons.ts';
import type { Html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { type DisputeForm, disputeForm } from '../../billing/dispute-form.ts';

export function accountDisputeFormView(form: DisputeForm): Html {
  const { frame, invoice } = form;
  return accountPage({
    ...frame,
    title: `Dispute on ${invoice.number}`,
    heading: `What is not right on ${invoice.number}?`,
    lead: `${frame.me.business.name} answers here. What is not in dispute stays due as before.`,
    beside: quietLink({ label: 'Back to the invoice', href: `/account/invoices/${invoice.id}` }),
    current: 'invoices',
    body: disputeForm(form),
  });
}
