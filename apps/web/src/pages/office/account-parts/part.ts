import { type AccountId, ok, type Permission, type Result } from '@grainwright/domain';
import type { AccountView, Actor, PriceBookView, Services } from '@grainwright/operations';
import type { Fragment } from '../../../look/html.ts';
import type { FormProblems } from '../../form-problems.ts';

/** What stands in a form, by the field's name; a field that was not sent is empty. */
export type Values = Readonly<Record<string, string>>;

export interface PartFields {
  readonly values: Values;
  readonly problems: FormProblems;
  readonly view: AccountView;
  readonly book: PriceBookView;
}

export interface PartSent {
  readonly accountId: AccountId;
  /** Text of a field; empty where it was not sent. */
  readonly text: (name: string) => string;
  /** As `text`, with the space around it: for passwords. */
  readonly asTyped: (name: string) => string;
  /** An id that was made when the form was first shown. */
  readonly id: (name: string) => string;
}

/** Something that is added to an account by a form of its own. */
export interface Part {
  /** The last folder of its address. */
  readonly path: string;
  readonly heading: string;
  readonly lead: (view: AccountView) => string;
  readonly button: string;
  readonly permission: Permission;
  /** Names of the fields that people fill in. */
  readonly fields: readonly string[];
  /** Names of the hidden ids. */
  readonly ids: readonly string[];
  readonly initial: Values;
  readonly form: (fields: PartFields) => Fragment;
  readonly send: (services: Services, actor: Actor, sent: PartSent) => Promise<Result<PartAdded>>;
}

export interface PartAdded {
  /** A one-time code that the office has to hand over; null: there is none. */
  readonly joinCode: string | null;
}

export async function withoutCode(sending: Promise<Result<unknown>>): Promise<Result<PartAdded>> {
  const sent = await sending;
  return sent.ok ? ok({ joinCode: null }) : sent;
}
