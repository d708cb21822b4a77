import type { Problem } from '@grainwright/domain';
import type { WorkOrderView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { ownerLinkWords } from '../../work-order/owner-link-parts.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface TypedOwner {
  readonly id: string;
  readonly ownerName: string;
  readonly phone: string;
  readonly email: string;
}

export interface OwnerLinkPage {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly typed: TypedOwner;
  readonly problem: Problem | null;
}

const ownerFields = ['owner_name', 'phone', 'email'];

/** Whom the link is for, and the links there were. */
export function ownerLinkView({ frame, view, typed, problem }: OwnerLinkPage): Html {
  const path = `/field/work-orders/${view.id}`;
  const { summary, errorOf } = problemsOf(problem, ownerFields);
  const isOpen = view.state === 'done';
  return fieldPage({
    ...frame,
    title: `${workOrderNumber(view.number)}, link to the owner`,
    heading: 'The owner has left: send a link',
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`${errorSummary(summary)}
      ${isOpen ? form({ frame, typed, errorOf, path }) : notice('info', 'Nothing to answer', 'Only finished work that is not accepted yet waits for an answer.')}
      ${linksSoFar(frame, view, path)}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: isOpen
      ? fieldButton({ label: 'Make the link', form: 'owner-link' })
      : fieldLink({ label: 'Back to the work order', href: path }),
  });
}

interface LinkForm extends Pick<OwnerLinkPage, 'frame' | 'typed'> {
  readonly path: string;
  readonly errorOf: (field: string) => string | undefined;
}

function form({ frame, typed, errorOf, path }: LinkForm): Html {
  return html`<p>They see before and after and what was done, without prices, and sign on their own phone. The link takes one answer.
      No answer is no acceptance.</p>
    <form method="post" action="${path}/owner-link" id="owner-link" data-sending="Making the link…">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', typed.id)}
      ${textField({ name: 'owner_name', label: 'Who answers', hint: 'Full name', value: typed.ownerName, error: errorOf('owner_name'), required: true, maxLength: 200, autocomplete: 'off' })}
      ${textField({ name: 'phone', label: 'Their phone', hint: 'To send it with this phone’s own messages', type: 'tel', value: typed.phone, error: errorOf('phone'), maxLength: 40, autocomplete: 'off' })}
      ${textField({ name: 'email', label: 'Their e-mail address', hint: 'Then it is mailed at once, and so is their copy', type: 'email', value: typed.email, error: errorOf('email'), maxLength: 254, autocomplete: 'off' })}
    </form>`;
}

function linksSoFar(frame: Frame, view: WorkOrderView, path: string): Html | null {
  if (view.ownerLinks.length === 0) return null;
  return html`<section><h2>Links so far</h2>
    ${view.ownerLinks.some(({ stands }) => stands === 'open') && html`<p>A new link takes the open one back.</p>`}
    <ul>${view.ownerLinks.map(
      (link) => html`<li>
        <p><b>${link.ownerName}</b>, ${[link.phone, link.email].filter((part) => part !== '').join(', ')}; made by ${link.madeBy}, until ${dayShown(link.lastDay)}: ${ownerLinkWords(link)}</p>
        ${
          link.stands === 'open' &&
          html`<form method="post" action="${path}/owner-link/${link.id}/take-back">${hiddenCsrf(frame.csrfToken)}
          ${quietButton({ label: 'Take it back' })}</form>`
        }
      </li>`,
    )}</ul></section>`;
}
