import { acceptanceOutcomes, checkAcceptanceAnswer, type Problem, signerRoles } from '@grainwright/domain';
import type { ShownAcceptance } from '@grainwright/operations';
import { buildAcceptance, factsOfLines, readSignerContact } from '@grainwright/operations/phone';
import { fieldLink } from '../../../look/buttons.ts';
import { html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { notice } from '../../../look/notices.ts';
import { definitionList } from '../../../look/tables.ts';
import { vehicleShown, workShown } from '../../../pages/field/acceptance/shown-parts.ts';
import {
  answerIn,
  nothingAnswered,
  type TypedAnswer,
  typedAnswer,
} from '../../../pages/field/acceptance/typed-answer.ts';
import { acceptanceView } from '../../../pages/field/acceptance/view.ts';
import { momentHere } from '../moment-here.ts';
import { newId } from '../new-id.ts';
import type { PhoneWork } from '../projection.ts';
import { keepMendedAnswer, refusedAnswer } from './mend-acceptance.ts';
import { type Here, keep, madeThen, notKept, orderPath, type Screen, type Shown, workOf } from './screen.ts';
import { notHere } from './work-order.ts';
import { headingOf, numberedWork } from './work-words.ts';

/** The phone turned round: exactly what the server would show, built from what this phone has, and signed here. */
export const acceptanceScreen: Screen = {
  path: /^\/field\/work-orders\/([0-9a-f-]{36})\/acceptance\/?$/,
  get: (here, [id]) => {
    const work = workOf(here, id);
    return work === null ? notHere(here) : shown(here, work, { ...nothingAnswered, id: newId() }, null);
  },
  post: async (here, form, [id]) => {
    const work = workOf(here, id);
    if (work === null) return notHere(here);
    const refused = refusedAnswer(here);
    if (refused !== null) return keepMendedAnswer(here, work, refused, form);
    const typed = typedAnswer(form, newId);
    const again = (problem: Problem) => shown(here, work, typed, problem);
    const acceptance = acceptanceOf(work);
    if (acceptance === null) return { goTo: orderPath(work) };
    if (form.text('shown_digest') !== acceptance.digest) return again(changed);
    const answer = answerIn(form, navigator.userAgent);
    if (!answer.ok) return again(answer.problem);
    const checked = checkAcceptanceAnswer(answer.value, work.rules.acceptanceRule);
    if (!checked.ok) return again(checked.problem);
    const contact = readSignerContact(answer.value);
    if (!contact.ok) return again(contact.problem);
    const { value } = answer;
    const body = {
      id: typed.id,
      shown_digest: acceptance.digest,
      outcome: value.outcome,
      remark: value.remark,
      signer_name: value.signerName,
      signer_role: value.signerRole,
      signature: value.mark,
      override_reason: value.overrideReason,
      signer_email: typed.signerEmail,
      signer_phone: typed.signerPhone,
      answered_at: momentHere(here.sentAt),
      // A copy goes out with the answer; without an address it is asked for once there is signal.
      ...(typed.signerEmail === ''
        ? {}
        : { copy: { id: newId(), channel: 'mail', address: typed.signerEmail } }),
    };
    const made = madeThen(here, work.id, typed.id);
    const trouble = await keep(here, { ...made, kind: 'acceptance', body, shown: acceptance.canonical });
    if (trouble !== null) return again(notKept(trouble));
    return { page: thanks(here, work, acceptance, typed) };
  },
};

const changed = {
  code: 'shown_changed',
  detail: 'The work or its pictures have changed since they were shown. Look at them again and answer then.',
} as const;

/** What is shown, as the server builds it; null where there is nothing to accept here. */
function acceptanceOf(work: PhoneWork): (ShownAcceptance & { readonly canonical: string }) | null {
  if (work.state !== 'done' || work.versionId === null) return null;
  const lines = factsOfLines(work.lines.filter(({ answer }) => answer === 'approved'));
  const built = buildAcceptance(
    {
      vehicle: work.vehicle,
      lines: lines.map(({ lineId, part, side, damage, methods, repairsDamage, row }) => ({
        id: lineId,
        part,
        side: side ?? '',
        damage,
        methods,
        family: row.family,
        repairsDamage,
      })),
      photos: work.photos.map((photo) => ({ ...photo, ready: true, coveredOn: null, deletion: null })),
      stopPoints: work.stopPoints,
    },
    {
      workOrderId: work.id,
      versionId: work.versionId,
      ownNumbers:
        work.ownNumberKind === null || work.ownNumber === ''
          ? []
          : [{ kind: work.ownNumberKind, number: work.ownNumber }],
      prices: null,
    },
  );
  if (!built.ok) return null;
  const rule = work.rules.acceptanceRule;
  return { ...built.value, workOrder: headingOf(work), signer: rule === 'none' ? null : rule };
}

function shown({ frame }: Here, work: PhoneWork, typed: TypedAnswer, problem: Problem | null): Shown {
  const acceptance = acceptanceOf(work);
  if (acceptance === null) return { goTo: orderPath(work) };
  if (work.rules.showsPricesAtAcceptance) return { page: needsPrices(frame, work) };
  const scripts = { signatureScript: frame.assets.signature, sendingScript: frame.assets.sending };
  return { page: acceptanceView({ frame: { ...frame, ...scripts }, acceptance, typed, problem }) };
}

/** Prices are known with signal only, and whoever is to sign them has to see them. */
function needsPrices(frame: Here['frame'], work: PhoneWork) {
  return fieldPage({
    ...frame,
    title: 'Acceptance',
    heading: 'This acceptance needs a signal',
    lead: numberedWork(work),
    current: null,
    body: html`<p>This account is shown prices when it accepts, and prices come with the signal. Go where there is one, or send a link later.</p>`,
    primaryAction: fieldLink({ label: 'Back to the work order', href: orderPath(work) }),
  });
}

/** The copy that is on the screen; the one to keep goes out with the signal. */
function thanks({ frame }: Here, work: PhoneWork, acceptance: ShownAcceptance, typed: TypedAnswer) {
  const outcome = Object.entries(acceptanceOutcomes).find(([key]) => key === typed.outcome)?.[1] ?? '';
  const role = Object.entries(signerRoles).find(([key]) => key === typed.signerRole)?.[1] ?? '';
  return fieldPage({
    ...frame,
    title: 'Your answer',
    heading: typed.outcome === 'not_accepted' ? 'Your answer is kept' : 'Thank you',
    lead: acceptance.shown.vehicle.description,
    current: null,
    turnedRound: true,
    body: html`
      ${notice('done', 'Kept on this phone', typed.signerEmail === '' ? 'It is sent as soon as there is signal.' : `It is sent as soon as there is signal, and a copy to ${typed.signerEmail} with it.`)}
      ${vehicleShown(acceptance.shown)}
      ${workShown(acceptance.shown)}
      ${definitionList([
        { term: 'Answer', value: outcome },
        { term: 'Signed by', value: `${typed.signerName}, ${role}` },
        { term: 'Repaired by', value: `${frame.me.business.name}, ${frame.me.business.phone}` },
      ])}
      <p>SHA-256 of what was shown and signed: <code>${acceptance.digest}</code></p>`,
    primaryAction: fieldLink({ label: 'Hand the phone back', href: orderPath(work) }),
  });
}
