import { actionButton } from '../../look/buttons.ts';
import { hiddenCsrf, hiddenField, pictureField } from '../../look/forms.ts';
import { attributes, type Html, html } from '../../look/html.ts';
import { type PageAssets, plainPage } from '../../look/layout.ts';
import type { KeptForm } from '../../plugins/kept-form.ts';
import type { Way } from '../../plugins/way-back.ts';

export interface SendAgainView {
  readonly kept: KeptForm;
  readonly why: string;
  readonly ways: readonly Way[];
  readonly csrfToken: string;
  readonly assets: PageAssets;
}

/** Shows what was typed into a form that was not taken, and sends it once the person says so. */
export function sendAgainView({ kept, why, ways, csrfToken, assets }: SendAgainView): Html {
  return plainPage({
    title: 'Not sent yet',
    heading: 'Not sent yet',
    lead: why,
    assets,
    body: html`<p>${keptSentence(kept)}</p>
      ${typed(kept)}
      <form ${attributes({ method: 'post', action: kept.to, enctype: kept.file === null ? undefined : 'multipart/form-data' })}>
        ${hiddenCsrf(csrfToken)}
        ${kept.fields.map(([name, value]) => hiddenField(name, value))}
        ${kept.file !== null && pictureField({ name: kept.file, label: 'The picture again', required: true })}
        ${actionButton({ label: 'Send it now' })}
      </form>
      ${ways.map(({ label, href }) => html`<p><a href="${href}">${label}</a></p>`)}`,
  });
}

/** What goes along, and what does not. */
export function keptSentence({ file, lacksPassword }: KeptForm): string {
  if (file !== null)
    return 'What you chose is kept, but the picture itself could not be: take or choose it again before you send this.';
  if (lacksPassword)
    return 'What you typed is kept, but for the password: the form asks for it again once you send this.';
  return 'What you typed is kept.';
}

/** Enough to know it again; ids and strokes say nothing to anybody. */
function typed({ fields }: KeptForm): Html | false {
  const shown = fields.filter(
    ([name, value]) =>
      value.trim() !== '' && !/(^|_)ids?$/.test(name) && !/^[[{]/.test(value) && !uuid.test(value),
  );
  return (
    shown.length > 0 &&
    html`<dl>${shown.map(([name, value]) => html`<dt>${words(name)}</dt><dd>${clipped(value)}</dd>`)}</dl>`
  );
}

const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

function words(name: string): string {
  const spaced = name.replaceAll(/[^A-Za-z0-9]+/g, ' ').trim();
  return `${spaced.charAt(0).toUpperCase()}${spaced.slice(1)}`;
}

function clipped(value: string): string {
  return value.length <= 500 ? value : `${value.slice(0, 500)}…`;
}
