/** Keeps what is taken on this phone and sends it from there: the phone's store, for whoever is signed in. */
import type { KeptAction, PhoneAction } from '../phone/action.ts';
import { flush } from '../phone/flush.ts';
import { openPhoneStore, type PhoneStore } from '../phone/store.ts';

export interface Keeping {
  readonly store: PhoneStore;
  /** On the disk when it answers; then it is sent, as soon as there is signal. */
  keep(action: PhoneAction, file?: Blob): Promise<KeptAction>;
}

/** Null where this browser can't keep anything: the form is then sent as forms are. */
export async function openKeeping(owner: string): Promise<Keeping | null> {
  const [tenantId = '', personId = ''] = owner.split('.');
  if (!('indexedDB' in window) || !('locks' in navigator) || personId === '') return null;
  const store = await openPhoneStore({ tenantId, personId }).catch(() => null);
  if (store === null) return null;
  return {
    store,
    keep: async (action, file) => {
      const kept = await store.keepAction(action, file);
      // Whoever sends already may be past it: this one waits its turn and looks again.
      void flush(store, true);
      return kept;
    },
  };
}
