import { type Html, html } from '../../look/html.ts';
import { answerForm } from './answer-form.ts';
import type { TypedAnswer } from './answers.ts';
import { type PreviewParts, previewParts } from './preview-parts.ts';

export interface PreviewBody extends Omit<PreviewParts, 'action' | 'passOn' | 'whoseLimit'> {
  /** The work order as its reader opened it; what the page sends goes to addresses below it. */
  readonly address: string;
  readonly business: string;
  /** The answers as they were given, to be changed. */
  readonly typed: readonly TypedAnswer[];
}

/** The new total before a contact sends the answer, and below it the answers, to change them. */
export function previewBody({ address, business, typed, ...shown }: PreviewBody): Html {
  const { preview, csrfToken, photoIds } = shown;
  return html`
    <section>${previewParts({
      ...shown,
      action: `${address}/decision`,
      passOn: { action: `${address}/passed-on`, business },
      whoseLimit: 'Your limit',
    })}</section>
    <section><h2>Change the answers</h2>
      ${answerForm({
        action: `${address}/preview`,
        csrfToken,
        versionId: preview.versionId,
        digest: preview.digest,
        photoIds,
        currency: preview.currency,
        typed,
        lines: preview.lines.map(({ lineId, description, offeredMinor }) => ({
          lineId,
          words: description,
          offeredMinor,
        })),
      })}
      <p><a href="${address}">Back to the pictures and prices</a></p>
    </section>`;
}
