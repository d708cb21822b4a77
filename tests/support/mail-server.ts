import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { SMTPServer } from 'smtp-server';
import { onTestFinished } from 'vitest';

/** A mail as it came over the wire. */
export interface ReceivedMail {
  readonly from: string;
  readonly to: readonly string[];
  readonly raw: string;
}

export interface MailServer {
  /** `smtp://127.0.0.1:…` */
  readonly url: string;
  readonly received: readonly ReceivedMail[];
  /** From now on it answers every mail with this code; null: it takes them again. */
  refuseWith(code: number | null): void;
}

/** A mail server that takes whatever comes. It closes by itself at the end of the test. */
export async function aMailServer(): Promise<MailServer> {
  const received: ReceivedMail[] = [];
  let refusal: number | null = null;
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS', 'AUTH'],
    onData: (stream, session, done) => {
      void text(stream).then((raw) => {
        if (refusal !== null)
          return done(Object.assign(new Error('not this one'), { responseCode: refusal }));
        const { mailFrom, rcptTo } = session.envelope;
        const to = rcptTo.map((each) => each.address);
        received.push({ from: mailFrom === false ? '' : mailFrom.address, to, raw });
        return done();
      });
    },
  });
  const listening = server.listen(0, '127.0.0.1');
  await once(listening, 'listening');
  onTestFinished(() => new Promise<void>((resolve) => server.close(() => resolve())));
  const { port } = listening.address() as AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}`,
    received,
    refuseWith: (code) => {
      refusal = code;
    },
  };
}

/** A header of a mail, unfolded; every one of that name. */
export function headersOf({ raw }: ReceivedMail, name: string): readonly string[] {
  const [head = ''] = raw.split('\r\n\r\n');
  return head
    .replaceAll(/\r\n[ \t]+/g, ' ')
    .split('\r\n')
    .filter((line) => line.toLowerCase().startsWith(`${name.toLowerCase()}:`))
    .map((line) => line.slice(name.length + 1).trim());
}

/** The bytes of the part that is attached under this name. */
export function attachmentOf({ raw }: ReceivedMail, fileName: string): Buffer {
  const part = raw.split(/\r\n--/).find((each) => each.includes(`filename=${fileName}`));
  const [, body = ''] = part?.split('\r\n\r\n') ?? [];
  return Buffer.from(body.replaceAll(/\s/g, ''), 'base64');
}
