import type { KeptAction, PhoneAction } from './action.ts';

const madeAt = '2026-08-05T09:00:00-05:00';

/** A photo or a start that somebody did on this phone, of a work order. */
export function keptThing(
  kind: 'photo' | 'start',
  order: number,
  more: Partial<KeptAction> & { readonly workOrderId?: string } = {},
): KeptAction {
  const { workOrderId = 'order', ...rest } = more;
  const frame = { id: String(order), workOrderId, madeAt };
  const action: PhoneAction =
    kind === 'photo'
      ? { ...frame, kind, body: { purpose: 'before', line_id: null, captured_at: madeAt } }
      : { ...frame, kind, body: {} };
  return {
    ...{ order, action, state: 'waiting', file: null, sentBytes: 0 },
    ...{ refusal: null, serverHas: null, lastTry: null, sentAt: null },
    ...rest,
  };
}
