import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { openServices } from '@grainwright/operations';
import { buildApp } from './app.ts';
import { bundleAssets } from './look/assets.ts';
import { readSettings } from './settings.ts';

/** Starts the web process: prints one line when it listens, and ends cleanly on SIGTERM or SIGINT. */
async function main(): Promise<void> {
  const settings = readSettings(process.env);
  const cacheFolder = join(settings.dataFolder, 'cache');
  await mkdir(cacheFolder, { recursive: true });
  const opened = await openServices({
    loginUrl: settings.loginUrl,
    objectsFolder: join(settings.dataFolder, 'objects'),
    s3: settings.s3,
    publicUrl: settings.publicUrl ?? `http://127.0.0.1:${settings.port}`,
  });
  const app = await buildApp({
    services: opened.services,
    assets: await bundleAssets(cacheFolder),
    secure: settings.secure,
    trustProxy: settings.trustProxy,
    temporaryFolder: opened.temporaryFolder,
    photoBytesMax: settings.photoBytesMax,
    recordingBytesMax: settings.recordingBytesMax,
    logLevel: settings.logLevel,
  });
  let ending = false;
  const end = async () => {
    if (ending) return;
    ending = true;
    // An open pipe would keep the process.
    process.stdin.pause();
    await app.close();
    await opened.close();
  };
  process.once('SIGTERM', end);
  process.once('SIGINT', end);
  if (process.env.STOP_WITH_PARENT === '1') process.stdin.once('end', end).resume();
  await app.listen({ port: settings.port, host: settings.host });
  process.stdout.write('web ready\n');
}

main().catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
});
