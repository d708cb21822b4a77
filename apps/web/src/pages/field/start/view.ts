import type { Problem } from '@grainwright/domain';
import type { StartView } from '@grainwright/operations';
import { noticeable } from '@grainwright/operations/phone';
import { fieldButton, fieldLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { checkboxField, errorSummary, hiddenCsrf, hiddenField, textArea } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { FieldFrame } from '../../person.ts';
import { certificateNotice } from '../../work-order/certificate-notice.ts';
import { workOrderNumber } from '../../work-order/state-words.ts';
import { lampField } from '../lamp-field.ts';
import { workLead, workOrderPath } from '../work-words.ts';

export interface StartPage {
  readonly frame: FieldFrame & { readonly sendingScript: string };
  readonly start: StartView;
  readonly acknowledgmentId: string;
  readonly acknowledged: readonly string[];
  readonly noticed: readonly string[];
  readonly airbagLamp: string;
  readonly releaseReason: string;
  readonly problem: Problem | null;
}

export function startView(page: StartPage): Html {
  const { frame, start } = page;
  const path = workOrderPath(start.workOrder);
  const startable =
    start.workOrder.state === 'approved' && start.blockedSeam === null && start.holdReason === null;
  return fieldPage({
    ...frame,
    title: `Start ${workOrderNumber(start.workOrder.number)}`,
    heading: 'Before you start',
    lead: workLead(start.workOrder),
    current: null,
    scripts: [frame.sendingScript],
    body: html`
      ${errorSummary(problemsOf(page.problem, ['reason']).summary)}
      ${standing(start)}
      ${start.workOrder.state === 'approved' && certificateNotice(start.certificateWarning, 'business')}
      ${start.workOrder.state === 'approved' && start.missingPhotos.length > 0 && photosFirst(start)}
      ${start.blockedSeam !== null && blocked(page, start.blockedSeam)}
      ${start.lines.length > 0 && html`<h2>Approved</h2><ul>${start.lines.map((line) => html`<li>${line}</li>`)}</ul>`}
      ${start.workOrder.state === 'approved' && cautionForm(page)}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>`,
    primaryAction: startable
      ? fieldButton({ label: 'Start work', form: 'start' })
      : fieldLink({ label: 'Back to the work order', href: path }),
  });
}

function standing({ workOrder, holdReason }: StartView): Html | null {
  if (workOrder.state === 'in_work')
    return notice('info', 'Work has started', 'Take progress photos as things come to light.');
  if (workOrder.state !== 'approved')
    return notice('info', 'Nothing to start', 'Work can start once the account has approved it.');
  return holdReason === null ? null : notice('problem', 'On hold', holdReason);
}

function photosFirst({ workOrder, missingPhotos }: StartView): Html {
  const href = `${workOrderPath(workOrder)}/photos?purpose=walk_around`;
  return notice(
    'problem',
    'A picture first',
    html`<p>Before you touch the vehicle, show what was already there: ${missingPhotos.join(', ')}.</p>
      <p>${quietLink({ label: 'Take it', href })}</p>`,
  );
}

function cautionForm(page: StartPage): Html {
  const { frame, start, acknowledgmentId, acknowledged, noticed, airbagLamp, problem } = page;
  return html`<form id="start" method="post" action="${workOrderPath(start.workOrder)}/start" data-sending="One moment…">
    <h2>${start.cautions.length === 0 ? 'No caution for this work' : 'Read and tick each'}</h2>
    ${hiddenCsrf(frame.csrfToken)}
    ${hiddenField('id', acknowledgmentId)}
    ${start.cautions.map(({ code, sentence }) =>
      checkboxField({
        name: 'acknowledge',
        id: `caution-${code}`,
        label: sentence,
        value: code,
        checked: acknowledged.includes(code),
      }),
    )}
    ${lampField('Airbag lamp as it came', airbagLamp, problemsOf(problem, ['airbag_lamp']).errorOf('airbag_lamp'))}
    ${noticedFields(noticed)}
  </form>`;
}

/** Part of the start: what is ticked here asks for cautions of its own, and work does not start before those are ticked too. */
function noticedFields(noticed: readonly string[]): Html {
  return html`<h2>Anything else at this vehicle?</h2>
    ${Object.entries(noticeable).map(([code, words]) =>
      checkboxField({
        name: 'noticed',
        id: `noticed-${code}`,
        label: `Yes: ${words}`,
        value: code,
        checked: noticed.includes(code),
      }),
    )}
    ${quietButton({ label: 'Show the cautions for it', name: 'look', value: 'yes', unfinished: true })}`;
}

function blocked(
  { frame, start, releaseReason, problem }: StartPage,
  seam: NonNullable<StartView['blockedSeam']>,
): Html {
  const words = `${seam.label}: a side airbag may open through this seam. It is not sewn unless the vehicle maker’s instructions allow it and the owner of the business has released the line.`;
  if (!start.mayRelease) return notice('problem', 'This line is blocked', words);
  return html`${notice('problem', 'This line is blocked', words)}
    <form method="post" action="${workOrderPath(start.workOrder)}/seam-release">
      ${hiddenCsrf(frame.csrfToken)}
      ${hiddenField('line_id', seam.id)}
      ${textArea({
        name: 'reason',
        label: 'Why it may be sewn',
        value: releaseReason,
        error: problemsOf(problem, ['reason']).errorOf('reason'),
        required: true,
        maxLength: 500,
      })}
      ${quietButton({ label: 'Release the line' })}
    </form>`;
}
