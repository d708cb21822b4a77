import { allows, type Month, type Problem } from '@grainwright/domain';
import type { MonthCheck, MonthCloseView } from '@grainwright/operations';
import { actionButton, quietButton } from '../../../look/buttons.ts';
import { columns } from '../../../look/field-group.ts';
import { dayText, instantShown, monthText } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, textArea } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export interface MonthClosePage {
  readonly frame: Frame;
  readonly view: MonthCloseView;
  /** Of the form; made anew for each page and kept when it comes back. */
  readonly closingId: string;
  readonly reason: string;
  readonly problem: Problem | null;
}

export function monthClosePage(page: MonthClosePage): Html {
  const { frame, view, problem } = page;
  const { summary } = problemsOf(problem, ['reason']);
  return officePage({
    ...frame,
    title: `Close of ${monthText(view.month)}`,
    heading: monthText(view.month),
    lead: html`${view.closed ? statusWord('settled', 'Closed') : statusWord('waiting', 'Open')} ${dayText(view.from)} to ${dayText(view.to)}. Nothing can be posted that is dated in a closed month; corrections go into an open one.`,
    current: 'month-close',
    body: html`${errorSummary(summary)}
      ${view.closed ? reopening(page) : closing(page)}
      ${checksTable(view)}
      ${columns([monthsTable(view), trailTable(page)])}`,
  });
}

function closing({ frame, view, closingId }: MonthClosePage): Html | false {
  if (view.notYet !== null) return notice('info', 'It can’t be closed yet', view.notYet);
  if (!allows(frame.me.role, 'close_month')) return false;
  const open = view.checks.filter((check) => !check.holds).length;
  return html`<form method="post" action="/office/month-close/${view.month}/close">
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', closingId)}
    ${open > 0 && html`<p>${open === 1 ? 'One thing below is' : `${open} things below are`} not ticked. They may stay as they are.</p>`}
    ${actionButton({ label: `Close ${monthText(view.month)}` })}
  </form>`;
}

function reopening({ frame, view, closingId, reason, problem }: MonthClosePage): Html {
  if (view.notOpened !== null) return html`<p class="hint">${view.notOpened}</p>`;
  if (!allows(frame.me.role, 'reopen_month'))
    return html`<p class="hint">Only the owner of the business opens a closed month again.</p>`;
  return html`<details ${attributes({ open: problem !== null })}><summary>Open it again</summary>
    <form method="post" action="/office/month-close/${view.month}/reopen">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', closingId)}
      ${textArea({ name: 'reason', label: 'Why', required: true, value: reason, error: problemsOf(problem, ['reason']).errorOf('reason'), hint: 'It stays on record, with your name.' })}
      ${quietButton({ label: `Open ${monthText(view.month)} again` })}
    </form></details>`;
}

const checkNames: Readonly<Record<MonthCheck['name'], string>> = {
  ledger: 'Ledger',
  aging: 'Aging and ledger',
  sales_tax: 'Sales tax and ledger',
  unassigned_receipts: 'Receipts without a payer',
  to_invoice: 'Work to invoice',
  statements: 'Statements',
  unapplied_credit: 'Account credit',
  disputed: 'Disputes',
};

function checkLink({ name }: MonthCheck, month: Month, view: MonthCloseView): string {
  switch (name) {
    case 'aging':
    case 'unapplied_credit':
      return `/office/aging?as_of=${view.to}`;
    case 'disputed':
      return '/office/disputes';
    case 'sales_tax':
      return `/office/sales-tax?from=${view.from}&to=${view.to}`;
    case 'statements':
      return `/office/statements?month=${month}`;
    case 'to_invoice':
      return '/office/invoices/ready';
    case 'ledger':
      return `/office/month-close/${month}/ledger.csv`;
    case 'unassigned_receipts':
      return '/office/parked-receipts';
  }
}

function checksTable(view: MonthCloseView): Html {
  return dataTable({
    caption: `Checks as of ${dayText(view.to)}`,
    columns: [
      {
        header: 'Check',
        names: true,
        cell: (check) => html`<a href="${checkLink(check, view.month, view)}">${checkNames[check.name]}</a>`,
      },
      { header: 'Stands', cell: standsWord },
      { header: 'What was found', cell: (check) => check.words },
    ],
    rows: view.checks,
    empty: emptyState('No checks', 'There is nothing to look at.'),
  });
}

function standsWord({ holds, weight }: MonthCheck): Html {
  if (holds) return statusWord('settled', 'Done');
  return weight === 'must_hold'
    ? statusWord('problem', 'Must be put right')
    : statusWord('waiting', 'To look at');
}

function monthsTable(view: MonthCloseView): Html {
  return dataTable({
    caption: 'Months',
    columns: [
      {
        header: 'Month',
        names: true,
        cell: (each) => html`<a href="/office/month-close?month=${each.month}">${monthText(each.month)}</a>`,
      },
      { header: 'Postings', figure: true, cell: (each) => String(each.postings) },
      {
        header: 'Books',
        cell: (each) => (each.closed ? statusWord('settled', 'Closed') : statusWord('waiting', 'Open')),
      },
      {
        header: 'Ledger',
        cell: (each) => html`<a href="/office/month-close/${each.month}/ledger.csv">CSV</a>`,
      },
    ],
    rows: view.months,
    empty: emptyState('Nothing posted yet', 'A month shows up here with its first posting.'),
  });
}

function trailTable({ frame, view }: MonthClosePage): Html {
  return dataTable({
    caption: 'What was closed and opened',
    columns: [
      { header: 'When', names: true, cell: (each) => instantShown(each.doneAt, frame.me.business.timeZone) },
      { header: 'Month', cell: (each) => monthText(each.month) },
      { header: 'What', cell: (each) => (each.action === 'closed' ? 'closed' : 'opened again') },
      { header: 'By', cell: (each) => each.doneByName },
      { header: 'Why', cell: (each) => each.reason },
    ],
    rows: view.trail,
    empty: emptyState('No month was closed yet', 'Who closes or opens a month, and when, stays here.'),
  });
}
