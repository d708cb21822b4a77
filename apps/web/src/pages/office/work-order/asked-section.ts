import type { Problem } from '@grainwright/domain';
import { type ApprovalAskId, allows } from '@grainwright/domain';
import type { AccessLinkView, AskView, WorkOrderView } from '@grainwright/operations';
import { quietButton } from '../../../look/buttons.ts';
import { instantShown, moneyText } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { passedOnNotice } from '../../work-order/asking-parts.ts';

export interface AskedSection {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  /** Given to contacts, the latest first. */
  readonly links: readonly AccessLinkView[];
  /** For the next question, made with the page. */
  readonly askId: ApprovalAskId;
  /** A question that was not sent. */
  readonly problem: Problem | null;
}

/** Who was asked for an answer by mail, the links that they have, and asking once more. */
export function askedSection(section: AskedSection): Html | null {
  const { view, frame, problem } = section;
  const { asking, state } = view;
  const waits = state === 'awaiting_approval';
  if (!waits && asking.asks.length === 0) return null;
  const { timeZone } = frame.me.business;
  return html`<section id="asked"><h2>Who was asked</h2>
    ${problem && notice('problem', 'Not asked', problem.detail)}
    ${asking.nobody !== null && notice('problem', 'Nobody answers by mail', asking.nobody)}
    ${passedOnNotice(view, null)}
    ${asks(view, timeZone)}
    ${allows(frame.me.role, 'give_links') && html`${waits && askAgainForm(section)}${links(section)}`}
  </section>`;
}

function asks({ asking }: WorkOrderView, timeZone: string): Html {
  return dataTable({
    caption: 'Asked by mail',
    captionHidden: true,
    rows: asking.asks,
    empty: html`<p>Nobody was asked by mail yet. That happens within a minute after sending.</p>`,
    columns: [
      { header: 'When', names: true, cell: (ask) => instantShown(ask.askedAt, timeZone) },
      { header: 'Who', cell: (ask) => ask.personName },
      { header: 'Why they', cell: (ask) => whyWords[ask.why] },
    ],
  });
}

const whyWords = {
  first: 'first of the account',
  above_limit: 'above the limit of the first',
  passed_on: 'passed on to them',
  asked_again: 'asked again',
  delegate: 'in the place of somebody who is away',
} as const satisfies Record<AskView['why'], string>;

function askAgainForm({ view, frame, askId, problem }: AskedSection): Html | null {
  const { askable } = view.asking;
  if (askable.length === 0) return null;
  return html`<form class="unprinted" method="post" action="/office/work-orders/${view.id}/asks">
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', askId)}
    ${selectField({
      name: 'person_id',
      label: 'Ask again',
      value: askable[0]?.personId ?? '',
      error: problem?.field === 'person_id' ? problem.detail : undefined,
      choices: askable.map(({ personId, name, limitMinor }) => ({
        value: personId,
        label: `${name}, ${limitMinor === null ? 'no limit' : `up to ${moneyText(limitMinor, view.currency)}`}`,
      })),
    })}
    <div class="buttons">${quietButton({ label: 'Ask again by e-mail' })}</div>
    <p class="hint">They get a new link. Those given before go on opening until they are taken back.</p>
  </form>`;
}

function links({ view, frame, links: given }: AskedSection): Html | null {
  if (given.length === 0) return null;
  const { timeZone } = frame.me.business;
  const nameOf = ({ personId }: AccessLinkView) =>
    view.asking.asks.find((ask) => ask.personId === personId)?.personName ?? '';
  return dataTable({
    caption: 'Links given',
    rows: given,
    empty: html`<p>No link was given.</p>`,
    columns: [
      { header: 'To', names: true, cell: nameOf },
      { header: 'Given', cell: (link) => instantShown(link.madeAt, timeZone) },
      { header: 'Opens until', cell: (link) => instantShown(link.expiresAt, timeZone) },
      {
        header: 'Now',
        cell: (link) => (link.opens ? takeBack(frame, view, link, nameOf(link)) : closedWords(link)),
      },
    ],
  });
}

function closedWords({ revokedAt }: AccessLinkView): string {
  return revokedAt === null ? 'expired' : 'taken back';
}

function takeBack({ csrfToken }: Frame, { id }: WorkOrderView, link: AccessLinkView, name: string): Html {
  return html`opens<form method="post" action="/office/work-orders/${id}/links/${link.id}/take-back">
    ${hiddenCsrf(csrfToken)}<button class="plain-button">Take back<span class="heard">: ${name}</span></button>
  </form>`;
}
