import { isUuid, photoPurposes } from '@grainwright/domain';
import { vehicleWords } from '@grainwright/operations/phone';
import { pictureRow } from '../../../look/before-after.ts';
import { fieldButton, fieldLink, quietLink } from '../../../look/buttons.ts';
import { hiddenField } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { dataTable, definitionList, emptyState } from '../../../look/tables.ts';
import { stepOf } from '../../../pages/field/next-step.ts';
import { stateShown } from '../../../pages/work-order/state-words.ts';
import { newId } from '../new-id.ts';
import { mayGoOnUnasked, nextTaskOf, type PhoneWork } from '../projection.ts';
import { type Here, keep, madeThen, orderPath, type Screen, type Shown, workOf } from './screen.ts';
import { linesOf, numberOf } from './work-words.ts';

/** A work order as this phone has it, with its next step. */
export const workOrderScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : { page: workOrderPage(here, work, null) };
  },
};

/** Sends the estimate: kept here, and priced and answered when it goes out. */
export const estimateScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/estimate\/?$/,
  get: (_here, [id]) => ({ goTo: `/field/work-orders/${id}` }),
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    if (work.state !== 'written_up') return { goTo: orderPath(work) };
    const versionId = isUuid(form.text('id')) ? form.text('id') : newId();
    const trouble = await keep(here, {
      ...madeThen(here, work.id, versionId),
      kind: 'estimate',
      body: { id: versionId },
    });
    return trouble === null ? { goTo: orderPath(work) } : { page: workOrderPage(here, work, trouble) };
  },
};

/** What this phone has not taken along can’t be shown without signal. */
export function notHere({ frame }: Here): Shown {
  return {
    missing: true,
    page: fieldPage({
      ...frame,
      title: 'Not on this phone',
      heading: 'Not on this phone',
      current: null,
      body: html`<p>This page needs a signal. The phone takes along the stops of the day and what is written up here.</p>`,
      primaryAction: fieldLink({ label: 'Back to today’s stops', href: '/field' }),
    }),
  };
}

function workOrderPage(here: Here, work: PhoneWork, trouble: string | null): Html {
  const { frame } = here;
  return fieldPage({
    ...frame,
    title: numberOf(work),
    heading: vehicleWords(work.vehicle, work.ownNumber),
    lead: [numberOf(work), work.ownNumber, work.accountName].filter((part) => part !== '').join(' · '),
    current: null,
    body: html`
      ${trouble !== null && notice('problem', 'Not kept', trouble)}
      <p>${stateShown(work.state)}</p>
      ${standing(work)}
      <h2>Lines</h2>
      ${lineTable(work)}
      ${work.state === 'written_up' && work.lines.length > 0 && html`<p>${quietLink({ label: 'Add another line', href: `${orderPath(work)}/lines/new` })}</p>`}
      <h2>Photos</h2>
      ${photoRow(work)}
      <p>${quietLink({ label: 'Photos', href: `${orderPath(work)}/photos` })}</p>
      ${definitionList(factsOf(work))}
      ${work.state === 'done' && html`<p>${quietLink({ label: 'Nobody signs', href: `${orderPath(work)}/not-signed` })}</p>`}
      ${['written_up', 'awaiting_approval', 'approved'].includes(work.state) && work.lines.length > 0 && html`<p>${quietLink({ label: 'Quote for a new part', href: `${orderPath(work)}/quotes` })}</p>`}
      ${nextTaskOf(work).kind === 'send' && html`<form id="estimate" method="post" action="${orderPath(work)}/estimate">${hiddenField('id', newId())}</form>`}`,
    primaryAction: nextAction(work),
  });
}

/** What can be said of it without the server. */
function standing(work: PhoneWork): Html {
  const waits = work.waiting.length > 0;
  return html`${waits && notice('info', 'Not sent yet', html`<p>Kept on this phone: ${work.waiting.length === 1 ? '1 step' : `${work.waiting.length} steps`}. <a href="/field/phone/waiting">What waits</a></p>`)}
    ${work.state === 'written_up' && work.lines.length > 0 && notice('info', 'Priced when sent', pricedWhenSent(work))}
    ${work.state === 'awaiting_approval' && waits && notice('info', 'A person has to approve it', 'It goes to the account as soon as there is signal. Work starts when the answer is there.')}
    ${work.state === 'approved' && waits && notice('info', 'Going on with what was agreed beforehand', `The account agreed ${work.rules.standing ?? 'to this rework'}. If the price comes to more, you are told when it is sent.`)}
    ${work.holdReason !== null && notice('problem', 'On hold', work.holdReason)}
    ${work.nobodySigned && notice('info', 'Nobody signed', 'Kept on record. Somebody may still sign later, or a manager lets it go.')}
    ${work.notAccepted && notice('problem', 'Not accepted', 'Put it right, take a new picture, and ask again.')}`;
}

function pricedWhenSent(work: PhoneWork): string {
  if (mayGoOnUnasked(work))
    return `Prices come with the signal. The account agreed ${work.rules.standing ?? 'to this rework'}, so you may go on.`;
  return 'Prices come with the signal, and a person of the account has to approve before work starts.';
}

function lineTable(work: PhoneWork): Html {
  return dataTable({
    caption: 'Lines',
    captionHidden: true,
    rows: linesOf(work),
    empty: emptyState('No line yet', 'A line is one part and what is wrong with it.'),
    columns: [
      {
        header: 'Line',
        names: true,
        cell: ({ label }) => label,
      },
      { header: 'Measured', cell: ({ row }) => row.measuredInches !== null && `${row.measuredInches} in` },
      { header: 'Repair', cell: ({ row }) => row.family },
      { header: 'Answer', cell: ({ row }) => row.answer },
    ],
  });
}

function photoRow({ photos }: PhoneWork): Html {
  if (photos.length === 0) return html`<p>No photo yet.</p>`;
  return pictureRow(
    photos.map(({ id, purpose }) => ({
      src: `/photos/${id}/thumb`,
      alt: photoPurposes[purpose],
      caption: photoPurposes[purpose],
      href: `/photos/${id}/original`,
    })),
  );
}

function factsOf({ vehicle, roNumber, poNumber, ownerName, ownNumber }: PhoneWork) {
  const vin = vehicle.vin ?? (vehicle.lastEight === null ? '' : `…${vehicle.lastEight}`);
  return [
    { term: 'VIN', value: vin },
    { term: 'Own number', value: ownNumber },
    { term: 'RO', value: roNumber },
    { term: 'PO', value: poNumber },
    { term: 'Owner', value: ownerName },
  ].filter(({ value }) => value !== '');
}

function nextAction(work: PhoneWork): Html {
  const task = nextTaskOf(work);
  if (task.kind === 'send') {
    const label = mayGoOnUnasked(work) ? 'Go on: agreed beforehand' : 'Send for approval';
    return fieldButton({ label, form: 'estimate' });
  }
  // A test of a key is written down with signal; the rest of the work goes on.
  const { label, href } = stepOf(
    work.id,
    task.kind === 'test_key' ? { kind: 'finish' } : task,
    work.isRework,
  );
  return fieldLink({ label, href });
}
