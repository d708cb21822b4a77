import { allows, type Problem, voidReasons, type WorkOrderState } from '@grainwright/domain';
import { reworkable, type WorkOrderView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, hiddenCsrf, selectField, textField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { choicesOf } from '../../field/choices.ts';
import { problemsOf } from '../../form-problems.ts';
import type { Frame } from '../../person.ts';

export type Turn = 'hold' | 'hold-lift' | 'void' | 'acceptance-release';

/** What was typed on one of the forms, which came back. */
export interface TypedTurn {
  readonly turn: Turn;
  readonly reason: string;
  readonly note: string;
  readonly duplicateOf: string;
  readonly problem: Problem;
}

/** Hold and lift, a link to the owner, let go without a signature, rework, void: what this person may do at this point. */
export function turnForms(frame: Frame, view: WorkOrderView, typed: TypedTurn | null): Html | null {
  const forms = [
    hold(frame, view, typed),
    ownerLink(frame, view),
    release(frame, view, typed),
    rework(frame, view),
    legalHold(frame, view),
    voidForm(frame, view, typed),
  ].filter((form) => form !== null);
  return forms.length === 0
    ? null
    : html`<section class="unprinted"><h2>Something else?</h2>${forms}</section>`;
}

const holdable: readonly WorkOrderState[] = ['written_up', 'awaiting_approval', 'approved', 'in_work'];
const voidable: readonly WorkOrderState[] = [...holdable, 'done'];

function hold(frame: Frame, view: WorkOrderView, typed: TypedTurn | null): Html | null {
  if (!allows(frame.me.role, 'hold_work_order')) return null;
  if (view.holdReason !== null)
    return form(frame, view, typed, {
      turn: 'hold-lift',
      button: 'Lift the hold',
      label: 'Why it can go on',
      required: false,
    });
  if (!holdable.includes(view.state)) return null;
  return form(frame, view, typed, {
    turn: 'hold',
    button: 'Put it on hold',
    label: 'Why it has to wait',
    required: true,
  });
}

function release(frame: Frame, view: WorkOrderView, typed: TypedTurn | null): Html | null {
  const [missing] = view.notSigned;
  const open = view.state === 'done' && missing !== undefined && missing.released === null;
  if (!open || !allows(frame.me.role, 'release_acceptance')) return null;
  return form(frame, view, typed, {
    turn: 'acceptance-release',
    button: 'Let it go without a signature',
    label: 'Why it goes without a signature',
    required: true,
  });
}

function ownerLink({ me }: Frame, { id, state }: WorkOrderView): Html | null {
  if (state !== 'done' || !allows(me.role, 'give_links')) return null;
  const href = `/field/work-orders/${id}/owner-link`;
  return html`<p>${quietLink({ label: 'The owner has left: send a link', href })}</p>`;
}

function rework({ me }: Frame, view: WorkOrderView): Html | null {
  if (!reworkable.includes(view.state) || view.reworkOf !== null || !allows(me.role, 'write_up')) return null;
  const href = `/field/work-orders/${view.id}/rework`;
  return html`<p>${quietLink({ label: 'It came back: write up a rework without charge', href })}</p>`;
}

function legalHold({ me }: Frame, { id }: WorkOrderView): Html | null {
  if (!allows(me.role, 'keep_for_law')) return null;
  return html`<p>${quietLink({ label: 'Legal hold: keep it from being deleted', href: `/office/work-orders/${id}/legal-holds` })}</p>`;
}

function voidForm(frame: Frame, view: WorkOrderView, typed: TypedTurn | null): Html | null {
  if (!voidable.includes(view.state) || !allows(frame.me.role, 'void_work_order')) return null;
  const own = typed?.turn === 'void' ? typed : null;
  const { summary, errorOf } = problemsOf(own?.problem ?? null, ['reason', 'note', 'duplicate_of']);
  return html`<form method="post" action="/office/work-orders/${view.id}/void">
    ${errorSummary(summary)}${hiddenCsrf(frame.csrfToken)}
    ${selectField({ name: 'reason', id: 'void-reason', label: 'Void it because', empty: 'Choose why', required: true, error: errorOf('reason'), value: own?.reason, choices: choicesOf(voidReasons) })}
    ${textField({ name: 'duplicate_of', label: 'The work order that stays', hint: 'Where it was written up twice, like WO-1001', error: errorOf('duplicate_of'), value: own?.duplicateOf, code: true, maxLength: 20, required: false, autocomplete: 'off' })}
    ${textField({ name: 'note', id: 'void-note', label: 'Note', error: errorOf('note'), value: own?.note, maxLength: 500, required: false, autocomplete: 'off' })}
    <div class="buttons">${quietButton({ label: 'Void this work order' })}</div>
  </form>`;
}

function form(
  frame: Frame,
  view: WorkOrderView,
  typed: TypedTurn | null,
  asked: {
    readonly turn: Turn;
    readonly button: string;
    readonly label: string;
    readonly required: boolean;
  },
): Html {
  const own = typed?.turn === asked.turn ? typed : null;
  const { summary, errorOf } = problemsOf(own?.problem ?? null, ['reason']);
  return html`<form method="post" action="/office/work-orders/${view.id}/${asked.turn}">
    ${errorSummary(summary)}${hiddenCsrf(frame.csrfToken)}
    ${textField({ name: 'reason', id: `${asked.turn}-reason`, label: asked.label, error: errorOf('reason'), value: own?.reason, required: asked.required, maxLength: 500, autocomplete: 'off' })}
    <div class="buttons">${quietButton({ label: asked.button })}</div>
  </form>`;
}
