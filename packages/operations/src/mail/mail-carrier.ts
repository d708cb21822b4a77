import type { MailId } from '@grainwright/domain';
import type { OpenedFile } from '../documents/opened-file.ts';

/** A mail with everything that goes with it. */
export interface MailToCarry {
  /** The same id is the same mail: its Message-ID follows from it, so whoever gets it twice can tell. */
  readonly id: MailId;
  readonly senderName: string;
  /** Empty: answers go to the sender. */
  readonly replyTo: string;
  readonly recipients: readonly string[];
  readonly subject: string;
  readonly text: string;
  readonly attachments: readonly OpenedFile[];
}

/** How the mail server answered. `forGood`: it will not take this mail however often it is asked. */
export type Carried =
  | { readonly carried: true }
  | { readonly carried: false; readonly problem: string; readonly forGood: boolean };

/** Hands mail to a mail server. */
export interface MailCarrier {
  carry(mail: MailToCarry): Promise<Carried>;
}
