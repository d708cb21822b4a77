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
    readonly news: string;
    readonly payment: string;
    readonly photo: string;
    readonly pictures: string;
    readonly progress: string;
    readonly scan: string;
    /** What the scanning module reads bar codes with; fetched when somebody scans. */
    readonly scanWasm: string;
    readonly sending: string;
    readonly sharing: string;
    readonly signature: string;
  };
}

export async function bundleAssets(cacheFolder: string): Promise<Assets> {
  const styles = asset(await readFile(stylesheetPath), 'text/css; charset=utf-8');
  const wasm = asset(await readFile(wasmPath), 'application/wasm');
  const folder = join(cacheFolder, await sourceDigest());
  const bundled = (await readBundles(folder)) ?? (await writeBundles(folder));
  const [news, payment, photo, pictures, progress, scan, sending, sharing, signature] = bundled.map((body) =>
    asset(body, 'text/javascript; charset=utf-8'),
  );
  if (!news || !payment || !photo || !pictures || !progress || !scan || !sending || !sharing || !signature)
    throw new Error('a browser module was not bundled');
  const urls = {
    stylesheet: `/assets/grainwright.css?v=${digestIn(styles)}`,
    news: `/assets/news-${digestIn(news)}.js`,
    payment: `/assets/payment-${digestIn(payment)}.js`,
    photo: `/assets/photo-${digestIn(photo)}.js`,
    pictures: `/assets/pictures-${digestIn(pictures)}.js`,
    progress: `/assets/progress-${digestIn(progress)}.js`,
    scan: `/assets/scan-${digestIn(scan)}.js`,
    scanWasm: `/assets/zxing-reader-${digestIn(wasm)}.wasm`,
    sending: `/assets/sending-${digestIn(sending)}.js`,
    sharing: `/assets/sharing-${digestIn(sharing)}.js`,
    signature: `/assets/signature-${digestIn(signature)}.js`,
  };
  const files = new Map([
    ['/assets/grainwright.css', styles],
    [urls.news, news],
    [urls.payment, payment],
    [urls.photo, photo],
    [urls.pictures, pictures],
    [urls.progress, progress],
    [urls.scan, scan],
    [urls.scanWasm, wasm],
    [urls.sending, sending],
    [urls.sharing, sharing],
    [urls.signature, signature],
  ]);
  return { files, urls };
}

const moduleNames = [
  'news',
  'payment',
  'photo',
  'pictures',
  'progress',
  'scan',
  'sending',
  'sharing',
  'signature',
] as const;
const stylesheetPath = fileURLToPath(new URL('./grainwright.css', import.meta.url));
/** What the browser's modules use of the rules. */
const importedRules = [
  './money/money.ts',
  './receivables/match-amount.ts',
  './vehicle/vin.ts',
  './vehicle/vin-barcode.ts',
] as const;
const wasmPath = fileURLToPath(import.meta.resolve('zxing-wasm/reader/zxing_reader.wasm'));
const browserFolder = fileURLToPath(new URL('../browser', import.meta.url));

/** Of our modules, of what they import, and of the bundler's version. */
async function sourceDigest(): Promise<string> {
  const ours = (await readdir(browserFolder)).filter((name) => name.endsWith('.ts')).sort();
  const paths = [
    ...ours.map((name) => join(browserFolder, name)),
    ...importedRules.map((name) => fileURLToPath(new URL(name, import.meta.resolve('@grainwright/domain')))),
    fileURLToPath(import.meta.resolve('signature_pad')),
    fileURLToPath(import.meta.resolve('zxing-wasm/reader')),
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
