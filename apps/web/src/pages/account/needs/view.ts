import { allows, type DemandedNumber, ownNumberKinds } from '@grainwright/domain';
import {
  type AcceptanceNeed,
  type DisputeView,
  type NeedsView,
  type NumbersNeed,
  numberWords,
  type PastDueNeed,
  type PurchaseOrderNeed,
  type ToApproveView,
} from '@grainwright/operations';
import { actionButton, actionLink, quietLink } from '../../../look/buttons.ts';
import { ageText, dayText, money, moneyText } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Fragment, type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { fieldOf } from '../work-order/numbers-form.ts';

/** What the business needs from the account, each with what to do about it. */
export function needsView(frame: Frame, needs: NeedsView): Html {
  return accountPage({
    ...frame,
    title: 'What we need from you',
    heading: 'What we need from you',
    lead: `${frame.me.business.name} for ${frame.me.accountName}.`,
    current: 'needs',
    body: needs.nothing
      ? nothing()
      : html`${estimates(frame, needs)}
        ${numbers(frame, needs.numbers)}
        ${purchaseOrders(frame, needs)}
        ${certificate(frame, needs)}
        ${acceptances(frame, needs.acceptances)}
        ${pastDue(needs)}
        ${disputes(needs.disputes)}`,
  });
}

function nothing(): Html {
  return emptyState(
    'We need nothing from you',
    'Estimates to answer, numbers we miss, invoices past due and papers that run out stand here.',
    quietLink({ label: 'Look at your vehicles', href: '/account/vehicles' }),
  );
}

function part(heading: string, rows: readonly Html[], after?: Fragment): Html | false {
  if (rows.length === 0) return false;
  return html`<section><h2>${heading}</h2><ul>${rows.map((row) => html`<li>${row}</li>`)}</ul>${after}</section>`;
}

function need(shown: { readonly picture?: Html; readonly words: Fragment; readonly action: Fragment }): Html {
  const { picture, words, action } = shown;
  return html`<article class="${picture === undefined ? 'need' : 'need need--pictured'}">
    ${picture}<div>${words}</div><div class="need-do">${action}</div>
  </article>`;
}

function estimates(frame: Frame, { estimates: rows, estimateCount }: NeedsView): Html | false {
  const more = estimateCount - rows.length;
  const mayAnswer = frame.me.answers !== null;
  return part(
    mayAnswer ? 'Estimates to answer' : 'Estimates that wait for an answer of your approvers',
    rows.map((row) => estimate(frame, row)),
    more > 0 &&
      quietLink({
        label: mayAnswer ? `All ${estimateCount} to answer` : `All ${estimateCount} that wait`,
        href: '/account/to-approve',
      }),
  );
}

function estimate({ me }: Frame, row: ToApproveView): Html {
  const address = `/account/work-orders/${row.id}`;
  const waiting = row.ageDays === 0 ? 'asked today' : `waiting ${ageText(row.ageDays)}`;
  const mayAnswer = me.answers !== null;
  return need({
    picture:
      row.photoId === null
        ? html`<div class="no-picture">No picture</div>`
        : html`<img class="thumb" src="/photos/${row.photoId}/thumb" alt="${row.vehicle}, ${row.lines.at(0) ?? 'before'}" loading="lazy" decoding="async">`,
    words: html`<h3>${row.vehicle}</h3>
      <p>${named(row)}</p>
      <p class="need-amount">${money(row.totalMinor, row.currency)}</p>
      <p class="hint">${[waiting, row.expired && 'expired', row.holdReason !== null && `on hold: ${row.holdReason}`].filter((each) => each !== false).join(', ')}</p>`,
    action: mayAnswer
      ? actionLink({ label: 'Look and answer', href: address })
      : quietLink({ label: 'Look', href: address }),
  });
}

function named(row: Pick<AcceptanceNeed, 'number' | 'numbers'>): string {
  return [workOrderNumber(row.number), numberWords(row.numbers)].filter((each) => each !== '').join(', ');
}

function numbers(frame: Frame, rows: readonly NumbersNeed[]): Html | false {
  return part(
    'Numbers we miss',
    rows.map((row) =>
      need({
        words: html`<h3><a href="/account/work-orders/${row.workOrderId}">${row.vehicle}</a></h3>
          <p>${named(row)}</p>
          <p>${finishedWords(row)} Its invoice can’t be issued without the ${listed(row.missing)}.</p>`,
        action: numbersForm(frame, row),
      }),
    ),
  );
}

function finishedWords({ finishedOn, days }: AcceptanceNeed): string {
  if (finishedOn === null) return 'The work is finished.';
  return days === 0 ? 'Work finished today.' : `Work finished ${dayText(finishedOn)}, ${ageText(days)} ago.`;
}

function listed(missing: readonly DemandedNumber[]): string {
  return new Intl.ListFormat('en-US', { type: 'conjunction' }).format(missing.map(numberName));
}

function numberName(kind: DemandedNumber): string {
  switch (kind) {
    case 'repair_order':
      return 'RO number';
    case 'purchase_order':
      return 'PO number';
    default:
      return ownNumberKinds[kind];
  }
}

