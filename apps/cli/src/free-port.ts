import { createServer } from 'node:net';
import { ok, type Result, refuse } from '@grainwright/domain';

/** Finds out before anything is started whether the web process will be able to listen. Port 0 picks a free one. */
export function claimPort(host: string, port: number): Promise<Result<number>> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => resolve(explain(error, host, port)));
    probe.listen({ host, port, exclusive: true }, () => {
      const address = probe.address();
      const found = typeof address === 'object' && address !== null ? address.port : port;
      probe.close(() => resolve(ok(found)));
    });
  });
}

function explain(error: NodeJS.ErrnoException, host: string, port: number): Result<number> {
  switch (error.code) {
    case 'EADDRINUSE':
      return refuse(
        'unavailable',
        `Port ${port} is in use. Stop what uses it, or choose another: PORT=8081 npm start.`,
        'PORT',
      );
    case 'EACCES':
      return refuse(
        'unavailable',
        `Port ${port} needs a right that you don’t have. Choose one above 1023, e.g. PORT=8080.`,
        'PORT',
      );
    default:
      return refuse(
        'unavailable',
        `Listening on ${host}:${port} does not work (${error.code}). Check HOST and PORT.`,
        'HOST',
      );
  }
}
