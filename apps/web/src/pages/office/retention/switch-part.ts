import { type Problem, retentionKinds } from '@grainwright/domain';
import type { DueList, RetentionView, RuleSet } from '@grainwright/operations';
import { actionButton, quietButton, quietLink } from '../../../look/buttons.ts';
import { dayText, instantShown } from '../../../look/figures.ts';
import { errorSummary, hiddenCsrf, hiddenField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

/** Letting the rules delete, or stopping them, as it was typed. */
export interface TypedSwitch {
  /** Made with the page: pressing twice does it once. */
  readonly id: string;
  readonly reason: string;
  readonly problem: Problem | null;
}

interface SwitchPart {
  readonly frame: Frame;
  readonly view: RetentionView;
  readonly turn: TypedSwitch;
}

/** Stopping is done at once; letting the rules delete is asked again, with what would go. */
export function switchForm({ frame, view, turn }: SwitchPart): Html {
  const { summary, errorOf } = problemsOf(turn.problem, ['reason']);
  const { timeZone } = frame.me.business;
  const turned =
    view.turned && html`<p>${view.isOn ? 'Switched on' : 'Stopped'}: ${setWords(view.turned, timeZone)}</p>`;
  return html`<form method="post" action="/office/retention/switch" class="unprinted">
    ${errorSummary(summary)}
    ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', turn.id)}${hiddenField('on', view.isOn ? 'no' : 'yes')}
    <h2>Deleting</h2>
    ${
      view.isOn
        ? notice(
            'info',
            'The rules delete',
            html`<p>Once a day what is listed below goes for good, but for what a legal hold keeps.</p>${turned}`,
          )
        : notice(
            'info',
            'The rules do not delete',
            html`<p>Look at what would go below before you let them.</p>${turned}`,
          )
    }
    ${textField({ name: 'reason', id: 'field-switch-reason', label: view.isOn ? 'Why they stop' : 'Why they may delete', value: turn.reason, error: errorOf('reason'), required: !view.isOn, maxLength: 500, autocomplete: 'off' })}
    <p>${quietButton({ label: view.isOn ? 'Stop deleting' : 'Let the rules delete …' })}</p>
  </form>`;
}

/** The last question: what would go today, in figures. */
export function confirmSwitchView({ frame, view, turn }: SwitchPart): Html {
  return officePage({
    ...frame,
    title: 'Let the rules delete?',
    heading: 'Let the rules delete?',
    lead: 'What goes is gone for good; what it was, with its digest, stays on record.',
    current: 'retention',
    body: html`${notice('problem', 'What would go', goingWords(view.due))}
      <p>From then on, whatever passes its time goes as well, once a day. What a legal hold keeps stays.</p>
      <p>Why: “${turn.reason}”</p>
      <form method="post" action="/office/retention/switch">
        ${hiddenCsrf(frame.csrfToken)}${hiddenField('id', turn.id)}${hiddenField('on', 'yes')}
        ${hiddenField('reason', turn.reason)}${hiddenField('confirmed', 'yes')}
        <div class="buttons">${actionButton({ label: 'Let the rules delete' })}
          ${quietLink({ label: 'Leave it as it is', href: '/office/retention' })}</div>
      </form>`,
  });
}

/** “By Nov 30, 2026: 6 photos, 2 recordings; 4.1 MB in all.” */
function goingWords({ on, groups, more }: DueList): string {
  const going = groups.filter(({ held }) => !held);
  const held = groups.filter((group) => group.held).reduce((sum, { count }) => sum + count, 0);
  const kept = held === 0 ? '' : ` Legal holds keep ${held.toLocaleString('en-US')} more.`;
  if (going.length === 0) return `On ${dayText(on)} nothing has passed its time.${kept}`;
  const counts = new Map<string, number>();
  for (const { kind, count } of going)
    counts.set(retentionKinds[kind], (counts.get(retentionKinds[kind]) ?? 0) + count);
  const words = [...counts].map(([kind, count]) => `${count.toLocaleString('en-US')} ${kind}`);
  const bytes = going.reduce((sum, group) => sum + group.bytes, 0n);
  const least = more ? 'At least ' : '';
  return `${least}${words.join(', ')} passed their time by ${dayText(on)}, ${sizeText(bytes)} in all.${kept}`;
}

/** “Corbin Hale, Aug 6, 2027, 9:00 AM: the adviser agreed”. */
export function setWords({ by, at, reason }: RuleSet, timeZone: string): Html {
  return html`${by}, ${instantShown(at, timeZone)}${reason !== '' && html`: “${reason}”`}`;
}

/** “2.4 MB”, by thousands. */
export function sizeText(bytes: bigint): string {
  if (bytes < 1000n) return `${bytes} bytes`;
  if (bytes < 1_000_000n) return `${(Number(bytes) / 1000).toFixed(1)} kB`;
  return `${(Number(bytes) / 1_000_000).toFixed(1)} MB`;
}
