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
  let left = Number.POSITIVE_INFINITY;
  let barred: string | null = null;
  let stall: { left: number; readonly reached: () => void } | null = null;
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
      left -= chunk.length;
      if (stall !== null) stall.left -= chunk.length;
      if (stall !== null && stall.left < 0) {
        stall.reached();
        return;
      }
      if (barred !== null && chunk.includes(barred)) {
        from.destroy();
        return;
      }
      if (left >= 0) {
        onward.write(chunk);
        return;
      }
      left = Number.POSITIVE_INFINITY;
      drop();
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
  return {
    address: `http://127.0.0.1:${port}`,
    cut: stop,
    mend: async () => {
      // What was held back has a hole in it.
      if (stall !== null) drop();
      stall = null;
      if (server === null) await listen(port);
    },
    breakOn: (words) => {
      barred = words;
    },
    breakAfter: (bytes) => {
      left = bytes;
    },
    stallAfter: (bytes) =>
      new Promise((reached) => {
        stall = { left: bytes, reached };
      }),
  };
}
