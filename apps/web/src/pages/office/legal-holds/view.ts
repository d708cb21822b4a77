import { allows, type Problem } from '@grainwright/domain';
import type { LegalHoldView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { emptyState } from '../../../look/tables.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface LegalHoldsPage {
  readonly frame: Frame;
  /** What is held, with where its page is. */
  readonly of: {
    readonly words: string;
    readonly base: string;
    readonly section: 'work-orders' | 'accounts';
  };
  readonly holds: readonly LegalHoldView[];
  readonly placing: { readonly id: string; readonly reason: string; readonly problem: Problem | null };
  /** A hold whose lifting came back. */
  readonly lifting: { readonly id: string; readonly reason: string; readonly problem: Problem } | null;
}

/** What keeps a work order or an account from being deleted, and a new reason to. */
export function legalHoldsView(page: LegalHoldsPage): Html {
  const { frame, of, holds } = page;
  return officePage({
    ...frame,
    title: `Legal hold, ${of.words}`,
    heading: 'Legal hold',
    lead: of.words,
    current: of.section,
    beside: quietLink({ label: 'Back', href: of.base }),
    body: html`
      ${
        holds.length === 0
          ? emptyState(
              'No hold',
              'What is on record here goes when its time is over by the business’s rules, if it has any.',
            )
          : holds.map((hold) => holdShown(page, hold))
      }
      ${allows(frame.me.role, 'keep_for_law') && placeForm(page)}`,
  });
}

/** “Legal hold on WO-1004”, or on all of its account. */
export function holdWords({ workOrderNumber: number, accountName }: LegalHoldView): string {
  return number === null
    ? `Legal hold on all of ${accountName ?? 'the account'}`
    : `Legal hold on ${workOrderNumber(number)}`;
}

/** On the pages of a work order and of an account. */
export function holdNotices(holds: readonly LegalHoldView[], timeZone: string): readonly Html[] {
  return holds.map((hold) =>
    notice(
      'info',
      holdWords(hold),
      html`${hold.reason} (${hold.placedByName}, ${instantShown(hold.placedAt, timeZone)}). Nothing of it is deleted.`,
    ),
  );
}

function holdShown({ frame, of, lifting }: LegalHoldsPage, hold: LegalHoldView): Html {
  const typed = lifting?.id === hold.id ? lifting : null;
  const field = `lift-${hold.id}`;
  const { summary, errorOf } = problemsOf(typed?.problem ?? null, [field]);
  return html`<section><h2>${holdWords(hold)}</h2>
    <p>${hold.reason}</p>
    <p class="hint">${hold.placedByName}, ${instantShown(hold.placedAt, frame.me.business.timeZone)}</p>
    ${
      allows(frame.me.role, 'change_retention') &&
      html`<form method="post" action="${of.base}/legal-holds/${hold.id}/end" class="unprinted">
      ${errorSummary(summary)}
      ${hiddenCsrf(frame.csrfToken)}
      ${textField({ name: 'reason', id: `field-${field}`, label: 'Why it may go', value: typed?.reason ?? '', error: errorOf(field), required: true, maxLength: 500, autocomplete: 'off' })}
      ${quietButton({ label: 'Lift the hold' })}
    </form>`
    }</section>`;
}

function placeForm({ frame, of, placing }: LegalHoldsPage): Html {
  const { summary, errorOf } = problemsOf(placing.problem, ['reason']);
  return html`<form method="post" action="${of.base}/legal-holds" class="unprinted">
    <h2>Keep everything of ${of.words}</h2>
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', placing.id)}
    ${textField({ name: 'reason', label: 'Why it is to be kept', hint: 'E.g. a claim of the account’s insurer, with its number. A hold beats every rule: photos, recordings, files and mails stay until the owner of the business lifts it.', value: placing.reason, error: errorOf('reason'), required: true, maxLength: 500, autocomplete: 'off' })}
    ${actionButton({ label: 'Place the hold' })}
  </form>`;
}
