import type { Problem } from '@grainwright/domain';
import { readSignerContact } from '@grainwright/operations/phone';
import { fieldButton, quietLink } from '../../../look/buttons.ts';
import { errorSummary, textField } from '../../../look/forms.ts';
import { html } from '../../../look/html.ts';
import { fieldPage } from '../../../look/layout.ts';
import { problemsOf } from '../../../pages/form-problems.ts';
import type { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction, PhoneAction } from '../action.ts';
import type { PhoneWork } from '../projection.ts';
import { problemOf, typedIn } from './mending.ts';
import { type Here, keep, notKept, orderPath, type Shown } from './screen.ts';
import { signedFacts } from './signed-facts.ts';
import { numberedWork } from './work-words.ts';

export type RefusedAnswer = Extract<PhoneAction, { kind: 'acceptance' }>;

/** The answer that the form on the screen mends; null where it mends none. */
export function refusedAnswer({ mending }: Here): RefusedAnswer | null {
  return mending?.action.kind === 'acceptance' ? mending.action : null;
}

/**
 * What may be mended of an answer that the server refused: how the signer is reached, and why the signature stands in spite
 * of what does not fit. What was signed stays as it was signed.
 */
export function mendAcceptance(here: Here, work: PhoneWork, kept: KeptAction): Shown {
  const { action } = kept;
  if (action.kind !== 'acceptance') return { goTo: '/field/phone/waiting' };
  return shown(here, work, { answer: action, contact: contactIn(action.body), problem: problemOf(kept) });
}

/** Keeps the mended answer in place of the refused one. */
export async function keepMendedAnswer(
  here: Here,
  work: PhoneWork,
  answer: RefusedAnswer,
  form: FormValues,
): Promise<Shown> {
  const contact = contactIn({
    signer_email: form.text('signer_email'),
    signer_phone: form.text('signer_phone'),
    override_reason: form.text('override_reason'),
  });
  const again = (problem: Problem) => shown(here, work, { answer, contact, problem });
  const read = readSignerContact({ signerEmail: contact.signer_email, signerPhone: contact.signer_phone });
  if (!read.ok) return again(read.problem);
  const { copy, ...body } = answer.body;
  const address = contact.signer_email;
  const wish =
    typeof copy === 'object' && copy !== null && address !== '' ? { copy: { ...copy, address } } : {};
  const trouble = await keep(here, { ...answer, body: { ...body, ...contact, ...wish } });
  return trouble === null ? { goTo: '/field/phone/waiting' } : again(notKept(trouble));
}

interface Contact {
  readonly signer_email: string;
  readonly signer_phone: string;
  readonly override_reason: string;
}

function contactIn(body: object): Contact {
  return {
    signer_email: typedIn(body, 'signer_email'),
    signer_phone: typedIn(body, 'signer_phone'),
    override_reason: typedIn(body, 'override_reason'),
  };
}

interface Mending {
  readonly answer: RefusedAnswer;
  readonly contact: Contact;
  readonly problem: Problem | null;
}

function shown({ frame }: Here, work: PhoneWork, { answer, contact, problem }: Mending): Shown {
  const { errorOf, summary } = problemsOf(problem, ['override_reason', 'signer_email', 'signer_phone']);
  return {
    page: fieldPage({
      ...frame,
      title: `Acceptance of ${numberedWork(work)}`,
      heading: 'Mend the acceptance',
      lead: numberedWork(work),
      current: null,
      scripts: [frame.assets.sending],
      body: html`${errorSummary(summary)}
        <p>What was signed stays as it was signed. Only what stands beside it can be corrected; for any other answer the signer is asked again.</p>
        <form id="acceptance" method="post" action="${orderPath(work)}/acceptance" data-sending="Keeping…">
          ${textField({ name: 'override_reason', label: 'Why the signature is right as it is', hint: 'Only needed where the office asks for it', value: contact.override_reason, error: errorOf('override_reason'), maxLength: 500, required: false, autocomplete: 'off' })}
          ${textField({ name: 'signer_email', label: 'The signer’s e-mail address', type: 'email', value: contact.signer_email, error: errorOf('signer_email'), maxLength: 254, required: false, autocomplete: 'off' })}
          ${textField({ name: 'signer_phone', label: 'The signer’s phone', type: 'tel', value: contact.signer_phone, error: errorOf('signer_phone'), maxLength: 40, required: false, autocomplete: 'off' })}
        </form>
        <h2>As it was signed</h2>
        ${signedFacts(answer)}
        <p>${quietLink({ label: 'Back to what waits', href: '/field/phone/waiting' })}</p>`,
      primaryAction: fieldButton({ label: 'Send the acceptance', form: 'acceptance' }),
    }),
  };
}
