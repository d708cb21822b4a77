import {
  type AccountId,
  allows,
  missingSignatureReasons,
  type Permission,
  type PersonId,
} from '@grainwright/domain';
import type { BoardCard, BoardColumn, BoardColumnName, BoardView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { ageText, moneyText } from '../../../look/figures.ts';
import { type Choice, selectField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { statusWord } from '../../../look/notices.ts';
import { emptyState } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { listAddress } from '../../work-order/list-filter.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { questionOpenWords } from '../../work-order/thread-parts.ts';

export interface BoardPage {
  readonly frame: Frame;
  readonly board: BoardView;
  readonly accounts: readonly Choice[];
  readonly filter: { readonly accountId: AccountId | null; readonly technicianId: PersonId | null };
}

/** What waits for what, longest first: each column a list under a heading, one below the other where it is narrow. */
export function boardView(page: BoardPage): Html {
  const { frame, board, filter } = page;
  const inAll = board.columns.reduce((sum, column) => sum + column.count, 0);
  return officePage({
    ...frame,
    title: 'Board',
    heading: 'Board',
    lead: 'Work that is not over, by what it waits for. What has waited longest is first.',
    beside: quietLink({ label: 'As a list', href: listAddress(listPath, { ...anything, ...filter }, {}) }),
    current: 'board',
    wide: true,
    body: html`${filterForm(page)}
      ${inAll === 0 ? nothing(filter) : html`<div class="work-board">${board.columns.map((column) => columnShown(page, column))}</div>`}`,
  });
}

const listPath = '/office/work-orders';
const anything = { waitsFor: null, accountId: null, technicianId: null, text: '', below: undefined } as const;

function filterForm({ accounts, board, filter }: BoardPage): Html {
  const technicians = board.technicians.map(({ id, name }) => ({ value: id, label: name }));
  const isNarrowed = filter.accountId !== null || filter.technicianId !== null;
  return html`<form method="get" action="/office/board" class="filters">
    ${selectField({ name: 'account', label: 'Account', empty: 'Every account', value: filter.accountId ?? '', choices: accounts })}
    ${selectField({ name: 'technician', label: 'Technician', empty: 'Every technician', value: filter.technicianId ?? '', choices: technicians })}
    ${quietButton({ label: 'Show' })}
    ${isNarrowed && quietLink({ label: 'Show all', href: '/office/board' })}
  </form>`;
}

const columnWords = {
  technician: 'The technician',
  approval: 'Approval',
  po: 'A number or PO',
  acceptance: 'Acceptance',
  invoice: 'Its invoice',
  money: 'Money',
  hold: 'On hold',
} as const satisfies Record<BoardColumnName, string>;

function columnShown(page: BoardPage, column: BoardColumn): Html {
  const { waitsFor, count, cards } = column;
  const id = `waits-${waitsFor}`;
  const address = listAddress(listPath, { ...anything, ...page.filter }, { waitsFor });
  const left = count - cards.length;
  return html`<section class="work-board-column" aria-labelledby="${id}">
    <h2 id="${id}">${columnWords[waitsFor]} <span class="work-board-count">${count}</span></h2>
    ${
      cards.length === 0
        ? html`<p class="hint">Nothing waits here.</p>`
        : html`<ol>${cards.map((card) => cardShown(page, waitsFor, card))}</ol>`
    }
    ${left > 0 && html`<p><a href="${address}">${left} more<span class="heard"> that wait: ${columnWords[waitsFor]}</span></a></p>`}
  </section>`;
}

function cardShown({ frame, board }: BoardPage, waitsFor: BoardColumnName, card: BoardCard): Html {
  const action = nextAction(frame, waitsFor, card);
  return html`<li class="work-card">
    <h3><a href="${`${listPath}/${card.id}`}">${workOrderNumber(card.number)}</a></h3>
    <p class="work-card-age"><time datetime="${card.since}">${ageText(card.days)}</time></p>
    <p class="work-card-account">${card.accountName}</p>
    <p>${card.vehicle}${card.numbers !== '' && html`, <span class="code">${card.numbers}</span>`}</p>
    ${card.questionOpen && html`<p><b>${questionOpenWords}</b></p>`}
    ${card.notSigned !== null && html`<p>${statusWord('problem', missingSignatureReasons[card.notSigned])}</p>`}
    ${waitsFor === 'hold' && card.holdReason !== null && html`<p>${card.holdReason}</p>`}
    <p class="work-card-foot"><span class="money">${card.repairsMinor === null ? 'not priced' : moneyText(card.repairsMinor, board.currency)}</span>
      ${action !== null && html`<a href="${action.href}">${action.label}<span class="heard"> of ${workOrderNumber(card.number)}</span></a>`}</p>
  </li>`;
}

interface Action {
  readonly label: string;
  readonly href: string;
  readonly permission: Permission;
}

/** What gets it on, for whoever may do it; the work order itself is a link anyway. */
function nextAction(
  { me }: Frame,
  waitsFor: BoardColumnName,
  { id, accountId, notSigned }: BoardCard,
): Action | null {
  const here = `${listPath}/${id}`;
  const actions: Readonly<Record<BoardColumnName, Action>> = {
    technician: { label: 'Go on in the field', href: `/field/work-orders/${id}`, permission: 'start_work' },
    approval: { label: 'Write down an answer', href: `${here}#answer`, permission: 'record_decision' },
    po: { label: 'Give the number', href: `${here}#numbers`, permission: 'give_numbers' },
    acceptance:
      notSigned === null
        ? {
            label: 'Take the acceptance',
            href: `/field/work-orders/${id}`,
            permission: 'take_acceptance',
          }
        : {
            label: 'Look why',
            href: `${here}/acceptances`,
            permission: 'see_work_orders',
          },
    invoice: { label: 'Issue the invoice', href: `${here}#invoice`, permission: 'issue_invoice' },
    money: {
      label: 'Record a payment',
      href: `/office/payments/new?account=${accountId}`,
      permission: 'record_payment',
    },
    hold: { label: 'Lift the hold', href: `${here}#hold-lift-reason`, permission: 'hold_work_order' },
  };
  const action = actions[waitsFor];
  return allows(me.role, action.permission) ? action : null;
}

function nothing({ accountId, technicianId }: BoardPage['filter']): Html {
  return accountId === null && technicianId === null
    ? emptyState(
        'Nothing waits',
        'Whatever is written up stands here until it is paid.',
        quietLink({ label: 'Write up a vehicle', href: '/field/write-up' }),
      )
    : emptyState(
        'Nothing fits',
        'No work that is not over fits what is asked above.',
        quietLink({ label: 'Show all', href: '/office/board' }),
      );
}
