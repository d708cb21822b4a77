import type { Html } from '../../../look/html.ts';
import type { FieldFrame } from '../../../pages/person.ts';
import type { FormValues } from '../../../plugins/form-values.ts';
import type { KeptAction, PhoneAction } from '../action.ts';
import { momentHere } from '../moment-here.ts';
import { newId } from '../new-id.ts';
import type { PhoneDay, PhoneWork } from '../projection.ts';
import { PhoneFullError, type PhoneOwner, type PhoneStore } from '../store.ts';

/** What a screen is made from: who, what the phone has kept, and where the person is. */
export interface Here {
  readonly owner: PhoneOwner;
  readonly store: PhoneStore;
  readonly day: PhoneDay;
  readonly actions: readonly KeptAction[];
  readonly frame: FieldFrame;
  readonly path: string;
  readonly query: URLSearchParams;
  /** Whether the browser has promised to keep what is here. */
  readonly promised: boolean;
  /** Tries to send what waits, without waiting for it. */
  readonly send: () => void;
  /** Files of the form that was sent. */
  readonly files: ReadonlyMap<string, File>;
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

/** Of an action that is made now. */
export function madeNow(workOrderId: string, id: string = newId()) {
  return { id, workOrderId, madeAt: momentHere(new Date()) };
}

/** Keeps an action; null, or why the phone could not. */
export async function keep({ store }: Here, action: PhoneAction, file?: Blob): Promise<string | null> {
  try {
    await store.keepAction(action, file);
    return null;
  } catch (error) {
    if (error instanceof PhoneFullError) return error.message;
    throw error;
  }
}

/** As a refusal of the phone itself, for the form that could not be kept. */
export function notKept(detail: string) {
  return { code: 'unavailable', detail } as const;
}
