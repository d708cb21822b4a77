import type { PersonId } from '@grainwright/domain';
import type { DelegationView } from '@grainwright/operations';
import { dayShown, instantShown, money } from '../../look/figures.ts';
import { hiddenCsrf } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { statusWord } from '../../look/notices.ts';
import { dataTable, emptyState } from '../../look/tables.ts';
import type { Frame } from '../person.ts';

/** Who looks, and what they may take back there. */
export interface DelegationTable {
  readonly frame: Frame;
  readonly delegations: readonly DelegationView[];
  readonly currency: string;
  /** Where the buttons are sent, before `/<id>/end`. */
  readonly base: string;
  readonly mayEnd: (delegation: DelegationView) => boolean;
}

/** Who of an account answers for whom, and until when. */
export function delegationTable(table: DelegationTable): Html {
  const { frame, delegations, currency } = table;
  return dataTable({
    caption: 'Who answers for whom',
    captionHidden: true,
    columns: [
      { header: 'Answers', names: true, cell: (each) => html`<span class="long-name">${each.toName}</span>` },
      { header: 'For', cell: (each) => html`<span class="long-name">${each.fromName}</span>` },
      { header: 'From', cell: (each) => dayShown(each.validFrom) },
      { header: 'Through', cell: (each) => dayShown(each.validTo) },
      {
        header: 'Up to',
        figure: true,
        cell: (each) => (each.limitMinor === null ? 'their limit' : money(each.limitMinor, currency)),
      },
      { header: 'Today', cell: (each) => standing(each, frame.me.business.timeZone) },
      {
        header: 'Change',
        cell: (each) => table.mayEnd(each) && isAhead(each) && endForm(table, each),
      },
    ],
    rows: delegations,
    empty: emptyState('Nobody', 'Every approver answers for themselves.'),
  });
}

/** Of those that a person named or answers by. */
export function isTheirs({ fromPerson, toPerson }: DelegationView, personId: PersonId): boolean {
  return fromPerson === personId || toPerson === personId;
}

function isAhead({ standing }: DelegationView): boolean {
  return standing === 'counts' || standing === 'not_yet';
}

function standing({ standing: where, endedAt, recordedByName }: DelegationView, timeZone: string): Html {
  const by = recordedByName !== null && html`<br><span class="hint">written down by ${recordedByName}</span>`;
  if (where === 'taken_back' && endedAt !== null)
    return html`${statusWord('stopped', 'taken back')} ${instantShown(endedAt, timeZone)}${by}`;
  return html`${words[where]}${by}`;
}

const words = {
  not_yet: statusWord('waiting', 'not yet'),
  counts: statusWord('settled', 'counts'),
  over: statusWord('stopped', 'over'),
  taken_back: statusWord('stopped', 'taken back'),
  somebody_left: statusWord('stopped', 'one of them has left'),
} as const;

function endForm({ frame, base }: DelegationTable, { id, toName, fromName }: DelegationView): Html {
  return html`<form method="post" action="${base}/${id}/end">
    ${hiddenCsrf(frame.csrfToken)}<button class="plain-button">Take it back<span class="heard">: ${toName} for ${fromName}</span></button>
  </form>`;
}
