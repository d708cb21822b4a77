import { allows, type Month, type Problem } from '@grainwright/domain';
import type { StatementList, StatementRunList, StatementView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown, monthText } from '../../../look/figures.ts';
import { type Choice, hiddenCsrf, hiddenField, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { logoAddress } from '../../billing/logo-address.ts';
import { statementMonths } from '../../billing/statement-months.ts';
import { statementSheet } from '../../billing/statement-sheet.ts';
import type { Frame } from '../../person.ts';
import { countWords } from '../statement-runs/view.ts';

export interface StatementsView {
  readonly frame: Frame;
  readonly accounts: readonly Choice[];
  readonly months: readonly Month[];
  /** Of the account chosen; null before one is. */
  readonly list: StatementList | null;
  readonly runs: StatementRunList;
  /** The form that issues a month, as it was sent or as it is offered. */
  readonly issuing: { readonly problem: Problem | null; readonly runId: string; readonly month: string };
}

export function officeStatementsView(view: StatementsView): Html {
  const { frame, accounts, months, list } = view;
  return officePage({
    ...frame,
    title: 'Statements',
    heading: 'Statements',
    lead: list === null ? 'Choose an account; with a month, its statement opens at once.' : list.account.name,
    beside: quietLink({ label: 'Mailbox', href: '/office/mailbox' }),
    current: 'statements',
    body: html`<form class="filters" method="get" action="/office/statements">
        ${selectField({ name: 'account', label: 'Account', required: true, value: list?.account.id, empty: 'Choose an account', choices: accounts })}
        ${selectField({ name: 'month', id: 'of-month', label: 'Month', empty: 'All months', choices: monthChoices(months) })}
        ${quietButton({ label: 'Show' })}
      </form>
      ${list === null ? issuingPart(view) : statementMonths(list, `/office/accounts/${list.account.id}/statements`)}`,
  });
}

function monthChoices(months: readonly Month[]): readonly Choice[] {
  return months.map((month) => ({ value: month, label: monthText(month) }));
}

function issuingPart(view: StatementsView): Html {
  const { frame, months, runs, issuing } = view;
  const { problem, runId, month } = issuing;
  const over = months.slice(1);
  const mayIssue = allows(frame.me.role, 'issue_statement');
  const form = html`<form class="filters" method="post" action="/office/statements/runs" data-sending="Asking for them…">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('run_id', runId)}
      ${selectField({ name: 'month', label: 'Month', required: true, value: month, error: problem?.field === 'month' ? problem.detail : undefined, choices: monthChoices(over) })}
      ${actionButton({ label: 'Issue the statements of all accounts' })}
    </form>
    <p>A statement that was issued stays as it is. What is dated back afterwards is told in the next one.</p>`;
  return html`<section aria-labelledby="issuing"><h2 id="issuing">Issue a month</h2>
    ${problem && problem.field !== 'month' && notice('problem', 'Nothing was asked for', problem.detail)}
    ${mayIssue && form}
    ${runsTable(frame, runs)}
  </section>`;
}

function runsTable(frame: Frame, { rows, next }: StatementRunList): Html {
  return html`${dataTable({
    caption: 'Months that were issued, latest first',
    columns: [
      {
        header: 'Month',
        names: true,
        cell: (row) => html`<a href="/office/statements/runs/${row.id}">${monthText(row.month)}</a>`,
      },
      { header: 'For', cell: (row) => (row.allAccounts ? 'All accounts' : 'Chosen accounts') },
      { header: 'Asked for', cell: (row) => instantShown(row.askedAt, frame.me.business.timeZone) },
      { header: 'By', cell: (row) => row.askedByName },
      { header: 'How it went', cell: countWords },
    ],
    rows,
    empty: emptyState('No month was issued yet', 'Once a month is over, its statements can be issued here.'),
  })}
  ${next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Earlier runs', href: `/office/statements?before=${next}` })}</nav>`}`;
}

export interface OneStatementView {
  readonly frame: Frame;
  readonly statement: StatementView;
  /** For the form that issues it or mails it: pressing twice does it once. */
  readonly newId: string;
  /** The service’s address, as the sheet prints it. */
  readonly publicUrl: string;
  readonly problem: Problem | null;
  readonly mailed: boolean;
}

export function officeStatementView(view: OneStatementView): Html {
  const { frame, statement, problem, mailed } = view;
  const { account, month, frozen } = statement;
  const base = `/office/accounts/${account.id}/statements/${month}`;
  return officePage({
    ...frame,
    title: `Statement of ${monthText(month)}`,
    heading: account.name,
    lead: `Statement of ${monthText(month)}`,
    beside: [
      allows(frame.me.role, 'issue_statement') && nextStep(view, base),
      frozen !== null && quietLink({ label: 'As PDF', href: `${base}.pdf` }),
      quietLink({ label: 'As CSV', href: `${base}.csv` }),
      frozen !== null && quietLink({ label: 'Who did what', href: `${base}/trail` }),
      quietLink({ label: 'Other months', href: `/office/statements?account=${account.id}` }),
    ],
    current: 'statements',
    body: html`${problem && notice('problem', 'That was not done', problem.detail)}
      ${mailed && notice('done', 'The statement is on its way', html`See the <a href="/office/mailbox">mailbox</a>.`)}
      ${statementSheet(statement, { invoices: '/office/invoices', publicUrl: view.publicUrl, timeZone: frame.me.business.timeZone, logo: logoAddress(frame.me.business) })}`,
  });
}

/** Issued, it can be mailed; a month that is over can be issued; one that runs can only be looked at. */
function nextStep({ frame, statement, newId }: OneStatementView, base: string): Html | false {
  const { account, month, frozen } = statement;
  if (frozen !== null)
    return html`<form method="post" action="${`${base}/mail`}" data-sending="Queuing…">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('mail_id', newId)}
      ${quietButton({ label: 'Mail it' })}
    </form>`;
  if (!isOver(month, frame)) return false;
  return html`<form method="post" action="/office/statements/runs" data-sending="Asking for it…">
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('run_id', newId)}${hiddenField('month', month)}
    ${hiddenField('account_ids', account.id)}
    ${actionButton({ label: 'Issue it' })}
  </form>`;
}

function isOver(month: Month, { me }: Frame): boolean {
  return month < me.today.slice(0, month.length);
}
