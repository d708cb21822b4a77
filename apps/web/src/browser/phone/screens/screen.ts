import { isUuid } from '@grainwright/domain';
import type { Html } from '../../../look/html.ts';
import type { FieldFrame } from '../../../pages/person.ts';
import type { FormValues } from '../../../plugins/form-values.ts';
import type { Measured } from '../../camera/measure.ts';
import type { KeptAction, PhoneAction } from '../action.ts';
import { momentHere } from '../moment-here.ts';
import { newId } from '../new-id.ts';
import { OtherThingError, PhoneFullError } from '../phone-database.ts';
import type { PhoneDay, PhoneWork } from '../projection.ts';
import type { PhoneOwner, PhoneStore } from '../store.ts';

/** What a screen is made from: who, what the phone has kept, and where the person is. */
export interface Here {
  readonly owner: PhoneOwner;
  readonly store: PhoneStore;
  readonly day: PhoneDay;
  readonly actions: readonly KeptAction[];
  readonly frame: FieldFrame;
  readonly path: string;
  readonly query: URLSearchParams;
  /** When the form was sent, which may be before it is taken up here; else now. */
  readonly sentAt: Date;
  /** Whether the browser has promised to keep what is here. */
  readonly promised: boolean;
  /** Tries to send what waits, without waiting for it. */
  readonly send: () => void;
  /** Files of the form that was sent. */
  readonly files: ReadonlyMap<string, File>;
  /**
   * The action that was refused and that the form on the screen mends; null where it mends none. `day` is then as it was
   * without it.
   */
  readonly mending: KeptAction | null;
  /** The most bytes of a photo that the service takes. */
  readonly photoBytesMax: number;
  /** Measures a picture; null where this browser can’t read it. */
  readonly measure: (file: Blob) => Promise<Measured | null>;
  /** The measures of a photo that is kept here, taken once. */
  readonly measureKept: (photoId: string) => Promise<Measured | null>;
  /** Hands a file to the person, under that name. */
  readonly save: (name: string, file: Blob) => void;
}

/** A page to show, or where to go on. `missing`: this phone has nothing of what was asked for. */
export type Shown = { readonly page: Html; readonly missing?: true } | { readonly goTo: string };

export interface Screen {
  readonly path: RegExp;
  /** `ids` are what the path's groups caught. */
  readonly get?: (here: Here, ids: readonly string[]) => Shown | Promise<Shown>;
  readonly post?: (here: Here, form: FormValues, ids: readonly string[]) => Shown | Promise<Shown>;
}

export function workOf({ day }: Here, id: string | undefined): PhoneWork | null {
  return day.workOrders.find((work) => work.id === id) ?? null;
}

export function orderPath({ id }: Pick<PhoneWork, 'id'>): string {
  return `/field/work-orders/${id}`;
}

/** Of an action that is made by the form that was sent. */
export function madeThen({ sentAt }: Pick<Here, 'sentAt'>, workOrderId: string, id: string = newId()) {
  return { id, workOrderId, madeAt: momentHere(sentAt) };
}

/** The id of the action that a form makes: that of the one it mends, else the form’s own. */
export function actionIdIn({ mending }: Here, form: FormValues): string {
  if (mending !== null) return mending.action.id;
  return isUuid(form.text('id')) ? form.text('id') : newId();
}

/** Keeps an action, in place of the refused one that it mends; null, or why the phone could not. */
export async function keep(
  { store, mending }: Here,
  action: PhoneAction,
  file?: Blob,
): Promise<string | null> {
  try {
    if (mending?.action.id === action.id) {
      const amended = await store.amendAction({ ...action, madeAt: mending.action.madeAt });
      return amended === null ? decidedElsewhere : null;
    }
    await store.keepAction(action, file);
    return null;
  } catch (error) {
    if (error instanceof PhoneFullError || error instanceof OtherThingError) return error.message;
    throw error;
  }
}

const decidedElsewhere =
  'It was sent or decided in another window, so what you changed here was not kept. Look at what waits.';

/** As a refusal of the phone itself, for the form that could not be kept. */
export function notKept(detail: string) {
  return { code: 'unavailable', detail } as const;
}
