import { allows } from '@grainwright/domain';
import type { AccountList, AccountListRow, HandedInView } from '@grainwright/operations';
import { actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayText } from '../../../look/figures.ts';
import { checkboxField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice, statusWord } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { kindWords, statementWords, termsWords } from '../account-words.ts';

export interface AccountsView {
  readonly frame: Frame;
  readonly list: AccountList;
  readonly search: string;
  readonly withEnded: boolean;
  /** Whether this is not the first page of the list. */
  readonly isLater: boolean;
  /** Certificates that accounts handed in and nobody has checked. */
  readonly toCheck: readonly HandedInView[];
}

export function accountsView(view: AccountsView): Html {
  const { frame, list } = view;
  const mayAdd = allows(frame.me.role, 'change_accounts');
  const add = mayAdd ? actionLink({ label: 'Add an account', href: '/office/accounts/new' }) : null;
  return officePage({
    ...frame,
    title: 'Accounts',
    heading: 'Accounts',
    lead: 'Who the business works for, and on what terms.',
    beside: add,
    current: 'accounts',
    body: html`${mayAdd && view.toCheck.length > 0 && certificatesToCheck(view.toCheck)}
      ${filters(view)}
      ${dataTable({
        caption: 'Accounts',
        captionHidden: true,
        columns: [
          { header: 'Account', names: true, cell: nameCell },
          { header: 'Short', cell: (row) => html`<span class="code">${row.shortName}</span>` },
          { header: 'Kind', cell: (row) => kindWords[row.kind] },
          { header: 'Tier', cell: (row) => row.tierName },
          { header: 'Tax area', cell: (row) => row.taxAreaCode },
          { header: 'Terms', cell: (row) => termsWords(row.termsDays) },
          { header: 'Statement', cell: (row) => statementWords[row.statementKind] },
        ],
        rows: list.accounts,
        empty: nothing(view, add),
      })}
      ${pages(view)}`,
  });
}

function certificatesToCheck(rows: readonly HandedInView[]): Html {
  return notice(
    'info',
    'Certificates to check',
    html`<ul>${rows.map(
      (each) =>
        html`<li><a href="/office/handed-in/${each.id}">${each.number}</a> of ${each.accountName}, handed in by ${each.handedInBy}</li>`,
    )}</ul>`,
  );
}

function nameCell(row: AccountListRow): Html {
  return html`<a class="long-name" href="/office/accounts/${row.id}">${row.name}</a>
    ${row.endedOn && html`<br>${statusWord('stopped', `Ends ${dayText(row.endedOn)}`)}`}`;
}

function filters({ search, withEnded }: AccountsView): Html {
  return html`<form class="filters" method="get" action="/office/accounts" role="search">
    ${textField({ name: 'search', label: 'Name or short name', type: 'search', value: search, maxLength: 100 })}
    ${checkboxField({ name: 'ended', label: 'Show closed accounts', checked: withEnded })}
    ${quietButton({ label: 'Show' })}
  </form>`;
}

function nothing({ search, isLater }: AccountsView, add: Html | null): Html {
  if (search !== '')
    return emptyState(
      'No account found',
      `No account’s name or short name has “${search}” in it.`,
      quietLink({ label: 'Show all', href: '/office/accounts' }),
    );
  if (isLater) return emptyState('No more accounts', 'This is the end of the list.');
  return emptyState(
    'No account yet',
    'An account says who pays, at which prices, and what has to be signed. Add the first one.',
    add ?? undefined,
  );
}

function pages({ list, search, withEnded, isLater }: AccountsView): Html | false {
  if (list.next === null && !isLater) return false;
  const kept = new URLSearchParams({
    ...(search === '' ? {} : { search }),
    ...(withEnded ? { ended: 'yes' } : {}),
  });
  const later = new URLSearchParams(kept);
  if (list.next !== null) later.set('after', list.next);
  return html`<nav class="buttons" aria-label="Pages of the list">
    ${isLater && quietLink({ label: 'To the start', href: `/office/accounts?${kept}` })}
    ${list.next !== null && quietLink({ label: 'More accounts', href: `/office/accounts?${later}` })}
  </nav>`;
}
