import { numberWords, type ToApproveList, type ToApproveView } from '@grainwright/operations';
import { actionLink, quietLink } from '../../../look/buttons.ts';
import { ageText, dayShown, money } from '../../../look/figures.ts';
import { type Html, html } from '../../../look/html.ts';
import { accountPage } from '../../../look/layout.ts';
import { statusWord } from '../../../look/notices.ts';
import { definitionList, emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { savedShown } from '../../work-order/replacement-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

/** What waits for the account's answer: what, a picture, how much, since when. */
export function toApproveView(frame: Frame, list: ToApproveList): Html {
  const mayAnswer = frame.me.answers !== null;
  return accountPage({
    title: 'To approve',
    heading: mayAnswer ? 'To approve' : 'Waiting for your approvers',
    lead: mayAnswer
      ? `What ${frame.me.business.name} found and asks you about, oldest first.`
      : `What ${frame.me.business.name} found and asks the approvers of ${frame.me.accountName} about, oldest first.`,
    person: frame.person,
    beside: [
      quietLink({ label: 'All you have to do', href: '/account' }),
      quietLink({ label: 'What you agreed to beforehand', href: '/account/agreement' }),
    ],
    current: 'needs',
    csrfToken: frame.csrfToken,
    assets: frame.assets,
    elsewhere: frame.elsewhere,
    body: html`
      ${list.rows.length === 0 && nothing()}
      <ul class="asks">${list.rows.map((row) => html`<li>${ask(row, frame)}</li>`)}</ul>
      ${list.next !== null && html`<p>${quietLink({ label: 'Newer ones', href: `/account/to-approve?after=${list.next.toString()}` })}</p>`}`,
  });
}

function nothing(): Html {
  const all = quietLink({ label: 'All work orders', href: '/account/work-orders' });
  return emptyState(
    'Nothing waits for you',
    'When a vehicle is written up, it stands here with pictures and price.',
    all,
  );
}

function ask(row: ToApproveView, frame: Frame): Html {
  const address = `/account/work-orders/${row.id}`;
  const mayAnswer = frame.me.answers !== null;
  return html`<article class="ask">
    <div class="ask-picture">${
      row.photoId === null
        ? html`<div class="no-picture">${row.photoCount === 0 ? 'No picture yet' : 'The picture is being made ready'}</div>`
        : html`<a href="${address}"><img src="/photos/${row.photoId}/thumb" alt="${row.vehicle}, ${row.lines.at(0) ?? 'before'}" loading="lazy" decoding="async"></a>`
    }</div>
    <div class="ask-words">
      <h2><a href="${address}">${row.vehicle}</a></h2>
      <p>${[workOrderNumber(row.number), numberWords(row.numbers)].filter((part) => part !== '').join(', ')}</p>
      <ul>${row.lines.map((line) => html`<li>${line}</li>`)}</ul>
      ${row.holdReason !== null && html`<p>${statusWord('problem', `on hold: ${row.holdReason}`)}</p>`}
      ${definitionList([
        ...(row.approvedBeforeMinor === null
          ? []
          : [{ term: 'Approved before', value: money(row.approvedBeforeMinor, row.currency) }]),
        { term: 'Total with tax', value: html`<strong>${money(row.totalMinor, row.currency)}</strong>` },
        ...(row.quotedMinor === null
          ? []
          : [
              { term: 'New part, as quoted', value: savedShown(row.quotedMinor, row.netMinor, row.currency) },
            ]),
        { term: 'Waiting', value: row.ageDays === 0 ? 'since today' : ageText(row.ageDays) },
        { term: row.expired ? 'Was good through' : 'Good through', value: dayShown(row.expiresOn) },
      ])}
      ${limitWords(row, frame)}
      ${mayAnswer ? actionLink({ label: 'Look and answer', href: address }) : quietLink({ label: 'Look', href: address })}
    </div>
  </article>`;
}

function limitWords(row: ToApproveView, { me }: Frame): Html | null {
  const limitMinor = me.answers?.limitMinor ?? null;
  if (row.withinLimit || row.expired || limitMinor === null) return null;
  const over = row.comparedMinor - limitMinor;
  return html`<p>${statusWord('problem', 'above your limit')} by ${money(over, row.currency)}, with every line and before trip and tax</p>`;
}
