import type { AcceptanceCopyId } from '../ids.ts';

/** How a signer gets their copy of what they signed, or that they want none. */
export const copyChannels = {
  mail: 'by e-mail',
  link: 'by a link',
  declined: 'no copy wanted',
} as const satisfies Record<string, string>;

export type CopyChannel = keyof typeof copyChannels;

/** What the signer wishes. Made by the client: the same wish sent again under its id is the same copy. */
export interface CopyWish {
  readonly id: AcceptanceCopyId;
  readonly channel: CopyChannel;
  /** The e-mail address, or the telephone number that the link is passed on to; may be empty for a link. */
  readonly address: string;
}
