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

export interface Assets {
  readonly files: ReadonlyMap<string, Asset>;
  readonly urls: {
    readonly stylesheet: string;
    readonly payment: string;
    readonly photo: string;
    readonly pictures: string;
    readonly progress: string;
    readonly sending: string;
    readonly signature: string;
  };
}

export async function bundleAssets(cacheFolder: string): Promise<Assets> {
  const styles = asset(await readFile(stylesheetPath), 'text/css; charset=utf-8');
  const folder = join(cacheFolder, await sourceDigest());
  const bundled = (await readBundles(folder)) ?? (await writeBundles(folder));
  const [payment, photo, pictures, progress, sending, signature] = bundled.map((body) =>
    asset(body, 'text/javascript; charset=utf-8'),
  );
  if (!payment || !photo || !pictures || !progress || !sending || !signature)
    throw new Error('a browser module was not bundled');
  const urls = {
    stylesheet: `/assets/grainwright.css?v=${digestIn(styles)}`,
    payment: `/assets/payment-${digestIn(payment)}.js`,
    photo: `/assets/photo-${digestIn(photo)}.js`,
    pictures: `/assets/pictures-${digestIn(pictures)}.js`,
    progress: `/assets/progress-${digestIn(progress)}.js`,
    sending: `/assets/sending-${digestIn(sending)}.js`,
    signature: `/assets/signature-${digestIn(signature)}.js`,
  };
  const files = new Map([
    ['/assets/grainwright.css', styles],
    [urls.payment, payment],
    [urls.photo, photo],
    [urls.pictures, pictures],
    [urls.progress, progress],
    [urls.sending, sending],
    [urls.signature, signature],
  ]);
  return { files, urls };
}

const moduleNames = ['payment', 'photo', 'pictures', 'progress', 'sending', 'signature'] as const;
const stylesheetPath = fileURLToPath(new URL('./grainwright.css', import.meta.url));
/** What the browser's modules use of the rules. */
const importedRules = ['./money/money.ts', './receivables/match-amount.ts'] as const;
const browserFolder = fileURLToPath(new URL('../browser', import.meta.url));

/** Of our modules, of what they import, and of the bundler's version. */
async function sourceDigest(): Promise<string> {
  const ours = (await readdir(browserFolder)).filter((name) => name.endsWith('.ts')).sort();
  const paths = [
    ...ours.map((name) => join(browserFolder, name)),
    ...importedRules.map((name) => fileURLToPath(new URL(name, import.meta.resolve('@grainwright/domain')))),
    fileURLToPath(import.meta.resolve('signature_pad')),
    fileURLToPath(import.meta.resolve('esbuild/package.json')),
  ];
  const hash = createHash('sha256');
  for (const path of paths) hash.update(await readFile(path)).update('\0');
  return hash.digest('hex').slice(0, 32);
}

async function readBundles(folder: string): Promise<readonly Buffer[] | null> {
  try {
    return await Promise.all(moduleNames.map((name) => readFile(join(folder, `${name}.js`))));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

/** Written beside and then renamed: a start that was cut off leaves no half a folder under the digest's name. */
async function writeBundles(folder: string): Promise<readonly Buffer[]> {
  const bundled = await bundle();
  const beside = `${folder}.${randomUUID()}`;
  await mkdir(beside, { recursive: true });
  await Promise.all(bundled.map((body, index) => writeFile(join(beside, `${moduleNames[index]}.js`), body)));
  try {
    await rename(beside, folder);
  } catch {
    // Another process was first; its folder has the same digest, and ours is served from memory.
    await rm(beside, { recursive: true, force: true });
  }
  return bundled;
}

/** The bundler is loaded only when something has changed. */
async function bundle(): Promise<readonly Buffer[]> {
  const { build } = await import('esbuild');
  return Promise.all(
    moduleNames.map(async (name) => {
      const { outputFiles } = await build({
        entryPoints: [join(browserFolder, `${name}.ts`)],
        bundle: true,
        format: 'esm',
        target: 'es2022',
        minify: true,
        write: false,
        logLevel: 'silent',
      });
      const output = outputFiles[0];
      if (!output) throw new Error(`no bundle of ${name}`);
      return Buffer.from(output.contents);
    }),
  );
}

function asset(body: Buffer, type: string): Asset {
  return { body, type, etag: `"${createHash('sha256').update(body).digest('hex').slice(0, 16)}"` };
}

function digestIn(of: Asset): string {
  return of.etag.replaceAll('"', '');
}
