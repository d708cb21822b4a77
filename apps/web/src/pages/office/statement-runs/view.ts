import { allows } from '@grainwright/domain';
import { runAccountStates, type StatementRunHead, type StatementRunView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown, monthText } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, type StatusKind, statusWord } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

export interface RunPageView {
  readonly frame: Frame;
  readonly run: StatementRunView;
  /** How many mails the button just queued; null when it was not pressed. */
  readonly mailed: number | null;
}

/** Without JavaScript a page whose run is under way loads itself again after so long. */
const refreshSeconds = 3;

export function statementRunView(view: RunPageView): Html {
  const { frame, run, mailed } = view;
  return officePage({
    ...frame,
    title: `Statements of ${monthText(run.month)}`,
    heading: `Statements of ${monthText(run.month)}`,
    lead: html`Asked for by ${run.askedByName}, ${instantShown(run.askedAt, frame.me.business.timeZone)}`,
    beside: quietLink({ label: 'All statements', href: '/office/statements' }),
    current: 'statements',
    scripts: run.finished ? [] : [frame.assets.progress],
    ...(run.finished ? {} : { refreshSeconds }),
    body: html`${mailed !== null && mailedNotice(mailed)}${runProgress(view)}`,
  });
}

/** The part of the page that moves, by itself what the browser asks for again and again. */
export function runProgress({ frame, run }: Omit<RunPageView, 'mailed'>): Html {
  const address = run.finished ? null : `/office/statements/runs/${run.id}/progress`;
  return html`<section ${attributes({ 'data-progress': address, 'aria-label': 'Progress' })}>
    <p data-live="bar">${progressBar(run)}</p>
    <p role="status" data-live="counts">${countWords(run)}</p>
    <div data-live="next">${nextSteps(frame, run)}</div>
    <div data-live="accounts">${accountsTable(run)}</div>
  </section>`;
}

function progressBar({ accountsTotal, counts }: StatementRunHead): Html {
  const done = accountsTotal - counts.waiting;
  return html`<progress ${attributes({ max: Math.max(1, accountsTotal), value: accountsTotal === 0 ? 1 : done, 'aria-label': 'Accounts done' })}></progress>`;
}

/** “20 of 300 accounts done: 18 issued, 1 nothing to tell, 1 not issued”. */
export function countWords({ accountsTotal, counts }: StatementRunHead): string {
  const parts = (['issued', 'issued_before', 'nothing_to_tell', 'failed'] as const)
    .filter((state) => counts[state] > 0)
    .map((state) => `${counts[state]} ${runAccountStates[state]}`);
  const accounts = accountsTotal === 1 ? '1 account' : `${accountsTotal} accounts`;
  const done = `${accountsTotal - counts.waiting} of ${accounts} done`;
  return parts.length === 0 ? done : `${done}: ${parts.join(', ')}`;
}

function nextSteps(frame: Frame, run: StatementRunView): Html | false {
  if (!allows(frame.me.role, 'issue_statement')) return false;
  if (!run.finished) return goOnForm(frame, run);
  const issued = run.counts.issued + run.counts.issued_before;
  if (issued === 0) return false;
  if (run.mailed >= issued)
    return html`<p>All of them have been mailed; see the <a href="/office/mailbox">mailbox</a>.</p>`;
  const left = issued - run.mailed;
  return html`<form method="post" action="/office/statements/runs/${run.id}/mail" data-sending="Queuing…">
    ${hiddenCsrf(frame.csrfToken)}
    ${actionButton({ label: left === 1 ? 'Mail the statement' : `Mail ${left} statements` })}
  </form>`;
}

/** For a run whose worker was stopped: asking again has it gone on with, and issues nothing twice. */
function goOnForm(frame: Frame, run: StatementRunView): Html {
  const ids = run.allAccounts ? [] : run.accounts.map((each) => each.accountId);
  return html`<form method="post" action="/office/statements/runs">
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('run_id', run.id)}
    ${hiddenField('month', run.month)}
    ${ids.map((id) => hiddenField('account_ids', id))}
    <div class="buttons">
      ${quietLink({ label: 'Look again', href: `/office/statements/runs/${run.id}` })}
      ${quietButton({ label: 'It stands still: go on' })}
    </div>
  </form>`;
}

const stateKinds: Readonly<Record<keyof typeof runAccountStates, StatusKind>> = {
  waiting: 'waiting',
  issued: 'settled',
  issued_before: 'settled',
  nothing_to_tell: 'stopped',
  failed: 'problem',
};

type Row = StatementRunView['accounts'][number];

/** What failed comes first: it wants somebody. */
function accountsTable({ accounts, month }: StatementRunView): Html {
  const failed = accounts.filter((row) => row.state === 'failed');
  const others = accounts.filter((row) => row.state !== 'failed');
  const sheet = (row: Row) => `/office/accounts/${row.accountId}/statements/${month}`;
  return dataTable({
    caption: `Accounts in the run of ${monthText(month)}`,
    captionHidden: true,
    columns: [
      {
        header: 'Account',
        names: true,
        cell: (row) => html`<a href="/office/accounts/${row.accountId}">${row.accountName}</a>`,
      },
      { header: 'Short name', cell: (row) => row.shortName },
      {
        header: 'Statement',
        cell: (row) =>
          html`${statusWord(stateKinds[row.state], runAccountStates[row.state])}${row.problem !== '' && html`<br>${row.problem}`}`,
      },
      {
        header: 'Look at it',
        cell: (row) =>
          row.statementId !== null &&
          html`<a href="${sheet(row)}">Statement</a>, <a href="${`${sheet(row)}.pdf`}">PDF</a>`,
      },
      { header: 'Mailed', cell: (row) => row.mailed && statusWord('settled', 'mailed') },
    ],
    rows: [...failed, ...others],
    empty: emptyState(
      'No accounts',
      'No account gets statements by its terms, or none was there in that month.',
    ),
  });
}

function mailedNotice(count: number): Html {
  if (count === 0)
    return notice(
      'problem',
      'Nothing was mailed',
      'The accounts left have no address for statements and no payer with an e-mail address. Write one on the account.',
    );
  return notice(
    'done',
    count === 1 ? 'One mail is on its way' : `${count} mails are on their way`,
    html`See the <a href="/office/mailbox">mailbox</a>.`,
  );
}
