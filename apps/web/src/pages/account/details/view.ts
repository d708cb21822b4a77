import { allows, type PersonId, type Problem } from '@grainwright/domain';
import type { HandedInView, OwnAccountView } from '@grainwright/operations';
import { actionLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown, dayText, instantShown, money } from '../../../look/figures.ts';
import { hiddenCsrf, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { statusWord } from '../../../look/notices.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import { delegationTable, isTheirs } from '../../delegations/delegation-table.ts';
import { problemsOf } from '../../form-problems.ts';
import {
  certificateWords,
  invoiceWords,
  roleWords,
  statementWords,
  termsWords,
} from '../../office/account-words.ts';
import type { Frame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';

export interface DetailsPage {
  readonly frame: Frame;
  readonly view: OwnAccountView;
  /** Who looks. */
  readonly personId: PersonId;
  /** When reminders are sent, as it was typed and not taken. */
  readonly refused: { readonly typed: string; readonly problem: Problem } | null;
}

/** What an account’s own people see of it. What is not right here, the business changes. */
export function detailsView(page: DetailsPage): Html {
  const { frame, view, personId } = page;
  const { business, accountName } = frame.me;
  return accountPage({
    ...frame,
    title: 'Account',
    heading: accountName ?? 'Account',
    lead: `With ${business.name} since ${dayText(view.account.openedOn)}. Ask them to change what is not right.`,
    beside: quietLink({ label: 'What you agreed to beforehand', href: '/account/agreement' }),
    current: 'account',
    body: html`${people(view)}${away(frame, view, personId)}${reminders(page)}${certificates(frame, view)}${terms(view)}${sites(view)}`,
  });
}

function people({ people: rows, currency }: OwnAccountView): Html {
  return html`<section><h2>Who may do what</h2>${dataTable({
    caption: 'Who may do what',
    captionHidden: true,
    columns: [
      { header: 'Name', names: true, cell: (each) => html`<span class="long-name">${each.name}</span>` },
      { header: 'Role', cell: (each) => roleWords[each.role] },
      { header: 'Approves up to', figure: true, cell: (each) => limitWords(each, currency) },
      {
        header: 'Access',
        cell: (each) =>
          each.hasEnded && each.endedOn !== null
            ? statusWord('stopped', `ended ${dayText(each.endedOn)}`)
            : 'yes',
      },
    ],
    rows,
    empty: emptyState('Nobody yet', 'The business adds people.'),
  })}</section>`;
}

function away(frame: Frame, view: OwnAccountView, personId: PersonId): Html {
  const add =
    frame.me.role === 'approver' &&
    actionLink({ label: 'Let somebody answer for you', href: '/account/delegations/new' });
  return html`<section id="away"><h2>While you are away</h2>
    ${delegationTable({
      frame,
      delegations: view.delegations,
      currency: view.currency,
      base: '/account/delegations',
      mayEnd: (delegation) => isTheirs(delegation, personId),
    })}
    ${add}</section>`;
}

function reminders({ frame, view, refused }: DetailsPage): Html {
  const { remindAfterHours } = view.account;
  const chosen = remindAfterHours === null ? '' : String(remindAfterHours);
  const now =
    remindAfterHours === null
      ? 'Nobody is reminded of an estimate that waits.'
      : `Whoever was asked is reminded after ${chosen} ${remindAfterHours === 1 ? 'hour' : 'hours'}, twice at most, between 8 in the morning and 6 in the evening.`;
  const { errorOf } = problemsOf(refused?.problem ?? null, ['remind_after_hours']);
  return html`<section id="reminders"><h2>Reminders</h2><p>${now}</p>
    ${
      frame.me.role === 'approver' &&
      html`<form method="post" action="/account/reminders" novalidate>
      ${hiddenCsrf(frame.csrfToken)}
      ${textField({
        name: 'remind_after_hours',
        label: 'Remind after so many hours',
        hint: 'From 1 to 720; empty means never.',
        value: refused?.typed ?? chosen,
        error: errorOf('remind_after_hours'),
        maxLength: 3,
        required: false,
        autocomplete: 'off',
      })}
      <div class="buttons">${quietButton({ label: 'Keep this' })}</div>
    </form>`
    }</section>`;
}

function limitWords({ role, limitMinor }: OwnAccountView['people'][number], currency: string) {
  if (role !== 'approver') return 'nothing';
  return limitMinor === null ? 'any amount' : money(limitMinor, currency);
}

const standingWords = {
  not_yet: statusWord('waiting', 'not yet valid'),
  valid: statusWord('settled', 'valid'),
  ended: statusWord('stopped', 'ended'),
} as const;

function certificates({ me }: Frame, view: OwnAccountView): Html {
  const add =
    allows(me.role, 'hand_in_certificate') &&
    actionLink({ label: 'Hand in a certificate', href: '/account/certificates/new' });
  return html`<section><h2>Tax certificates</h2>
    ${certificateNotice(view.certificateWarning, 'customer')}
    ${dataTable({
      caption: 'On file',
      columns: [
        {
          header: 'Number',
          names: true,
          cell: (each) => html`<span class="long-name">${each.number}</span>`,
        },
        { header: 'Kind', cell: (each) => certificateWords[each.kind] },
        { header: 'From', cell: (each) => dayShown(each.validFrom) },
        { header: 'Through', cell: (each) => (each.validTo === null ? 'no end' : dayShown(each.validTo)) },
        { header: 'Today', cell: (each) => standingWords[each.standing] },
      ],
      rows: view.certificates,
      empty: emptyState('None on file', 'Work is taxed as its place asks.'),
    })}
    ${view.handedIn.map((each) => handedIn(each, me.business))}
    ${add}</section>`;
}

function handedIn(view: HandedInView, business: Frame['me']['business']): Html {
  const { number, handedInBy, handedInAt, check } = view;
  const by = html`${certificateWords[view.kind]} ${number}, handed in by ${handedInBy},
    ${instantShown(handedInAt, business.timeZone)}`;
  if (check === null)
    return html`<p>${statusWord('waiting', 'to be checked')} ${by}. It counts once ${business.name} has checked it.</p>`;
  return html`<p>${statusWord('stopped', 'not taken')} ${by}: ${check.reason}</p>`;
}

function terms({ account, currency }: OwnAccountView): Html {
  const numbers = [
    account.requiresRo && 'RO number',
    account.requiresPo && 'PO number',
    account.ownNumberRequired && account.ownNumberKind !== null && `${account.ownNumberKind} number`,
  ].filter((each) => each !== false);
  return html`<section><h2>Terms</h2>${definitionList([
    { term: 'To pay', value: termsWords(account.termsDays) },
    { term: 'Invoices', value: invoiceWords[account.invoiceRule] },
    { term: 'Statement', value: statementWords[account.statementKind] },
    ...(account.statementEmail === '' ? [] : [{ term: 'Mailed to', value: account.statementEmail }]),
    { term: 'Needed to invoice', value: numbers.length === 0 ? 'no number' : numbers.join(', ') },
    ...(account.noShowFeeMinor === null
      ? []
      : [{ term: 'Vehicle not there', value: html`${money(account.noShowFeeMinor, currency)} a vehicle` }]),
    {
      term: 'Billing address',
      value: account.billingAddress
        .split('\n')
        .map((line, index) => (index === 0 ? line : html`<br>${line}`)),
    },
  ])}</section>`;
}

function sites({ sites: rows }: OwnAccountView): Html {
  return html`<section><h2>Sites</h2>${dataTable({
    caption: 'Sites',
    captionHidden: true,
    columns: [
      { header: 'Site', names: true, cell: (site) => html`<span class="long-name">${site.name}</span>` },
      { header: 'Address', cell: (site) => site.address.replaceAll('\n', ', ') },
    ],
    rows,
    empty: emptyState('No site yet', 'The business adds where your vehicles stand.'),
  })}</section>`;
}
