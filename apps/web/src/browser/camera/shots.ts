import {
  digestHex,
  type OtherPhoto,
  type PhotoPurpose,
  type PhotoWarning,
  photoPurposes,
  warningsAtCapture,
} from '@grainwright/domain';
import type { PhoneAction } from '../phone/action.ts';
import { momentHere } from '../phone/moment-here.ts';
import { newId } from '../phone/new-id.ts';
import { PhoneFullError } from '../phone/phone-database.ts';
import { isWrittenHere } from '../phone/typed-here.ts';
import { checkPhotoFile } from './check-photo-file.ts';
import type { Keeping } from './keeping.ts';
import { type Measured, measureDrawn, measureFile } from './measure.ts';
import { type PhotoWish, wishAgain, wishNoMore } from './photo-form.ts';
import { refreshKept } from './refresh-kept.ts';
import { showShot } from './shot-card.ts';
import { takenAt } from './taken-at.ts';
import type { Frame } from './viewfinder.ts';

interface Taken {
  readonly workOrderId: string;
  readonly keeping: Keeping;
  readonly form: HTMLFormElement;
}

export interface Shots {
  take(frame: Frame, wish: PhotoWish | null): Promise<string>;
  takeFile(file: File, wish: PhotoWish | null): Promise<void>;
}

const chooseFirst = 'Choose what the photo shows and of which part, then take it.';

/** What was taken on this page: each is judged, kept on the phone, shown with what is to be said of it, and sent. */
export function openShots({ workOrderId, keeping, form }: Taken): Shots {
  const others: OtherPhoto[] = [];
  const keep = async (file: Blob, measured: Measured | null, wish: PhotoWish, at: Date) => {
    const id = newId();
    const sha256 = digestHex(new Uint8Array(await file.arrayBuffer()));
    const warnings = measured === null ? [] : warningsAtCapture({ ...measured, sha256 }, others);
    const purpose = purposeOf(wish.purpose);
    const body = {
      purpose: wish.purpose,
      line_id: wish.lineId,
      captured_at: momentHere(at),
      ...(wish.retakeOf === null ? {} : { retake_of: wish.retakeOf }),
    };
    const action: PhoneAction = { id, workOrderId, madeAt: momentHere(new Date()), kind: 'photo', body };
    await keeping.keep(action, file);
    if (measured !== null && purpose !== null)
      others.push({ sha256, purpose, measures: measured.measures, elsewhere: null });
    wishNoMore(form, wish);
    showShot({
      id,
      file,
      words: wish.words,
      warnings,
      keeping,
      workOrderId,
      replaces: wish.retakeOf,
      again: () => wishAgain(form, wish, id),
    });
    return { id, warnings };
  };
  return {
    take: async ({ jpeg, canvas }, wish) => {
      if (wish === null) return chooseFirst;
      const { width, height } = canvas;
      const measures = measureDrawn(canvas, width, height);
      try {
        const { id, warnings } = await keep(jpeg, measures && { width, height, measures }, wish, new Date());
        void whenSent(keeping, id, refreshKept);
        return taken(warnings);
      } catch (error) {
        return troubleOf(error);
      }
    },
    takeFile: async (file, wish) => {
      if (wish === null) return say(form, chooseFirst);
      say(form, 'Keeping it on this phone…');
      try {
        const bytesMax = Number(form.dataset.bytesMax);
        const checked = await checkPhotoFile(file, { bytesMax, measure: measureFile });
        if (!checked.ok) return say(form, checked.problem.detail, 'error');
        const { id } = await keep(file, checked.value, wish, takenAt(file));
        say(form, 'Kept on this phone. It is sent now, or as soon as there is signal.');
        void whenSent(keeping, id, () => {
          // Another one may be chosen already.
          if (isWrittenHere(document)) void refreshKept();
          else location.assign(`/field/work-orders/${workOrderId}/photos?sent=${id}`);
        });
      } catch (error) {
        say(form, troubleOf(error));
      }
    },
  };
}

function purposeOf(text: string): PhotoPurpose | null {
  return Object.keys(photoPurposes).find((purpose): purpose is PhotoPurpose => purpose === text) ?? null;
}

function taken(warnings: readonly PhotoWarning[]): string {
  return ['Taken, and kept on this phone.', ...warnings.map(({ sentence }) => sentence)].join(' ');
}

function troubleOf(error: unknown): string {
  if (error instanceof PhoneFullError) return error.message;
  return 'This phone could not keep the picture. Take it again.';
}

/** In the status line of the form, which `sending.ts` has put there for all to hear. */
function say(form: HTMLFormElement, words: string, kind: 'error' | '' = ''): void {
  let heard = form.querySelector('[data-heard]');
  if (heard === null) {
    heard = document.createElement('p');
    heard.setAttribute('role', 'status');
    heard.setAttribute('data-heard', '');
    form.append(heard);
  }
  heard.className = kind;
  heard.textContent = words;
}

/** Once, when the server has it. */
async function whenSent(keeping: Keeping, id: string, then: () => void): Promise<void> {
  const isSent = async () =>
    (await keeping.store.listActions()).some(({ action, state }) => action.id === id && state === 'sent');
  let told = false;
  const look = async () => {
    if (told || !(await isSent())) return;
    told = true;
    stop();
    then();
  };
  const stop = keeping.store.onChange(() => void look());
  await look();
}
