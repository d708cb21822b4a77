/** Forms that were sent from a service's page while nothing came through: kept until they are an action, or thrown away. */
import type { PhoneOwner } from './store.ts';

/** A form as the app takes it up. */
export interface HandedForm {
  readonly path: string;
  readonly fields: readonly (readonly [string, string | File])[];
}

/** With whose it is, and when it was sent. */
export interface KeptForm extends HandedForm, PhoneOwner {
  readonly key: string;
  /** In milliseconds, by the phone's clock. */
  readonly at: number;
  /** As `at`, or later, when the person said that it is to be taken up: from then on it gets old. */
  readonly renewedAt: number;
  /** So old that it is taken up only when the person says so: nobody expects any more that it is. */
  readonly isOld: boolean;
}

/** The one from an address that the app takes up by itself: the newest that is not old. */
export function formToTakeUp(forms: readonly KeptForm[], path: string): KeptForm | null {
  const fresh = forms.filter((form) => form.path === path && !form.isOld);
  return fresh.toSorted((one, other) => other.renewedAt - one.renewedAt)[0] ?? null;
}

/** Whether two are one thing sent twice: under the id that the page gave it, else by all that it says. Work ends once. */
export function isSameForm(one: HandedForm, other: HandedForm): boolean {
  if (one.path !== other.path) return false;
  if (endOfWork.test(one.path)) return true;
  const ids = [idIn(one), idIn(other)];
  return ids[0] === '' && ids[1] === '' ? textIn(one) === textIn(other) : ids[0] === ids[1];
}

/** Its form has no id, and takes the place of what was filled in before. */
const endOfWork = /\/finish\/?$/;

/** By the most particular name first: a photo's form names its line as well. */
const idNames = ['photo_id', 'recording_id', 'id', 'line_id'];

function idIn({ fields }: HandedForm): string {
  for (const name of idNames) {
    const value = fields.find(([each]) => each === name)?.[1];
    if (typeof value === 'string' && value !== '') return value;
  }
  return '';
}

function textIn({ fields }: HandedForm): string {
  const said = fields.filter(([name]) => name !== '_csrf');
  return JSON.stringify(
    said.map(([name, value]) => [name, typeof value === 'string' ? value : [value.name, value.size]]),
  );
}
