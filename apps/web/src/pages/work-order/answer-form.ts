import type { LineId, PhotoId, VersionId } from '@grainwright/domain';
import { actionButton } from '../../look/buttons.ts';
import { moneyText } from '../../look/figures.ts';
import { hiddenCsrf, hiddenField, radioCards, textField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import type { TypedAnswer } from './answers.ts';

export interface AnswerForm {
  readonly action: string;
  /** Null where the address itself is the secret. */
  readonly csrfToken: string | null;
  readonly versionId: VersionId;
  readonly digest: string;
  /** The photos that stand on the page; what somebody saw is kept with their answer. */
  readonly photoIds: readonly PhotoId[];
  readonly currency: string;
  readonly lines: readonly {
    readonly lineId: LineId;
    readonly words: string;
    readonly offeredMinor: bigint;
  }[];
  /** What was typed before; a line without is offered as a yes. */
  readonly typed: readonly TypedAnswer[];
  /** More fields above the button, where somebody else answers for the contact. */
  readonly before?: Html | undefined;
}

/** Yes or no to each line. It only asks for the new total: the answer itself is sent from there. */
export function answerForm(form: AnswerForm): Html {
  return html`<form method="post" action="${form.action}">
    ${form.csrfToken !== null && hiddenCsrf(form.csrfToken)}
    ${hiddenField('version_id', form.versionId)}
    ${hiddenField('digest', form.digest)}
    ${hiddenField('photos', form.photoIds.join(','))}
    ${hiddenField('lines', form.lines.map(({ lineId }) => lineId).join(','))}
    ${form.before}
    ${form.lines.map((line) => lineFields(line, form))}
    <div class="buttons">${actionButton({ label: 'See the new total' })}</div>
    <p class="hint">Nothing is sent yet. Declining a line can change the price of the others; you see the new total first.</p>
  </form>`;
}

function lineFields({ lineId, words, offeredMinor }: AnswerForm['lines'][number], form: AnswerForm): Html {
  const typed = form.typed.find((each) => each.lineId === lineId);
  return html`${radioCards({
    name: `answer-${lineId}`,
    label: `${words}, ${moneyText(offeredMinor, form.currency)}`,
    value: typed === undefined ? 'approved' : (typed.answer ?? ''),
    choices: [
      { value: 'approved', label: 'Approve' },
      { value: 'declined', label: 'Decline', detail: 'stays on record, is not billed' },
    ],
  })}
    ${textField({
      name: `reason-${lineId}`,
      label: 'Why not, if you decline',
      value: typed?.reason,
      required: false,
      maxLength: 500,
      autocomplete: 'off',
    })}`;
}
