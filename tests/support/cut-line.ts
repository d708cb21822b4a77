import { connect, createServer, type Server, type Socket } from 'node:net';
import { afterAll } from 'vitest';

/** A line to the service that can be cut and mended: what a phone has when it has signal. */
export interface CutLine {
  readonly address: string;
  /** From now on nothing comes through; what is under way breaks off. */
  cut(): Promise<void>;
  mend(): Promise<void>;
  /** While it is given, whatever asks for something with these words in it breaks off; null: nothing does. */
  breakOn(words: string | null): void;
  /** Breaks off every connection once so many more bytes have gone to the service. */
  breakAfter(bytes: number): void;
  /**
   * Once so many more bytes have gone to the service, nothing more comes through, and nothing breaks off either, until
   * the line is mended. Resolves when that is so.
   */
  stallAfter(bytes: number): Promise<void>;
}

export async function cutLine(toAddress: string): Promise<CutLine> {
  const to = Number(new URL(toAddress).port);
  const sockets = new Set<Socket>();
  const barriers = noBarriers();
  let server: Server | null = null;
  const drop = () => {
    for (const socket of sockets) socket.destroy();
    sockets.clear();
  };
  const carry = (from: Socket) => {
    const onward = connect(to, '127.0.0.1');
    for (const socket of [from, onward]) {
      sockets.add(socket);
      socket.on('error', () => undefined);
      socket.on('close', () => {
        sockets.delete(socket);
        from.destroy();
        onward.destroy();
      });
    }
    onward.pipe(from);
    from.on('data', (chunk) => {
      const fate = barriers.fateOf(chunk);
      if (fate === 'through') onward.write(chunk);
      if (fate === 'breaks_off') from.destroy();
      if (fate === 'all_breaks_off') drop();
    });
  };
  const listen = (port: number) =>
    new Promise<number>((resolve, reject) => {
      server = createServer(carry).on('error', reject);
      server.listen(port, '127.0.0.1', () => {
        const bound = server?.address();
        resolve(typeof bound === 'object' && bound !== null ? bound.port : port);
      });
    });
  const stop = () =>
    new Promise<void>((resolve) => {
      if (server === null) return resolve();
      server.close(() => resolve());
      server = null;
      drop();
      return undefined;
    });
  const port = await listen(0);
  afterAll(stop);
  const { breakOn, breakAfter, stallAfter } = barriers;
  return {
    address: `http://127.0.0.1:${port}`,
    breakOn,
    breakAfter,
    stallAfter,
    cut: stop,
    mend: async () => {
      // What was held back has a hole in it.
      if (barriers.endStall()) drop();
      if (server === null) await listen(port);
    },
  };
}

type Fate = 'through' | 'held' | 'breaks_off' | 'all_breaks_off';

/** What becomes of bytes on their way to the service. */
function noBarriers() {
  let left = Number.POSITIVE_INFINITY;
  let barred: string | null = null;
  let stall: { left: number; readonly reached: () => void } | null = null;
  return {
    fateOf(chunk: Buffer): Fate {
      left -= chunk.length;
      if (stall !== null) stall.left -= chunk.length;
      if (stall !== null && stall.left < 0) {
        stall.reached();
        return 'held';
      }
      if (barred !== null && chunk.includes(barred)) return 'breaks_off';
      if (left >= 0) return 'through';
      left = Number.POSITIVE_INFINITY;
      return 'all_breaks_off';
    },
    breakOn(words: string | null) {
      barred = words;
    },
    breakAfter(bytes: number) {
      left = bytes;
    },
    stallAfter: (bytes: number) =>
      new Promise<void>((reached) => {
        stall = { left: bytes, reached };
      }),
    /** Whether there was one. */
    endStall(): boolean {
      const was = stall !== null;
      stall = null;
      return was;
    },
  };
}
