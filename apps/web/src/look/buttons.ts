/**
 * fieldButton, fieldLink: the one yellow button of a field page, given to fieldPage as `primaryAction`; it
 * names its `form`, because it stands outside of it.
 * choiceButton: one of a few answers, each of which goes on at once; `chosen` marks the one given before.
 * actionButton, actionLink: the one action of another page. quietButton, quietLink: everything else.
 * Buttons send their form; `name` and `value` tell which of several was pressed.
 */
import { attributes, type Fragment, type Html, html } from './html.ts';

export interface Button {
  readonly label: Fragment;
  /** The id of the form it sends, where it stands outside of it. */
  readonly form?: string;
  readonly name?: string;
  readonly value?: string;
  readonly formAction?: string;
  /** Sends the form as it stands: the browser does not ask for what is still missing. */
  readonly unfinished?: boolean;
}

export interface ButtonLink {
  readonly label: Fragment;
  readonly href: string;
}

export function fieldButton(button: Button & { readonly form: string }): Html {
  return submitting('field-button', button);
}

export function fieldLink(link: ButtonLink): Html {
  return linking('field-button', link);
}

export function choiceButton({ chosen, ...button }: Button & { readonly chosen: boolean }): Html {
  const label = chosen ? html`${button.label} (as before)` : button.label;
  return submitting(chosen ? 'choice choice--chosen' : 'choice', { ...button, label });
}

export function actionButton(button: Button): Html {
  return submitting('button button--action', button);
}

export function actionLink(link: ButtonLink): Html {
  return linking('button button--action', link);
}

export function quietButton(button: Button): Html {
  return submitting('button', button);
}

export function quietLink(link: ButtonLink): Html {
  return linking('button', link);
}

function submitting(kind: string, button: Button): Html {
  const { form, name, value, formAction, unfinished } = button;
  return html`<button ${attributes({ class: kind, form, name, value, formaction: formAction, formnovalidate: unfinished })}>${button.label}</button>`;
}

function linking(kind: string, link: ButtonLink): Html {
  return html`<a class="${kind}" href="${link.href}">${link.label}</a>`;
}
