import type { Problem } from '@grainwright/domain';
import type { MessageView, WorkOrderView } from '@grainwright/operations';
import { quietButton } from '../../look/buttons.ts';
import { instantShown } from '../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, textArea } from '../../look/forms.ts';
import { attributes, type Html, html } from '../../look/html.ts';
import { notice } from '../../look/notices.ts';
import { problemsOf } from '../form-problems.ts';

export interface ThreadForm {
  readonly action: string;
  /** Null under a link, whose address is secret enough. */
  readonly csrfToken: string | null;
  /** Of the message that is written next, made with the page. */
  readonly messageId: string;
  readonly typed: string;
  readonly problem: Problem | null;
  /** Of the form, where the page’s own button at its end sends it. */
  readonly sentById?: string;
}

export interface Thread {
  readonly messages: readonly MessageView[];
  readonly timeZone: string;
  readonly form: ThreadForm;
}

/** A thread of a work order's page, on which nothing was typed yet. */
export function threadOf(
  { messages }: Pick<WorkOrderView, 'messages'>,
  timeZone: string,
  form: Omit<ThreadForm, 'typed' | 'problem'>,
): Thread {
  return { messages, timeZone, form: { ...form, typed: '', problem: null } };
}

/** What was asked and answered, and a place for the next message, as a part of a page. */
export function threadSection(thread: Thread): Html {
  return html`<section id="messages"><h2>Questions and answers</h2>${threadShown(thread)}</section>`;
}

export function threadShown({ messages, timeZone, form }: Thread): Html {
  const { summary, errorOf } = problemsOf(form.problem, ['text']);
  return html`${messages.map((message) => messageShown(message, timeZone))}
    <form ${attributes({ method: 'post', action: form.action, class: 'unprinted', 'data-sending': 'Sending…', id: form.sentById })}>
      ${errorSummary(summary)}
      ${form.csrfToken !== null && hiddenCsrf(form.csrfToken)}${hiddenField('id', form.messageId)}
      ${textArea({ name: 'text', label: messages.length === 0 ? 'A question about this' : 'Your message', hint: 'It is mailed to whoever has to know, and stays here.', value: form.typed, error: errorOf('text'), rows: 3, maxLength: 2000 })}
      ${form.sentById === undefined && quietButton({ label: sendLabel })}
    </form>`;
}

function messageShown({ side, author, text, writtenAt }: MessageView, timeZone: string): Html {
  const whose = side === 'account' ? 'the account' : 'the repair business';
  return html`<article>
    <p><b>${author}</b>, ${whose}, ${instantShown(writtenAt, timeZone)}</p>
    <blockquote>${text.split(/\r?\n/).map((line) => html`<p>${line}</p>`)}</blockquote>
  </article>`;
}

/** For the business's own pages: the account waits for an answer. */
export function questionNotice({ messages }: Pick<WorkOrderView, 'messages'>): Html | null {
  const last = messages.at(-1);
  if (last === undefined || last.side !== 'account') return null;
  return notice(
    'problem',
    questionOpenWords,
    html`<p>${last.author}: ${last.text}</p><p><a href="#messages">Answer</a></p>`,
  );
}

export const questionOpenWords = 'Question from the account, unanswered';
export const sendLabel = 'Send the message';
