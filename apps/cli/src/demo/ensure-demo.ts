import { access, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { emptyDatabase } from '@grainwright/db';
import { type Instant, instant, ok, type Result, refuse } from '@grainwright/domain';
import { listTenants, openServices } from '@grainwright/operations';
import { migrateDatabase, type PreparedDatabase } from '../prepared-database.ts';
import { type CliSettings, objectsFolder } from '../settings.ts';
import { type DemoTools, demoTenants, isDemo, makeDemo } from './make-demo.ts';
import { openPictureDrawer } from './picture-drawer.ts';

/**
 * Makes the demo where it belongs: on our own server on first run, on another one only when asked. Answers whether
 * it is there. A demo that was broken off is thrown away and made again: nothing else could have been added yet.
 */
export async function ensureDemo(
  settings: CliSettings,
  database: PreparedDatabase,
  { wanted, brokenOff }: { readonly wanted: boolean; readonly brokenOff: () => boolean },
): Promise<Result<boolean>> {
  const unfinished = join(settings.dataFolder, 'demo-unfinished');
  const wasBrokenOff = await access(unfinished).then(
    () => true,
    () => false,
  );
  if (wasBrokenOff) {
    const cleared = await startOver(settings, database);
    if (!cleared.ok) return cleared;
  }
  return withSettableClock(settings, database, async (tools) => {
    const { services } = tools;
    const tenants = await listTenants(services);
    if (!tenants.ok) return tenants;
    const there = tenants.value.some((tenant) => tenant.id === demoTenants.quillfeather);
    const due = wanted || (database.embedded && tenants.value.length === 0);
    if (there || !due) return ok(there);
    // Only where the demo is all there is: what is broken off is thrown away with everything beside it.
    if (database.embedded && tenants.value.length === 0)
      await writeFile(unfinished, 'The demo is being made.\n');
    process.stderr.write(
      'Making the demo: three businesses, their accounts, photos and documents. This happens once.\n',
    );
    const whole = await makeDemo(tools, brokenOff);
    if (whole) await rm(unfinished, { force: true });
    return ok(whole);
  });
}

async function startOver(settings: CliSettings, database: PreparedDatabase): Promise<Result<unknown>> {
  const others = await withSettableClock(settings, database, async ({ services }) => {
    const tenants = await listTenants(services);
    return tenants.ok ? ok(tenants.value.filter(({ id }) => !isDemo(id))) : tenants;
  });
  if (!others.ok) return others;
  if (!database.embedded || others.value.length > 0)
    return refuse(
      'unavailable',
      `Making the demo was broken off. Remove ${join(settings.dataFolder, 'demo-unfinished')} to start without it, or give an empty DATA_DIR.`,
    );
  await emptyDatabase(database.adminUrl);
  await rm(objectsFolder(settings), { recursive: true, force: true });
  return migrateDatabase(database.adminUrl);
}

/** Operations whose clock the demo sets: everything in it happened on its own day. */
async function withSettableClock<T>(
  settings: CliSettings,
  database: PreparedDatabase,
  work: (tools: DemoTools) => Promise<Result<T>>,
): Promise<Result<T>> {
  let now = instant(new Date());
  const opened = await openServices({
    loginUrl: database.loginUrl,
    objectsFolder: objectsFolder(settings),
    s3: settings.s3,
    now: () => now,
  });
  const drawer = openPictureDrawer();
  try {
    const setClock = (at: Instant) => {
      now = at;
    };
    return await work({
      services: opened.services,
      temporaryFolder: opened.temporaryFolder,
      setClock,
      drawer,
    });
  } finally {
    await drawer.close();
    await opened.close();
  }
}
