import { allows, type Problem } from '@grainwright/domain';
import { deletionWords, type MailList, type MailView, mailStates } from '@grainwright/operations';
import { actionButton, quietLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { hiddenCsrf } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, type StatusKind, statusWord } from '../../../look/notices.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';

export function mailboxView({ frame, list }: { readonly frame: Frame; readonly list: MailList }): Html {
  const { timeZone } = frame.me.business;
  return officePage({
    ...frame,
    title: 'Mailbox',
    heading: 'Mailbox',
    lead: 'Mail that went out, latest first. Where no mail server is named, it is kept here to be read.',
    beside: quietLink({ label: 'Statements', href: '/office/statements' }),
    current: 'mailbox',
    body: html`${dataTable({
      caption: 'Mail, latest first',
      captionHidden: true,
      columns: [
        {
          header: 'Subject',
          names: true,
          cell: (row) => html`<a href="/office/mailbox/${row.id}">${row.subjectLine}</a>`,
        },
        { header: 'Account', cell: (row) => row.accountName },
        { header: 'To', cell: (row) => row.recipients.join(', ') },
        { header: 'Written', cell: (row) => instantShown(row.queuedAt, timeZone) },
        { header: 'Where it is', cell: (row) => stateWord(row.state) },
      ],
      rows: list.rows,
      empty: emptyState('No mail yet', 'Statements that are mailed show up here.'),
    })}
    ${list.next !== null && html`<nav class="buttons" aria-label="Pages of the list">${quietLink({ label: 'Older mail', href: `/office/mailbox?before=${list.next}` })}</nav>`}`,
  });
}

export interface OneMailView {
  readonly frame: Frame;
  readonly mail: MailView;
  readonly problem: Problem | null;
}

/** The mail as its reader gets it. */
export function mailView({ frame, mail, problem }: OneMailView): Html {
  const mayResend = mail.state !== 'sent' && allows(frame.me.role, 'issue_statement');
  return officePage({
    ...frame,
    title: mail.subjectLine,
    heading: mail.subjectLine,
    lead: stateWord(mail.state),
    beside: [mayResend && resendForm(frame, mail), quietLink({ label: 'All mail', href: '/office/mailbox' })],
    current: 'mailbox',
    body: html`${problem && notice('problem', 'That was not done', problem.detail)}
      ${mail.state === 'kept' && notice('info', 'Kept here', 'No mail server is named, so it went to nobody. This is how it would have looked.')}
      ${mail.problem !== '' && notice('problem', 'What the mail server said', mail.problem)}
      <article class="sheet">
        ${definitionList([
          { term: 'From', value: mail.senderName },
          ...(mail.replyTo === '' ? [] : [{ term: 'Answers go to', value: mail.replyTo }]),
          { term: 'To', value: mail.recipients.join(', ') },
          { term: 'Written', value: instantShown(mail.queuedAt, frame.me.business.timeZone) },
          ...(mail.attachments.length === 0 ? [] : [{ term: 'Attached', value: attachments(mail) }]),
        ])}
        ${mail.deletion === null ? paragraphs(mail.body) : html`<p>What it said was ${deletionWords('mails', mail.deletion)}.</p>`}
      </article>`,
  });
}

function attachments({ id, attachments }: MailView): Html {
  return html`${attachments.map(({ position, fileName }) => html`<a href="/office/mailbox/${id}/attachments/${position}">${fileName}</a> `)}`;
}

function paragraphs(text: string): readonly Html[] {
  return text
    .trim()
    .split(/\n\s*\n/)
    .map(
      (part) =>
        html`<p>${part.split('\n').map((line, index) => html`${index > 0 && html`<br>`}${line}`)}</p>`,
    );
}

function resendForm(frame: Frame, { id }: MailView): Html {
  return html`<form method="post" action="/office/mailbox/${id}/resend">
    ${hiddenCsrf(frame.csrfToken)}
    ${actionButton({ label: 'Try again' })}
  </form>`;
}

const stateKinds: Readonly<Record<keyof typeof mailStates, StatusKind>> = {
  queued: 'waiting',
  sent: 'settled',
  kept: 'stopped',
  failed: 'problem',
};

function stateWord(state: keyof typeof mailStates): Html {
  return statusWord(stateKinds[state], mailStates[state]);
}
