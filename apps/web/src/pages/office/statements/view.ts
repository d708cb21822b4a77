import type { Month } from '@grainwright/domain';
import type { StatementList, StatementView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { monthText } from '../../../look/figures.ts';
import { type Choice, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { statementMonths } from '../../billing/statement-months.ts';
import { statementSheet } from '../../billing/statement-sheet.ts';
import type { Frame } from '../../person.ts';

export interface StatementsView {
  readonly frame: Frame;
  readonly accounts: readonly Choice[];
  readonly months: readonly Month[];
  /** Of the account chosen; null before one is. */
  readonly list: StatementList | null;
}

export function officeStatementsView({ frame, accounts, months, list }: StatementsView): Html {
  return officePage({
    ...frame,
    title: 'Statements',
    heading: 'Statements',
    lead: list === null ? 'Choose an account; with a month, its statement opens at once.' : list.account.name,
    current: 'statements',
    body: html`<form class="filters" method="get" action="/office/statements">
        ${selectField({ name: 'account', label: 'Account', required: true, value: list?.account.id, empty: 'Choose an account', choices: accounts })}
        ${selectField({ name: 'month', label: 'Month', empty: 'All months', choices: months.map((month) => ({ value: month, label: monthText(month) })) })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${list && statementMonths(list, `/office/accounts/${list.account.id}/statements`)}`,
  });
}

export function officeStatementView({
  frame,
  statement,
}: {
  readonly frame: Frame;
  readonly statement: StatementView;
}): Html {
  const { account, month } = statement;
  return officePage({
    ...frame,
    title: `Statement of ${monthText(month)}`,
    heading: account.name,
    lead: `Statement of ${monthText(month)}`,
    beside: [
      quietLink({ label: 'As CSV', href: `/office/accounts/${account.id}/statements/${month}.csv` }),
      quietLink({ label: 'Other months', href: `/office/statements?account=${account.id}` }),
    ],
    current: 'statements',
    body: statementSheet(statement, '/office/invoices'),
  });
}
