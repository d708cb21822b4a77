import type { Problem } from '@grainwright/domain';
import type { PriceDraftView } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayText } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import type { Frame } from '../../person.ts';
import { differences } from './differences.ts';
import { draftPath, movedNotice, notTakenNotice, notToComeNotice } from './draft-view.ts';

export interface PublishPage {
  readonly frame: Frame;
  readonly draft: PriceDraftView;
  readonly problem: Problem | null;
}

/** All that a list would do, and the two ways that it ends: into force, or aside. */
export function publishPage({ frame, draft, problem }: PublishPage): Html {
  const day = dayText(draft.countsFrom);
  const form = (part: string, button: Html) => html`<form method="post" action="${draftPath(draft.id, part)}">
      ${hiddenCsrf(frame.csrfToken)}${hiddenField('revision', String(draft.revision))}${button}</form>`;
  // What would be refused is said before, and not offered.
  const warnings = [movedNotice(frame, draft, draft.revision), notToComeNotice(draft), notTakenNotice(draft)];
  const canPublish = warnings.every((warning) => warning === false);
  return officePage({
    ...frame,
    title: `Put ${draft.name} into force`,
    heading: `Put “${draft.name}” into force`,
    lead: `From ${day} on these prices count. What has been priced, agreed or invoiced until then stays as it is.`,
    beside: quietLink({ label: draft.name, href: draftPath(draft.id) }),
    current: 'price-book',
    body: html`${errorSummary(problem === null ? [] : [{ field: null, message: problem.detail }])}
      ${warnings}
      ${differences(draft)}
      <p><a href="${draftPath(draft.id, 'trial')}">What would change on the work of the last three months</a></p>
      <div class="buttons">${canPublish && form('publish', actionButton({ label: `Put it into force from ${day}` }))}
        ${form('discard', quietButton({ label: 'Discard this list' }))}</div>`,
  });
}
