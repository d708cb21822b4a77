import type { ButtonLink } from '../../../look/buttons.ts';
import type { ActionKind, KeptAction } from '../action.ts';
import type { PhoneWork } from '../projection.ts';
import { mendFinish } from './finish.ts';
import { mendLine } from './line.ts';
import { mendAcceptance } from './mend-acceptance.ts';
import { mendNotSigned } from './not-signed.ts';
import { mendQuote } from './quotes.ts';
import { type Here, orderPath, type Shown, workOf } from './screen.ts';
import { mendStart } from './start.ts';
import { mendWriteUp } from './write-up.ts';

type Mend = (here: Here, work: PhoneWork, refused: KeptAction) => Shown | Promise<Shown>;

/** What has a form that can be filled in anew. The others are sent again as they are, or taken anew. */
const forms: Partial<Record<ActionKind, Mend>> = {
  line: mendLine,
  quote: mendQuote,
  start: mendStart,
  finish: mendFinish,
  acceptance: mendAcceptance,
  missing_signature: mendNotSigned,
};

/** The form of a refused action again, with what was typed and what the server said; null where there is none. */
export async function mendForm(here: Here, refused: KeptAction): Promise<Shown | null> {
  if (refused.action.kind === 'write_up') return mendWriteUp(here, refused);
  const work = workOf(here, refused.action.workOrderId);
  const mend = forms[refused.action.kind];
  return work === null || mend === undefined ? null : mend(here, work, refused);
}

/** Where a refused action is mended; null where nothing can be. */
export function mendPath(here: Here, { action }: KeptAction): ButtonLink | null {
  const work = workOf(here, action.workOrderId);
  if (action.kind === 'photo' && work !== null) {
    const { line_id, purpose } = action.body;
    const shows = new URLSearchParams({ line_id: line_id ?? '', purpose });
    return { label: 'Take the photo anew', href: `${orderPath(work)}/photos?${shows}` };
  }
  if (action.kind !== 'write_up' && (work === null || forms[action.kind] === undefined)) return null;
  return { label: 'Mend it and send it', href: `/field/phone/waiting?mend=${action.id}` };
}
