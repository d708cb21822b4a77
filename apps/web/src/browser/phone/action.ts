/**
 * What somebody did on this phone, as it is kept until the server has it. Each action is one request to the API, under
 * an id that the phone made: the same again is the same thing, so a lost answer does no harm. `body` is the request's
 * body as the API takes it.
 */
export interface ActionFrame {
  /** Made on the phone; also the id of what the action makes, where it makes something. */
  readonly id: string;
  readonly workOrderId: string;
  /** When it was done by the phone's clock, ISO 8601 with the offset to UTC. */
  readonly madeAt: string;
}

/** A request body as the API takes it. */
export type Body = { readonly [name: string]: unknown };

/** What a photo is of. The file is kept beside the action under the action's id. */
export interface PhotoBody {
  readonly purpose: string;
  /** Null: the vehicle as a whole. */
  readonly line_id: string | null;
  /** By the phone's clock, ISO 8601 with the offset. */
  readonly captured_at: string;
  /** The photo that this one was taken again for. */
  readonly retake_of?: string | undefined;
  /** Why it is kept in spite of a warning. */
  readonly override_reason?: string | undefined;
}

/** Why a photo is kept in spite of a warning, said after it was kept on the phone. */
export interface PhotoReasonBody {
  readonly photo_id: string;
  readonly reason: string;
}

/** A recording of the walk around the vehicle. Its file is kept in parts under the action's id. */
export interface RecordingBody {
  readonly captured_at: string;
  readonly [name: string]: unknown;
}

export type PhoneAction = ActionFrame &
  (
    | { readonly kind: 'write_up'; readonly body: Body }
    | { readonly kind: 'line'; readonly body: Body }
    | { readonly kind: 'photo'; readonly body: PhotoBody }
    | { readonly kind: 'photo_reason'; readonly body: PhotoReasonBody }
    | { readonly kind: 'recording'; readonly body: RecordingBody }
    | { readonly kind: 'quote'; readonly body: Body }
    | { readonly kind: 'estimate'; readonly body: Body }
    | { readonly kind: 'start'; readonly body: Body }
    | { readonly kind: 'finish'; readonly body: Body }
    | {
        readonly kind: 'acceptance';
        readonly body: Body;
        /** What was shown and signed, as its canonical JSON: it stays here with the signature, and is not sent. */
        readonly shown?: string;
      }
    | { readonly kind: 'missing_signature'; readonly body: Body }
  );

export type ActionKind = PhoneAction['kind'];

/** What the server said no with. */
export interface Refusal {
  readonly status: number;
  readonly code: string;
  readonly detail: string;
  readonly field?: string | undefined;
}

/** The file that belongs to an action. */
export interface KeptFile {
  readonly bytes: number;
  readonly sha256: string;
  readonly mediaType: string;
}

/**
 * An action with where it stands: `waiting` to be sent; `conflict`: the server refused it, and somebody has to decide;
 * `sent`: the server has it; `dropped`: somebody decided that it is not sent, and it stays as a note.
 */
export interface KeptAction {
  /** The order in which things were done on this phone. */
  readonly order: number;
  readonly action: PhoneAction;
  readonly state: 'waiting' | 'conflict' | 'sent' | 'dropped';
  readonly file: KeptFile | null;
  /** How much of the file the server has. */
  readonly sentBytes: number;
  readonly refusal: Refusal | null;
  /** How often its file did not arrive whole. */
  readonly damagedTries?: number;
  /** What the server has instead, where it was refused; as the API answers it. */
  readonly serverHas: unknown;
  /** Why the last try did not come through, where there was one; it is tried again. */
  readonly lastTry: string | null;
  readonly sentAt: string | null;
}
