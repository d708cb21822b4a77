import { fieldLink, quietButton } from '../../../look/buttons.ts';
import { html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import type { Here, Shown } from './screen.ts';

/** A form that nothing here could be done with: it is not lost, and whoever sent it reads what to do. */
export function notUsed({ frame }: Here): Shown {
  return {
    page: fieldPage({
      ...frame,
      title: 'Not sent yet',
      heading: 'Not sent yet',
      current: null,
      body: html`${notice('problem', 'What you sent needs a signal', 'This phone has not taken along what it belongs to, or work went on there since.')}
        <p>It is kept on this phone until it is sent or you throw it away. Send it again once there is signal; field pages offer it until then.</p>
        <p id="send-again">${quietButton({ label: 'Send it again' })}</p>`,
      primaryAction: fieldLink({ label: 'Back to today’s stops', href: '/field' }),
    }),
  };
}

/** The form as it was, to the service; without signal it comes back here. */
export function sendAgain(path: string, fields: readonly (readonly [string, string | File])[]): void {
  const form = document.createElement('form');
  form.method = 'post';
  form.action = path;
  form.enctype = fields.some(([, value]) => value instanceof File)
    ? 'multipart/form-data'
    : 'application/x-www-form-urlencoded';
  form.hidden = true;
  form.append(...fields.map(([name, value]) => fieldOf(name, value)));
  document.body.append(form);
  // Not `requestSubmit`: the app would take that up itself.
  form.submit();
}

function fieldOf(name: string, value: string | File): HTMLElement {
  const input = document.createElement('input');
  input.name = name;
  if (typeof value === 'string') {
    input.type = 'hidden';
    input.value = value;
    return input;
  }
  input.type = 'file';
  const files = new DataTransfer();
  files.items.add(value);
  input.files = files.files;
  return input;
}
