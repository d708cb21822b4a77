import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium } from 'playwright-core';

const systemChromium = '/usr/bin/chromium';
const root = fileURLToPath(new URL('../../', import.meta.url));
const cache = join(root, 'node_modules', '.cache');
const bundledManifest = join(root, 'node_modules', '@sparticuz', 'chromium', 'package.json');

const flags = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-fake-device-for-media-stream',
  '--use-fake-ui-for-media-stream',
];

/** The system's Chromium where there is one, else the one in the npm package @sparticuz/chromium; with more flags. */
export async function launchBrowser(more: readonly string[] = []): Promise<Browser> {
  return chromium.launch({ ...(await whichChromium()), args: [...flags, ...more] });
}

/** A browser that keeps what it was told in a folder, as a phone does: opened again there, it knows it still. */
export async function launchPhone(
  folder: string,
  viewport: { readonly width: number; readonly height: number },
): Promise<BrowserContext> {
  return chromium.launchPersistentContext(folder, { ...(await whichChromium()), args: [...flags], viewport });
}

async function whichChromium() {
  if (existsSync(systemChromium)) return { executablePath: systemChromium };
  const folder = await bundledChromium();
  const env = {
    ...process.env,
    LD_LIBRARY_PATH: join(folder, 'al2023', 'lib'),
    FONTCONFIG_PATH: join(folder, 'fonts'),
  };
  return { executablePath: join(folder, 'chromium'), env };
}

/**
 * Unpacks the bundled Chromium once. The package unpacks into the temporary folder and takes a half-written
 * file for a whole one, so each process lets it work in a folder of its own, and the first to rename it wins.
 */
async function bundledChromium(): Promise<string> {
  const folder = join(cache, `chromium-${await bundledVersion()}-with-fonts`);
  if (existsSync(folder)) return folder;
  await mkdir(cache, { recursive: true });
  const unpacking = await mkdtemp(join(cache, 'chromium-unpacking-'));
  try {
    await unpackInto(unpacking);
    await writeFile(join(unpacking, 'fonts', 'fonts.conf'), fontsIn(folder));
    await rename(unpacking, folder);
  } catch (error) {
    if (!existsSync(folder)) throw error;
  } finally {
    await rm(unpacking, { recursive: true, force: true });
  }
  return folder;
}

/** The package's own file names folders that need not be there, and a Chromium without any font ends at the first form. */
function fontsIn(folder: string): string {
  return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${join(folder, 'fonts', 'fonts')}</dir>
  <cachedir>${join(folder, 'fonts-cache')}</cachedir>
</fontconfig>
`;
}

async function bundledVersion(): Promise<string> {
  const manifest: unknown = JSON.parse(await readFile(bundledManifest, 'utf8'));
  if (typeof manifest === 'object' && manifest !== null && 'version' in manifest)
    return String(manifest.version);
  throw new Error('The package @sparticuz/chromium names no version.');
}

/** The package brings the shared libraries that a bare machine lacks, but only where this variable is set. */
function unpackInto(folder: string): Promise<void> {
  const script = "await (await import('@sparticuz/chromium')).default.executablePath()";
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--input-type=module', '--eval', script], {
      cwd: root,
      env: { ...process.env, TMPDIR: folder, AWS_LAMBDA_JS_RUNTIME: 'nodejs24.x' },
      stdio: ['ignore', 'ignore', 'inherit'],
    });
    child.on('error', reject);
    child.on('close', (code) =>
      code === 0 ? resolve() : reject(new Error('The bundled Chromium could not be unpacked.')),
    );
  });
}
