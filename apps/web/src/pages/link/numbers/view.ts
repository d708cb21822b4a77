import { type GivenNumbers, numberNames, type Problem, type WorkOrderId } from '@grainwright/domain';
import { type Me, type NumbersByLink, type NumbersNeed, numberWords } from '@grainwright/operations';
import type { Assets } from '../../../look/assets.ts';
import { actionButton } from '../../../look/buttons.ts';
import { dayText, moneyText } from '../../../look/figures.ts';
import { errorSummary, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { linkPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, emptyState } from '../../../look/tables.ts';
import { fieldOf } from '../../account/work-order/numbers-form.ts';
import { problemsOf } from '../../form-problems.ts';
import { leftShown } from '../../work-order/agreement-tables.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

/** Numbers that were typed for one vehicle and not taken. */
export interface RefusedNumbers {
  readonly workOrderId: WorkOrderId;
  readonly typed: GivenNumbers;
  readonly problem: Problem;
}

export interface NumbersPage {
  readonly me: Me;
  readonly assets: Assets['urls'];
  /** Of the link: `/link/…` */
  readonly path: string;
  readonly asked: NumbersByLink;
  readonly refused: RefusedNumbers | null;
}

/** Every finished vehicle that the link’s contact was asked about and that lacks a number, each with a form of its own. */
export function numbersView(page: NumbersPage): Html {
  const { me, assets, asked } = page;
  const { numbers, orders } = asked;
  const heading =
    numbers.length === 0
      ? 'No number is missing'
      : `${numbers.length === 1 ? 'One vehicle lacks' : `${numbers.length} vehicles lack`} a number`;
  return linkPage({
    title: heading,
    heading,
    lead:
      numbers.length === 0
        ? 'Thank you. There is nothing left for you to do here.'
        : 'The work is done, and the invoice has to show it. What you send here stays; ask us to change it.',
    business: me.business.name,
    whose: `This link is ${me.name}’s, for ${me.accountName ?? 'your account'}. Do not forward it.`,
    assets,
    scripts: [],
    body: html`${notTaken(page)}${shortOrders(asked)}
      ${numbers.map((need) => vehicle(page, need))}
      ${orders.length > 0 && html`<section><h2>Your purchase orders</h2>${ordersTable(asked)}</section>`}`,
  });
}

/** What was refused for a vehicle that stands here no more. */
function notTaken({ refused, asked }: NumbersPage): Html | null {
  if (refused === null || asked.numbers.some((need) => need.workOrderId === refused.workOrderId)) return null;
  const typed = [refused.typed.ownNumber, refused.typed.roNumber, refused.typed.poNumber]
    .filter((each) => each !== '')
    .join(', ');
  return notice(
    'problem',
    'Not sent',
    html`${refused.problem.detail}${typed !== '' && html` You typed: ${typed}.`}`,
  );
}

/** What was approved on a purchase order has to fit on what is left of it. */
function shortOrders({ shortOrders: orders, currency }: NumbersByLink): readonly Html[] {
  return orders.map(({ number, leftMinor, shortMinor }) =>
    notice(
      'problem',
      `PO ${number} is ${moneyText(shortMinor, currency)} short`,
      `${moneyText(leftMinor, currency)} of it is left, and what was approved on it does not fit. The number is kept; the invoice can be issued once the cap is raised, so ask whoever gave the PO.`,
    ),
  );
}

/** The number, to be named, and what is left on it; the rest of an order is not this link’s to show. */
function ordersTable({ orders, currency }: NumbersByLink): Html {
  return dataTable({
    caption: 'Purchase orders',
    captionHidden: true,
    rows: orders,
    empty: emptyState('No purchase order', 'A number without one here has no cap.'),
    columns: [
      {
        header: 'Number',
        names: true,
        cell: (each) => html`<span class="code long-name">${each.number}</span>`,
      },
      { header: 'Left', figure: true, cell: (each) => leftShown(each, currency) },
    ],
  });
}

function vehicle({ path, refused }: NumbersPage, need: NumbersNeed): Html {
  const { workOrderId, number, vehicle: words, numbers, finishedOn, missing } = need;
  const mine = refused?.workOrderId === workOrderId ? refused : null;
  const typed = mine?.typed ?? { ownNumber: '', roNumber: '', poNumber: '' };
  const fields = missing.map((kind) => fieldOf(kind, typed));
  const { summary, errorOf } = problemsOf(
    mine?.problem ?? null,
    fields.map(({ name }) => name),
  );
  const about = [
    workOrderNumber(number),
    numberWords(numbers),
    finishedOn === null ? '' : `finished ${dayText(finishedOn)}`,
  ];
  return html`<section><h2>${words}</h2>
    <p>${about.filter((part) => part !== '').join(', ')}</p>
    <form method="post" action="${path}/numbers/${workOrderId}" novalidate>
      ${errorSummary(summary)}
      ${fields.map(({ name, label, value }) =>
        textField({
          name,
          id: `${name}-${workOrderId}`,
          label,
          value,
          code: true,
          maxLength: 40,
          autocomplete: 'off',
          error: errorOf(name),
        }),
      )}
      <div class="buttons">${actionButton({ label: `Send the ${missing.map((kind) => numberNames[kind]).join(' and ')}` })}</div>
    </form></section>`;
}
