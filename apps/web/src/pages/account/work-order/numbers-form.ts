import {
  allows,
  type DemandedNumber,
  type GivenNumbers,
  ownNumberKinds,
  type Problem,
  type Role,
  takesNumbers,
} from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { actionButton } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';

/** The numbers form: what was typed, and what is wrong with it. */
export interface NumbersTyped {
  readonly typed: GivenNumbers;
  readonly problem: Problem | null;
}

export const noNumbersTyped: NumbersTyped = {
  typed: { ownNumber: '', roNumber: '', poNumber: '' },
  problem: null,
};

/** Whose form it is, and where it goes. */
export interface NumbersAsker {
  readonly role: Role;
  readonly action: string;
  /** Null where the address itself is the secret. */
  readonly csrfToken: string | null;
  /** The account’s orders that may be named, with what is left of each. */
  readonly ordersHint?: string | undefined;
}

/**
 * Asks for the numbers that the account wants on its invoice and has not given yet; where none is missing any more,
 * only why what was sent was not taken.
 */
export function numbersForm(asker: NumbersAsker, view: WorkOrderView, numbers: NumbersTyped): Html | null {
  const asked = view.missingNumbers.length > 0 && takesNumbers(view.state);
  if (!asked || !allows(asker.role, 'give_numbers'))
    return numbers.problem && notice('problem', 'Not sent', numbers.problem.detail);
  const { summary, errorOf } = problemsOf(numbers.problem, ['own_number', 'ro_number', 'po_number']);
  return html`<section class="unprinted"><h2>Numbers we need from you</h2>
    <p>Your invoice has to show them. What you send here stays; ask us to change it.</p>
    <form method="post" action="${asker.action}">
      ${errorSummary(summary)}
      ${asker.csrfToken !== null && hiddenCsrf(asker.csrfToken)}
      ${view.missingNumbers.map((kind) => {
        const { name, label, value } = fieldOf(kind, numbers.typed);
        return textField({
          name,
          label,
          value,
          code: true,
          autocomplete: 'off',
          error: errorOf(name),
          ...(kind === 'purchase_order' && asker.ordersHint !== undefined ? { hint: asker.ordersHint } : {}),
        });
      })}
      <div class="buttons">${actionButton({ label: 'Send the numbers' })}</div>
    </form></section>`;
}

/** The field that asks for a number, as the form of one work order names it. */
export function fieldOf(kind: DemandedNumber, typed: GivenNumbers) {
  switch (kind) {
    case 'repair_order':
      return { name: 'ro_number', label: 'Repair order (RO) number', value: typed.roNumber };
    case 'purchase_order':
      return { name: 'po_number', label: 'Purchase order (PO) number', value: typed.poNumber };
    default: {
      const words = ownNumberKinds[kind];
      const label = `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
      return { name: 'own_number', label, value: typed.ownNumber };
    }
  }
}
