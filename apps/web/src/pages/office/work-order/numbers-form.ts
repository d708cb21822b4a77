import { allows, ownNumberKinds, purchaseOrderCounts, takesNumbers } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { problemsOf } from '../../form-problems.ts';
import type { OfficeWorkOrderPage } from './view.ts';

/** The account's own numbers as typed. */
export interface NumbersTyped {
  readonly ownNumber: string;
  readonly roNumber: string;
  readonly poNumber: string;
}

export function numbersOnRecord({ numbers }: WorkOrderView): NumbersTyped {
  return { ownNumber: numbers.own, roNumber: numbers.ro, poNumber: numbers.po };
}

/**
 * RO, PO and the account's own number, which often come late: none once it is invoiced, after acceptance those missing
 * and a PO that does not count on the day of the work.
 */
export function numbersForm({ frame, view, numbers }: OfficeWorkOrderPage): Html | null {
  if (!takesNumbers(view.state) || !allows(frame.me.role, 'give_numbers')) return null;
  const problems = problemsOf(numbers.problem, ['own_number', 'ro_number', 'po_number']);
  const { ownKind, own, ro, po } = view.numbers;
  const changeable = (known: string) => view.state !== 'accepted' || known === '';
  const counts = view.purchaseOrder === null || purchaseOrderCounts(view.purchaseOrder, [view.visit.day]).ok;
  const knownPo = counts ? po : '';
  if (![ownKind === null ? 'none' : own, ro, knownPo].some(changeable)) return null;
  const code = (name: string, label: string, known: string, value: string) =>
    changeable(known) &&
    textField({
      name,
      label,
      value,
      code: true,
      autocomplete: 'off',
      error: problems.errorOf(name),
    });
  return html`<section class="unprinted" id="numbers"><h2>The account’s numbers</h2>
    <form method="post" action="/office/work-orders/${view.id}/numbers">
      ${errorSummary(problems.summary)}
      ${hiddenCsrf(frame.csrfToken)}
      ${ownKind !== null && code('own_number', capital(ownNumberKinds[ownKind]), own, numbers.typed.ownNumber)}
      ${code('ro_number', 'Repair order (RO) number', ro, numbers.typed.roNumber)}
      ${code('po_number', 'Purchase order (PO) number', knownPo, numbers.typed.poNumber)}
      <div class="buttons">${quietButton({ label: 'Keep these numbers' })}</div>
    </form></section>`;
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
