import { allows, type Problem } from '@grainwright/domain';
import { deletionWords, type WithholdingView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';

export interface WithholdPage {
  readonly frame: Frame;
  readonly recording: WithholdingView;
  readonly form: { readonly id: string; readonly reason: string; readonly problem: Problem | null };
}

/** Whether the account sees a recording: faces and plates in a film can’t be covered, so all of it is kept back. */
export function withholdView({ frame, recording, form }: WithholdPage): Html {
  const number = workOrderNumber(recording.number);
  return officePage({
    ...frame,
    title: `Who sees the recording, ${number}`,
    heading: 'Who sees the recording',
    lead: `${number}, walk around the vehicle`,
    current: 'work-orders',
    beside: quietLink({ label: 'The work order', href: `/office/work-orders/${recording.workOrderId}` }),
    body:
      recording.deletion === null
        ? keptPart(frame, recording, form)
        : notice(
            'info',
            'The recording is gone',
            `It was ${deletionWords('recordings', recording.deletion)}. Its digest: ${recording.sha256}`,
          ),
  });
}

function keptPart(frame: Frame, recording: WithholdingView, form: WithholdPage['form']): Html {
  const { recordingId, isWithheld, turns } = recording;
  const [last] = turns;
  return html`
    <p><video controls preload="none" playsinline src="/recordings/${recordingId}/film" aria-label="Walk around the vehicle"></video></p>
    ${
      isWithheld
        ? notice(
            'done',
            'The account does not see it',
            last && html`${last.reason}, ${instantShown(last.madeAt, frame.me.business.timeZone)}`,
          )
        : notice(
            'info',
            'The account sees it',
            'Parts of a film can’t be covered: keep it back as a whole where it shows faces or plates.',
          )
    }
    ${mayTurn(frame, isWithheld) && turnForm(frame, recording, form)}`;
}

function mayTurn({ me }: Frame, isWithheld: boolean): boolean {
  return allows(me.role, isWithheld ? 'uncover_photos' : 'cover_photos');
}

function turnForm(
  frame: Frame,
  { recordingId, isWithheld }: WithholdingView,
  { id, reason, problem }: WithholdPage['form'],
): Html {
  const { summary, errorOf } = problemsOf(problem, ['reason']);
  return html`<form method="post" action="/office/recordings/${recordingId}/withholding">
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', id)}${hiddenField('withhold', isWithheld ? 'no' : 'yes')}
    ${textField({ name: 'reason', label: 'Why', value: reason, error: errorOf('reason'), required: true, maxLength: 500, autocomplete: 'off' })}
    ${isWithheld ? quietButton({ label: 'Let the account see it again' }) : actionButton({ label: 'Keep it from the account' })}
  </form>`;
}
