/**
 * bundleAssets(cacheFolder): the stylesheet and the browser modules, ready to serve. `files` maps a path to
 * {body, type, etag}; `urls` are what pages link to. A bundle's path carries the digest of its content and the
 * stylesheet's address carries it as `?v=`, so all may be cached for good. Bundles are kept in the cache folder
 * under the digest of everything they are made from; deleting it costs a second at the next start.
 */
import { createHash, randomUUID } from 'node:crypto';
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export interface Asset {
  readonly body: Buffer;
  readonly type: string;
  /** A strong entity tag, with its quotes. */
  readonly etag: string;
}

/** The modules that pages link to, by where each begins below `src/browser`; each is a bundle of its own. */
const entryFiles = {
  covering: 'covering.ts',
  divider: 'divider.ts',
  camera: 'camera/camera.ts',
  news: 'news.ts',
  payment: 'payment.ts',
  phone: 'phone/page.ts',
  phoneApp: 'phone/shell.ts',
  phoneWorker: 'phone/worker.ts',
  photo: 'photo.ts',
  pictures: 'pictures.ts',
  progress: 'progress.ts',
  record: 'camera/record.ts',
  scan: 'scan.ts',
  sending: 'sending.ts',
  sharing: 'sharing.ts',
  signature: 'signature.ts',
  signedOut: 'phone/signed-out.ts',
  verify: 'verify.ts',
} as const;

type ModuleName = keyof typeof entryFiles;
const moduleNames = Object.keys(entryFiles).filter((name): name is ModuleName => name in entryFiles);

export interface Assets {
  readonly files: ReadonlyMap<string, Asset>;
  readonly urls: Readonly<Record<ModuleName, string>> & {
    readonly stylesheet: string;
    /** What the scanning module reads bar codes with; fetched when somebody scans. */
    readonly scanWasm: string;
  };
}

export async function bundleAssets(cacheFolder: string): Promise<Assets> {
  const styles = asset(await readFile(stylesheetPath), 'text/css; charset=utf-8');
  const wasm = asset(await readFile(wasmPath), 'application/wasm');
  const folder = join(cacheFolder, await sourceDigest());
  const bundled = (await readBundles(folder)) ?? (await writeBundles(folder));
  const scanWasm = `/assets/zxing-reader-${digestIn(wasm)}.wasm`;
  const files = new Map([
    ['/assets/grainwright.css', styles],
    [scanWasm, wasm],
  ]);
  const moduleUrls: Record<ModuleName, string> = { ...entryFiles };
  for (const [name, body] of bundled) {
    const file = asset(body, 'text/javascript; charset=utf-8');
    moduleUrls[name] = `/assets/${name}-${digestIn(file)}.js`;
    files.set(moduleUrls[name], file);
  }
  const stylesheet = `/assets/grainwright.css?v=${digestIn(styles)}`;
  return { files, urls: { ...moduleUrls, stylesheet, scanWasm } };
}

const stylesheetPath = fileURLToPath(new URL('./grainwright.css', import.meta.url));
const wasmPath = fileURLToPath(import.meta.resolve('zxing-wasm/reader/zxing_reader.wasm'));
const browserFolder = fileURLToPath(new URL('../browser', import.meta.url));
const domainFolder = fileURLToPath(new URL('.', import.meta.resolve('@grainwright/domain')));
const operationsFolder = fileURLToPath(new URL('.', import.meta.resolve('@grainwright/operations')));
const lockFile = fileURLToPath(new URL('../../../../package-lock.json', import.meta.url));

/** Of our modules, of all of ours that they may import, and of the versions of all that is not ours. */
async function sourceDigest(): Promise<string> {
  const folders = [fileURLToPath(new URL('..', import.meta.url)), domainFolder, operationsFolder];
  const listed = await Promise.all(folders.map((folder) => readdir(folder, { recursive: true })));
  const ours = folders.flatMap((folder, index) =>
    (listed[index] ?? []).filter((name) => name.endsWith('.ts')).map((name) => join(folder, name)),
  );
  const hash = createHash('sha256');
  for (const path of [lockFile, ...ours.sort()]) hash.update(await readFile(path)).update('\0');
  return hash.digest('hex').slice(0, 32);
}

type Bundles = readonly (readonly [ModuleName, Buffer])[];

async function readBundles(folder: string): Promise<Bundles | null> {
  try {
    return await Promise.all(
      moduleNames.map(async (name) => [name, await readFile(join(folder, `${name}.js`))] as const),
    );
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

/** Written beside and then renamed: a start that was cut off leaves no half a folder under the digest's name. */
async function writeBundles(folder: string): Promise<Bundles> {
  const bundled = await bundle();
  const beside = `${folder}.${randomUUID()}`;
  await mkdir(beside, { recursive: true });
  await Promise.all(bundled.map(([name, body]) => writeFile(join(beside, `${name}.js`), body)));
  try {
    await rename(beside, folder);
  } catch {
    // Another process was first; its folder has the same digest, and ours is served from memory.
    await rm(beside, { recursive: true, force: true });
  }
  return bundled;
}

/** The bundler is loaded only when something has changed. */
async function bundle(): Promise<Bundles> {
  const { build } = await import('esbuild');
  return Promise.all(
    moduleNames.map(async (name) => {
      const { outputFiles } = await build({
        entryPoints: [join(browserFolder, entryFiles[name])],
        bundle: true,
        format: 'esm',
        target: 'es2022',
        minify: true,
        write: false,
        logLevel: 'silent',
      });
      const output = outputFiles[0];
      if (!output) throw new Error(`no bundle of ${name}`);
      return [name, Buffer.from(output.contents)] as const;
    }),
  );
}

function asset(body: Buffer, type: string): Asset {
  return { body, type, etag: `"${createHash('sha256').update(body).digest('hex').slice(0, 16)}"` };
}

function digestIn(of: Asset): string {
  return of.etag.replaceAll('"', '');
}
