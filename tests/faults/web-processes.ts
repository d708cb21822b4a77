import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm, symlink } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import type { World } from '../support/world.ts';

export interface WebProcess {
  readonly port: number;
  /** Ends it as a power loss would, and resolves when it is gone. */
  kill(): Promise<void>;
  /** Lets it end by itself. */
  end(): Promise<void>;
}

export interface WebProcesses {
  /** The next one; another is started at once to stand by, since starting is what takes long. */
  next(): Promise<WebProcess>;
  close(): Promise<void>;
}

const repository = fileURLToPath(new URL('../..', import.meta.url));
const cache = join(repository, 'node_modules', '.cache');

/** The web process over the world's database and folder, as often as it is killed. */
export async function webProcesses(world: World, standBy: number): Promise<WebProcesses> {
  const dataFolder = await mkdtemp(join(tmpdir(), 'grainwright-faults-'));
  await symlink(world.objectsFolder, join(dataFolder, 'objects'));
  await symlink(join(cache, 'grainwright-assets'), join(dataFolder, 'cache'));
  const script = join(cache, `grainwright-web-${world.newId()}.mjs`);
  await bundleWeb(script);
  const children = new Set<ChildProcess>();
  const startOnce = async (): Promise<WebProcess> => {
    const port = await freePort();
    const child = spawn(process.execPath, [script], {
      env: {
        ...process.env,
        DATABASE_LOGIN_URL: world.loginUrl,
        DATA_DIR: dataFolder,
        PORT: String(port),
        STOP_WITH_PARENT: '1',
        NODE_COMPILE_CACHE: join(dataFolder, 'compiled'),
      },
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    children.add(child);
    child.once('exit', () => children.delete(child));
    const ended = once(child, 'exit');
    const [line] = await Promise.race([
      once(createInterface({ input: child.stdout }), 'line'),
      ended.then(([code]) => Promise.reject(new Error(`the web process ended with ${code}`))),
    ]);
    if (line !== 'web ready') throw new Error(`the web process said ${line}`);
    const kill = async () => {
      child.kill('SIGKILL');
      await ended;
    };
    const end = async () => {
      child.stdin.end();
      await ended;
    };
    return { port, kill, end };
  };
  // A port that was free may be somebody else's by the time the process asks for it: then another one is tried.
  const start = () => startOnce().catch(startOnce);
  // Only a process that ends by itself leaves its compiled code for those after it.
  await (await start()).end();
  const waiting = Array.from({ length: standBy }, start);
  return {
    async next() {
      waiting.push(start());
      const first = waiting.shift();
      if (first === undefined) throw new Error('none stands by');
      return first;
    },
    async close() {
      await Promise.allSettled(waiting);
      const ended = [...children].map((child) => once(child, 'exit'));
      for (const child of children) child.kill('SIGKILL');
      await Promise.all(ended);
      await Promise.all([rm(dataFolder, { recursive: true }), rm(script)]);
    },
  };
}

/**
 * main.ts and all that it imports as one file, each module with the address that it has in the repository: the same
 * process, which starts in a third of the time.
 */
async function bundleWeb(outfile: string): Promise<void> {
  await build({
    entryPoints: [join(repository, 'apps/web/src/main.ts')],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    logLevel: 'error',
    // What brings files or binaries of its own.
    external: ['sharp', 'esbuild', '@aws-sdk/*', 'pdfkit', '@node-rs/*', 'pino', 'graphile-worker', 'pg'],
    banner: {
      js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);",
    },
    plugins: [
      {
        name: 'addresses',
        setup({ onLoad }) {
          onLoad({ filter: /\/(apps|packages)\/.*\.ts$/ }, async ({ path }) => {
            const source = await readFile(path, 'utf8');
            const address = JSON.stringify(pathToFileURL(path).href);
            return { loader: 'ts', contents: source.replaceAll('import.meta.url', address) };
          });
        },
      },
    ],
  });
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('there is no free port');
  return address.port;
}
