import type { StatementList, StatementView } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { monthText } from '../../../look/figures.ts';
import type { Html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { logoAddress } from '../../billing/logo-address.ts';
import { statementMonths } from '../../billing/statement-months.ts';
import { statementSheet } from '../../billing/statement-sheet.ts';
import type { Frame } from '../../person.ts';

export function accountStatementsView({
  frame,
  list,
}: {
  readonly frame: Frame;
  readonly list: StatementList;
}): Html {
  return accountPage({
    ...frame,
    title: 'Statements',
    heading: 'Statements',
    lead: `What ${frame.me.business.name} charged and received, month by month.`,
    current: 'statements',
    body: statementMonths(list, '/account/statements'),
  });
}

export function accountStatementView({
  frame,
  statement,
  publicUrl,
}: {
  readonly frame: Frame;
  readonly statement: StatementView;
  readonly publicUrl: string;
}): Html {
  const { month, frozen } = statement;
  return accountPage({
    ...frame,
    title: `Statement of ${monthText(month)}`,
    heading: `Statement of ${monthText(month)}`,
    beside: [
      frozen !== null && quietLink({ label: 'As PDF', href: `/account/statements/${month}.pdf` }),
      quietLink({ label: 'As CSV', href: `/account/statements/${month}.csv` }),
      frozen !== null && quietLink({ label: 'Who did what', href: `/account/statements/${month}/trail` }),
      quietLink({ label: 'Other months', href: '/account/statements' }),
    ],
    current: 'statements',
    body: statementSheet(statement, {
      invoices: '/account/invoices',
      publicUrl,
      seals: '/account/seals',
      timeZone: frame.me.business.timeZone,
      logo: logoAddress(frame.me.business),
    }),
  });
}