/** Given right here; where it is not taken, the work order’s own page says why. */
function numbersForm(frame: Frame, { workOrderId, missing }: NumbersNeed): Html {
  if (!allows(frame.me.role, 'give_numbers'))
    return html`<p class="hint">An approver or payer of ${frame.me.accountName} gives it.</p>`;
  const none = { ownNumber: '', roNumber: '', poNumber: '' };
  return html`<form method="post" action="/account/work-orders/${workOrderId}/numbers">
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('from', 'needs')}
    ${missing.map((kind) => {
      const { name, label } = fieldOf(kind, none);
      const id = `${name}-${workOrderId}`;
      return textField({ name, label, id, code: true, maxLength: 40, autocomplete: 'off' });
    })}
    ${actionButton({ label: 'Send' })}
  </form>`;
}

function purchaseOrders({ me }: Frame, { purchaseOrders: rows, currency }: NeedsView): Html | false {
  return part(
    'Purchase orders to raise',
    rows.map((row) => {
      const work = row.workOrders === 1 ? 'One work order' : `${row.workOrders} work orders`;
      return need({
        words: html`<h3>PO ${row.number}</h3>
          <p>${work} approved on it: up to ${money(row.approvedMinor, currency)}. ${roomWords(row, currency)}
          Raise its cap by ${money(row.shortMinor, currency)}, or what was done can’t be invoiced.</p>`,
        action: askBusiness(
          me.business,
          `PO ${row.number}: cap raised by ${moneyText(row.shortMinor, currency)}`,
          'Write that it is raised',
        ),
      });
    }),
  );
}

function roomWords({ leftMinor, capMinor }: PurchaseOrderNeed, currency: string): string {
  const cap = moneyText(capMinor, currency);
  if (leftMinor <= 0n) return `Its cap of ${cap} is used up.`;
  return `Of its cap of ${cap}, ${moneyText(leftMinor, currency)} is left.`;
}

/** The business changes what it has on file; a mail with the subject written is the shortest way to it. */
function askBusiness(
  business: { readonly email: string; readonly phone: string },
  subject: string,
  label: string,
): Html {
  const { email, phone } = business;
  return html`${email !== '' && actionLink({ label, href: `mailto:${email}?subject=${encodeURIComponent(subject)}` })}
    ${phone !== '' && quietLink({ label: `Call ${phone}`, href: `tel:${phone.replaceAll(/[^\d+]/g, '')}` })}`;
}

function certificate({ me }: Frame, { certificate: need_ }: NeedsView): Html | false {
  if (need_ === null) return false;
  const { warning, taxedFrom, notTaken } = need_;
  return html`<section><h2>A new certificate</h2>
    ${certificateNotice(warning, 'customer')}
    ${notTaken !== '' && html`<p>The one you handed in was not taken: ${notTaken}</p>`}
    <p>Work from ${dayText(taxedFrom)} on is taxed as its place asks. Whether a later certificate also covers work
    before it is for your tax adviser to say.</p>
    ${allows(me.role, 'hand_in_certificate') && actionLink({ label: 'Hand in a certificate', href: '/account/certificates/new' })}
  </section>`;
}

function acceptances({ me }: Frame, rows: readonly AcceptanceNeed[]): Html | false {
  return part(
    'Work to accept',
    rows.map((row) =>
      need({
        words: html`<h3>${row.vehicle}</h3>
          <p>${named(row)}</p>
          <p>${finishedWords(row)} Somebody of ${me.accountName} signs for it on our technician’s phone.</p>`,
        action: actionLink({ label: 'Look at the work', href: `/account/work-orders/${row.workOrderId}` }),
      }),
    ),
  );
}

function pastDue({ pastDue: rows, currency }: NeedsView): Html | false {
  return part(
    'Invoices past due',
    rows.map((row) => pastDueInvoice(row, currency)),
    quietLink({ label: 'All open invoices', href: '/account/invoices?standing=open' }),
  );
}

function pastDueInvoice({ invoiceId, number, dueOn, days, openMinor }: PastDueNeed, currency: string): Html {
  return need({
    words: html`<h3>${number}</h3>
      <p class="need-amount">${money(openMinor, currency)}</p>
      <p>Due ${dayText(dueOn)}, ${ageText(days)} ago.</p>`,
    action: actionLink({ label: `Open ${number}`, href: `/account/invoices/${invoiceId}` }),
  });
}

function disputes(rows: readonly DisputeView[]): Html | false {
  return part(
    'Answers to your disputes',
    rows.map((row) =>
      need({
        words: html`<h3>${row.lineDescription ?? `A part of ${row.invoiceNumber}`}</h3>${answerWords(row)}`,
        action: actionLink({
          label: `Open ${row.invoiceNumber}`,
          href: `/account/invoices/${row.invoiceId}`,
        }),
      }),
    ),
    quietLink({ label: 'All disputes', href: '/account/disputes' }),
  );
}

function answerWords({ answer, amountMinor, currency }: DisputeView): Html | null {
  if (answer === null) return null;
  const note = answer.note !== '' && html`<p>“${answer.note}”</p>`;
  if (answer.answer === 'credited')
    return html`<p>${money(amountMinor, currency)} was in dispute; ${answer.creditNoteNumber ?? 'a credit note'}
      of ${dayText(answer.answeredOn)} settles it.</p>${note}`;
  return html`<p>${money(amountMinor, currency)} stands, answered ${dayText(answer.answeredOn)}. It is due as before.</p>${note}`;
}
