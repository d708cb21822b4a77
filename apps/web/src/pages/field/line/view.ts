import { formatDecimal, methods, type Problem } from '@grainwright/domain';
import type { WorkOrderLineView, WorkOrderView } from '@grainwright/operations';
import { fieldButton, fieldLink, quietButton, quietLink } from '../../../look/buttons.ts';
import { sums } from '../../../look/document-sheet.ts';
import { money } from '../../../look/figures.ts';
import { hiddenCsrf, hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { type Definition, definitionList } from '../../../look/tables.ts';
import type { Frame } from '../../person.ts';
import { byHandNote } from '../../work-order/price-parts.ts';
import { stateShown, workOrderNumber } from '../../work-order/state-words.ts';
import { nextStep } from '../next-step.ts';
import { lineChangeIn } from './keep-line.ts';

export interface LineShown {
  readonly frame: Frame;
  readonly view: WorkOrderView;
  readonly line: WorkOrderLineView;
  /** For the estimate's version, if sending it is what comes next. */
  readonly versionId: string;
  readonly problem: Problem | null;
}

/** One line as it stands: its price with the whole way to it, and what was observed and inferred. */
export function linePage({ frame, view, line, versionId, problem }: LineShown): Html {
  const path = `/field/work-orders/${view.id}`;
  const next = nextStep(view);
  return fieldPage({
    ...frame,
    title: `Line of ${workOrderNumber(view.number)}`,
    heading: line.words,
    lead: `${workOrderNumber(view.number)} · ${view.vehicle.description}`,
    current: null,
    scripts: [frame.assets.sending],
    body: html`
      ${problem && notice('problem', 'Not done', problem.detail)}
      <section><h2>Price</h2>${priceOf(view, line)}</section>
      <section><h2>What was found</h2>${definitionList(factsOf(line))}</section>
      ${changes({ frame, view, line, versionId })}
      <p>${quietLink({ label: 'Back to the work order', href: path })}</p>
      ${next.method === 'post' && nextForm(frame, next.href, versionId)}`,
    primaryAction:
      next.method === 'post'
        ? fieldButton({ label: next.label, form: 'next-step' })
        : fieldLink({ label: next.label, href: next.href }),
  });
}

function nextForm(frame: Frame, href: string, versionId: string): Html {
  return html`<form method="post" action="${href}" id="next-step" data-sending="Sending…">
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('version_id', versionId)}
  </form>`;
}

function priceOf(view: WorkOrderView, line: WorkOrderLineView): Html {
  const { estimate, currency } = view;
  const note = byHandNote(view, line.id);
  const priced = estimate?.lines.find((each) => each.lineId === line.id);
  if (priced === undefined)
    return notice('problem', 'No price yet', line.unpriced ?? 'This line is not part of the estimate.');
  const amount = (minor: bigint) => money(minor, currency);
  return html`<p>${line.rateCode ?? 'By hand'}, ${priced.repair}</p>
    ${sums([
      { term: 'Labor', value: amount(priced.laborMinor) },
      { term: 'Materials', value: amount(priced.materialsMinor) },
      { term: 'Price', value: amount(priced.netMinor) },
    ])}
    <p>${priced.trail}</p>${note !== '' && html`<p><strong>${note}</strong></p>`}`;
}

function factsOf(line: WorkOrderLineView): readonly Definition[] {
  const { entry } = line;
  const entries: readonly Definition[] = [
    { term: 'Observed', value: line.observed },
    { term: 'Inferred', value: line.inferred },
    {
      term: 'Measured',
      value: line.measuredInches !== null && `${formatDecimal(line.measuredInches)} in`,
    },
    { term: 'Methods', value: entry.methods.map((method) => methods[method].label).join(', ') },
    { term: 'Can be seen', value: line.visibleWhen },
    { term: 'Note', value: line.note },
  ];
  return entries.filter(({ value }) => value !== '' && value !== false);
}

function changes({ frame, view, line, versionId }: Omit<LineShown, 'problem'>): Html {
  const path = `/field/work-orders/${view.id}/lines/${line.id}`;
  const how = lineChangeIn(view.state);
  if (how === 'closed') return html`<p>${stateShown(view.state)}: the line doesn’t change any more.</p>`;
  const sends = how === 'sends_estimate';
  return html`${sends && html`<p>${stateShown(view.state)}: a change sends a changed estimate.</p>`}
    <div class="buttons">
      ${quietLink({ label: 'Change the damage', href: `${path}?change=damage` })}
      ${quietLink({ label: 'Change repair, size or price', href: `${path}?change=repair` })}
      <form method="post" action="${path}/remove">${hiddenCsrf(frame.csrfToken)}
        ${sends && hiddenField('version_id', versionId)}${quietButton({ label: `Take away: ${line.words}` })}</form>
    </div>`;
}
