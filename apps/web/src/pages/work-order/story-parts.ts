import {
  type KeyResult,
  type KeyStep,
  keyMeaning,
  keyResults,
  keySteps,
  missingSignatureReasons,
  reworkReasons,
  voidReasons,
  witnessWords,
} from '@grainwright/domain';
import type { KeyTestView, NotSignedView, WorkOrderView } from '@grainwright/operations';
import { pictureRow } from '../../look/before-after.ts';
import { instantShown, money } from '../../look/figures.ts';
import { type Html, html } from '../../look/html.ts';
import { notice, statusWord } from '../../look/notices.ts';
import { dataTable, definitionList } from '../../look/tables.ts';
import { ownerLinkNotice } from './owner-link-parts.ts';
import { pictureState } from './photo-state.ts';
import { picturesOf } from './pictures.ts';
import { workOrderNumber } from './state-words.ts';

/** What has to be seen before anything else. `base` is where this person's work orders are: “/office/work-orders”. */
export function storyNotices(view: WorkOrderView, base: string, timeZone: string): readonly Html[] {
  const { voided, reworkOf } = view;
  const link = ({ id, number }: { readonly id: string; readonly number: bigint }) =>
    html`<a href="${base}/${id}">${workOrderNumber(number)}</a>`;
  return [
    ...(voided === null ? [] : [voidedNotice(voided, view.currency, link)]),
    ...(reworkOf === null
      ? []
      : [
          notice(
            'info',
            'Rework without charge',
            html`It puts right ${link(reworkOf)}: ${reworkReasons[reworkOf.reason]}. What was done there stands below.`,
          ),
        ]),
    ...view.cameBack.map((each) =>
      notice(
        'info',
        'This work came back',
        html`${link(each)}: ${reworkReasons[each.reason]}, put right without charge.`,
      ),
    ),
    ...(view.acceptance?.outcome === undefined || view.acceptance.outcome === 'not_accepted'
      ? view.notSigned.slice(0, 1).map((each) => notSignedNotice(each, timeZone))
      : []),
    ...[ownerLinkNotice(view)].filter((each) => each !== null),
  ];
}

type LinkTo = (order: { readonly id: string; readonly number: bigint }) => Html;

function voidedNotice(
  { reason, note, duplicateOf, noShowFeeMinor }: NonNullable<WorkOrderView['voided']>,
  currency: string,
  link: LinkTo,
): Html {
  const words = reason === null ? 'It counts no more' : voidReasons[reason];
  return notice(
    'info',
    `Void: ${words}`,
    html`${duplicateOf && html`<p>${link(duplicateOf)} stays.</p>`}
      ${noShowFeeMinor !== null && html`<p>By the account’s terms the visit costs ${money(noShowFeeMinor, currency)}.</p>`}
      ${note !== '' && html`<p>${note}</p>`}`,
  );
}

function notSignedNotice({ why, reason, witness, released }: NotSignedView, timeZone: string): Html {
  return notice(
    released === null ? 'problem' : 'info',
    `Not signed: ${missingSignatureReasons[why]}`,
    html`<p>“${reason}” ${witnessWords(witness)}.</p>
      ${
        released === null
          ? html`<p>It is not accepted. Somebody may still sign, or a manager lets it go.</p>`
          : html`<p>Released by ${released.by}, ${instantShown(released.at, timeZone)}: ${released.reason}</p>`
      }`,
  );
}

/** What a rework puts right: the first order’s lines and pictures. */
export function firstOrderShown(first: WorkOrderView): Html {
  const done = first.lines.filter((line) => line.answer !== 'declined');
  return html`<section><h2>The first time, ${workOrderNumber(first.number)}</h2>
    <ul>${done.map((line) => html`<li>${line.words}</li>`)}</ul>
    ${picturesOf(first)}</section>`;
}

/** The rest of the story, below the photos: stop points, tests of keys, what it cost. */
export function storySections(view: WorkOrderView, timeZone: string): Html {
  return html`
    ${view.stopPoints.length > 0 && html`<section><h2>Stopped on purpose</h2>${view.stopPoints.map((each) => stopPoint(view, each))}</section>`}
    ${view.keyTests.map((each) => html`<section><h2>Key remote, tested</h2>${keySheet(each, timeZone)}</section>`)}
    ${facts(view)}`;
}

function stopPoint(
  view: WorkOrderView,
  { lineId, photoId, note, shown }: WorkOrderView['stopPoints'][number],
): Html {
  const words = view.lines.find((line) => line.id === lineId)?.words ?? 'The vehicle';
  const photo = view.photos.find(({ id }) => id === photoId);
  const state = photo === undefined ? { ready: false } : pictureState(photo);
  return html`<p><b>${words}</b>: ${note}${!shown && ' (not shown to the account or the owner)'}</p>
    ${pictureRow([
      {
        src: `/photos/${photoId}/thumb`,
        ...state,
        alt: `${words}: stop point`,
        href: `/photos/${photoId}/view`,
      },
    ])}`;
}

const isStep = (key: string): key is KeyStep => Object.hasOwn(keySteps, key);

function keySheet({ sheet, verdict, testedAt }: KeyTestView, timeZone: string): Html {
  const verdicts = { passed: 'settled', failed: 'problem', unfinished: 'waiting' } as const;
  const words = { passed: 'all tests passed', failed: 'a test failed', unfinished: 'not through yet' };
  return html`<p>${statusWord(verdicts[verdict], words[verdict])}, ${instantShown(testedAt, timeZone)}</p>
    ${dataTable({
      caption: 'Tests in their order',
      captionHidden: true,
      rows: Object.keys(keySteps).filter(isStep),
      empty: html`<p>Nothing was tested.</p>`,
      columns: [
        { header: 'Test', names: true, cell: (step) => keySteps[step].label },
        { header: 'Result', cell: (step) => resultWords(sheet[step]) },
        { header: 'What it means', cell: (step) => keyMeaning(step, sheet[step]) },
      ],
    })}`;
}

function resultWords(result: KeyResult | null): string {
  return result === null ? 'not tested' : keyResults[result];
}

function facts({ costs, airbagLamp, currency }: WorkOrderView): Html | null {
  const lamp = [
    airbagLamp.before === null ? '' : `${airbagLamp.before} as it came`,
    airbagLamp.after === null ? '' : `${airbagLamp.after} as it left`,
  ].filter((words) => words !== '');
  const entries = [
    ...(lamp.length === 0 ? [] : [{ term: 'Airbag lamp', value: lamp.join(', ') }]),
    ...(costs?.technicianMinutes
      ? [{ term: 'Technician’s time', value: `${costs.technicianMinutes} min` }]
      : []),
    ...(costs === null || costs.materialsCostMinor === null
      ? []
      : [{ term: 'Materials used', value: money(costs.materialsCostMinor, currency) }]),
  ];
  return entries.length === 0 ? null : html`<section><h2>Noted</h2>${definitionList(entries)}</section>`;
}
