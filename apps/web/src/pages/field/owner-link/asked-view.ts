import type { WorkOrderId } from '@grainwright/domain';
import type { OwnerAsked } from '@grainwright/operations';
import { fieldLink, quietLink } from '../../../look/buttons.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import type { Frame } from '../../person.ts';

/** The link that was just made: shown here, this once, to be passed on. */
export function ownerAskedView(frame: Frame, workOrderId: WorkOrderId, asked: OwnerAsked): Html {
  const path = `/field/work-orders/${workOrderId}`;
  const back = { label: 'Back to the work order', href: path };
  return fieldPage({
    ...frame,
    title: 'The link is made',
    heading: 'The link is made',
    lead: `For ${asked.ownerName}, until ${asked.lastDayWords}`,
    current: null,
    scripts: [frame.assets.sharing],
    body: html`
      ${asked.email !== '' && notice('done', 'It is mailed', `To ${asked.email}.`)}
      <p><label for="address">The link. It is shown only now; if it is lost, make a new one.</label></p>
      <p><textarea id="address" readonly rows="3">${asked.address}</textarea></p>
      <p>Whoever has it can answer, so send it to the owner alone.</p>
      <p class="buttons">
        <button ${attributes({ type: 'button', class: 'button', 'data-share': asked.message, 'data-copy-label': 'Copy it with its words', hidden: true })}>Send it some other way</button>
        ${asked.phone !== '' && quietLink(back)}
      </p>`,
    primaryAction:
      asked.phone === ''
        ? fieldLink(back)
        : fieldLink({ label: `Text it to ${asked.phone}`, href: messageAddress(asked) }),
  });
}

/** Opens the phone's own messages with the words in place (RFC 5724). */
function messageAddress({ phone, message }: OwnerAsked): string {
  const number = phone.replaceAll(/[^\d+]/g, '');
  return `sms:${number}?body=${encodeURIComponent(message)}`;
}
