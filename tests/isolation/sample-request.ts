import type { Made, Named } from './holdings.ts';

/** A request as somebody entitled to it would send it. */
export interface SampleRequest {
  readonly params?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string>>;
  readonly json?: unknown;
  /** Sent url-encoded; the form's token is added. */
  readonly form?: Readonly<Record<string, string>>;
  /** Fields sent before a photo. */
  readonly photo?: Readonly<Record<string, string>>;
  /** A part of a file, sent as it is with where it begins and its digest. */
  readonly part?: { readonly offset: number; readonly text: string };
  /** Fields sent before a file of text. */
  readonly file?: { readonly fields: Readonly<Record<string, string>>; readonly text: string };
}

/**
 * Builds the requests for a route from ids of what is there, ids for what is about to be made, and the e-mail
 * address of whoever asks. More than one where a route takes its ids in more than one way.
 */
export type SampleRequests = (
  named: Named,
  made: Made,
  email: string,
) => SampleRequest | readonly SampleRequest[];
