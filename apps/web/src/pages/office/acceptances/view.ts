import { acceptanceOutcomes, type Problem, signerRoles } from '@grainwright/domain';
import type { AcceptanceRecord, CopyGiven, NotSignedView } from '@grainwright/operations';
import { quietButton, quietLink } from '../../../look/buttons.ts';
import { instantShown } from '../../../look/figures.ts';
import { hiddenCsrf } from '../../../look/forms.ts';
import { attributes, type Html, html } from '../../../look/html.ts';
import { officePage } from '../../../look/layout.ts';
import { type Definition, definitionList, emptyState } from '../../../look/tables.ts';
import { copyForm, type TypedCopy } from '../../field/acceptance/copy-parts.ts';
import type { Frame } from '../../person.ts';
import { signatureShown } from '../../work-order/acceptance-shown.ts';
import { nobodySigned } from '../../work-order/attempts.ts';
import { copiesShown } from '../../work-order/copies-shown.ts';

export interface AcceptancesPage {
  readonly frame: Frame;
  /** `/office/work-orders/…` */
  readonly path: string;
  /** “WO-1004: 2025 Ostra Vela” */
  readonly heading: string;
  readonly records: readonly AcceptanceRecord[];
  /** Every time nobody signed, the newest first. */
  readonly notSigned: readonly NotSignedView[];
  /** Of each answer; one that came back has what was typed and what to do. */
  readonly copyOf: (record: AcceptanceRecord) => {
    readonly typed: TypedCopy;
    readonly problem: Problem | null;
  };
}

/** Everything that is on record of each answer, where the signer's copies went, and another copy. */
export function acceptancesView(page: AcceptancesPage): Html {
  const { frame, path, heading, records, notSigned } = page;
  return officePage({
    title: 'Answers on record',
    heading: 'Answers on record',
    lead: heading,
    beside: quietLink({ label: 'Back to the work order', href: path }),
    ...frame,
    current: 'work-orders',
    scripts: [frame.assets.sending],
    body:
      records.length === 0 && notSigned.length === 0
        ? emptyState('Nobody has answered yet', 'The technician hands over the phone, or sends a link.')
        : html`${notSigned.length > 0 && notSignedSection(page)}
            ${records.map((record, index) => recordSection(page, record, index))}`,
  });
}

/** An answer of its own: that somebody would not sign, or that nobody was there to. */
function notSignedSection({ frame, records, notSigned }: AcceptancesPage): Html {
  const { timeZone } = frame.me.business;
  return html`<section><h2>${notSigned.length === 1 ? 'Not signed' : `Not signed, ${notSigned.length} times`}</h2>
    ${notSigned.toReversed().map((row) => nobodySigned(row, timeZone))}
    ${records.length === 0 && html`<p>Nobody has signed. The technician can ask again; what is on record here stays.</p>`}</section>`;
}

function recordSection(
  { frame, path, records, copyOf }: AcceptancesPage,
  record: AcceptanceRecord,
  index: number,
): Html {
  const { timeZone } = frame.me.business;
  const which = records.length === 1 ? 'The answer' : `Answer ${index + 1} of ${records.length}`;
  const action = `${path}/acceptances/${record.id}`;
  return html`<section id="answer-${record.id}"><h2>${which}: ${acceptanceOutcomes[record.outcome]}</h2>
    ${signatureShown(record.view)}
    ${definitionList(factsOf(record, timeZone))}
    <h3>Copies</h3>
    ${copiesShown(record.copies, timeZone) ?? html`<p>The signer has no copy yet.</p>`}
    ${openLinks(frame, path, record)}
    <details ${attributes({ open: copyOf(record).problem !== null })}><summary>Send a copy</summary>
      ${copyForm({ action: `${action}/copies`, csrfToken: frame.csrfToken, ...copyOf(record), heading: 'Another copy', label: 'Give the copy', apart: index === 0 ? undefined : record.id })}
    </details>
  </section>`;
}

function factsOf(record: AcceptanceRecord, timeZone: string): readonly Definition[] {
  const { document, signer, action, from, seal } = record;
  const optional = (term: string, value: string | Html | null) =>
    value === null || value === '' ? [] : [{ term, value }];
  return [
    ...optional('Remark', record.remark),
    { term: 'Signed by', value: `${signer.signerName}, ${signerRoles[signer.signerRole]}` },
    {
      term: 'How to reach them',
      value: [signer.signerEmail, signer.signerPhone].filter((part) => part !== '').join(', ') || 'not said',
    },
    { term: 'For account', value: record.account.name },
    { term: 'Known by', value: record.identifiedBy },
    {
      term: 'Signed how',
      value:
        action.kind === 'drawn' ? 'drawn' : `name typed and confirmed: ${action.name ?? signer.signerName}`,
    },
    ...optional(
      'The drawing’s picture, SHA-256',
      action.kind === 'drawn' ? action.picture && html`<code>${action.picture}</code>` : null,
    ),
    {
      term: 'At, by our clock',
      value: html`${instantShown(record.acceptedAt, timeZone)} (${record.acceptedAt} UTC)`,
    },
    ...optional('At, by the device’s clock', record.answeredAt),
    ...optional('From address', from.address),
    ...optional('Device', from.device),
    { term: `What it says, version ${record.intent.version}`, value: record.intent.text },
    ...(record.consent === null
      ? []
      : [{ term: `Signing on a screen, version ${record.consent.version}`, value: record.consent.text }]),
    { term: 'What was shown', value: html`${document.format}, SHA-256 <code>${document.digest}</code>` },
    {
      term: 'Seal',
      value:
        seal === null
          ? 'is being made'
          : html`number ${seal.number}, <code>${seal.sha256}</code>, after <code>${seal.previous ?? 'none: it is the first'}</code>`,
    },
  ];
}

/** A link that opens can be taken back. */
function openLinks(frame: Frame, path: string, { copies }: AcceptanceRecord): readonly Html[] {
  return copies.flatMap(({ linkId, channel, address, readableUntil }) =>
    linkId === null || readableUntil === null
      ? []
      : [
          html`<form method="post" action="${path}/acceptance-copies/${linkId}/take-back" class="unprinted">${hiddenCsrf(frame.csrfToken)}
          ${quietButton({ label: `Take the link back: ${channel === 'mail' ? `by e-mail to ${address}` : address === '' ? 'shown at the vehicle or after answering' : `passed on to ${address}`}` })}</form>`,
        ],
  );
}

/** The link that was just made: shown this once, to be passed on. */
export function copyLinkMadeView(frame: Frame, given: CopyGiven, back: string): Html {
  const { link, address: phone } = given;
  return officePage({
    title: 'The link to the copy',
    heading: 'The link to the copy',
    lead: link && `It opens until ${link.lastDayWords}${phone === '' ? '' : `. For ${phone}`}`,
    ...frame,
    current: 'work-orders',
    scripts: [frame.assets.sharing],
    body: html`<p><label for="address">The link. It is shown only now; if it is lost, make a new one.</label></p>
      <p><textarea id="address" readonly rows="3">${link?.address}</textarea></p>
      <p><label for="message">What to send along with it</label></p>
      <p><textarea id="message" readonly rows="4">${link?.message}</textarea></p>
      <p class="buttons">
        <button ${attributes({ type: 'button', class: 'button', 'data-share': link?.message ?? '', 'data-copy-label': 'Copy it with its words', hidden: true })}>Send it some other way</button>
        ${quietLink({ label: 'Back to the answers', href: back })}
      </p>`,
  });
}
