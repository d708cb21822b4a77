import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { demoPassword } from '../../apps/cli/src/demo/sign-ins.ts';
import { launchBrowser } from '../support/browser.ts';

/** `npm run screenshots`: makes the demo anew, walks it in a browser, and writes the README's pictures. */

const folder = fileURLToPath(new URL('../../docs/images/', import.meta.url));
const script = fileURLToPath(new URL('../../apps/cli/src/main.ts', import.meta.url));

const phone = { width: 390, height: 844 };
const desk = { width: 1280, height: 860 };

interface Shot {
  readonly name: string;
  readonly email: string;
  readonly at: typeof phone;
  /** Where to go: a path, or where to press from a page. */
  readonly open: (page: Page) => Promise<unknown>;
}

const technician = 'sorrel@thornapple.example.com';
const manager = 'jory@larkspur.example.com';
const bookkeeper = 'hollis@quillfeather.example.com';
const owner = 'delphine@quillfeather.example.com';
const approver = 'leopold@brackwater.example.com';

const follow = (from: string, text: RegExp) => async (page: Page) => {
  await page.goto(from);
  await page.getByRole('link', { name: text }).first().click();
  await shown(page);
};

/** A repair of three lines, as contacts of its account see it. */
const evidence = follow('/account/work-orders', /WO-1016/);

async function comparedPictures(page: Page): Promise<void> {
  await evidence(page);
  const pair = page.locator('[data-divider]').first();
  await pair.evaluate((element) => element.scrollIntoView({ block: 'center' }));
}

/** Downloads an archive as an account’s contact, and has it checked on the page for everybody. */
async function checkedPack(page: Page): Promise<void> {
  await evidence(page);
  const link = page.getByRole('link', { name: 'Evidence pack, ZIP' });
  const archive = await page.request.get((await link.getAttribute('href')) ?? '');
  await page.goto('/verify');
  await page.getByLabel('Evidence pack').setInputFiles({
    name: 'evidence.zip',
    mimeType: 'application/zip',
    buffer: await archive.body(),
  });
  const outcome = page.getByText('This pack holds together');
  await outcome.evaluate((element) => element.scrollIntoView({ block: 'start' }));
}

const shots: readonly Shot[] = [
  { name: 'today-on-the-phone', email: technician, at: phone, open: (page) => page.goto('/field') },
  { name: 'price-at-the-vehicle', email: technician, at: phone, open: follow('/field', /2019 Luma Petite/) },
  {
    name: 'approval-in-the-portal',
    email: manager,
    at: phone,
    open: follow('/account/to-approve', /2021 Corvane T4/),
  },
  {
    name: 'board',
    email: 'odessa@thornapple.example.com',
    at: desk,
    open: (page) => page.goto('/office/board'),
  },
  { name: 'invoice-of-a-visit', email: bookkeeper, at: desk, open: follow('/office/invoices', /INV-2019/) },
  {
    name: 'aging',
    email: bookkeeper,
    at: desk,
    open: (page) => page.goto('/office/aging?as_of=2026-10-31'),
  },
  {
    name: 'sales-tax',
    email: bookkeeper,
    at: desk,
    open: (page) => page.goto('/office/sales-tax?from=2026-08-01&to=2026-10-31'),
  },
  { name: 'before-and-after', email: approver, at: phone, open: comparedPictures },
  { name: 'evidence-checked', email: approver, at: desk, open: checkedPack },
  { name: 'seals', email: owner, at: desk, open: (page) => page.goto('/office/seals') },
];

const dataFolder = await mkdtemp(join(tmpdir(), 'grainwright-screenshots-'));
const product = spawn(process.execPath, [script, 'start'], {
  env: { ...process.env, PORT: '0', DATA_DIR: dataFolder, DATABASE_URL: '' },
  stdio: ['ignore', 'pipe', 'inherit'],
});
try {
  const address = await readyAt(product);
  const browser = await launchBrowser();
  await mkdir(folder, { recursive: true });
  for (const shot of shots) await take(browser, address, shot);
  await browser.close();
} finally {
  const ended = new Promise((resolve) => product.once('exit', resolve));
  product.kill('SIGTERM');
  await ended;
  await rm(dataFolder, { recursive: true, force: true });
}

/** Loaded, with every picture in view. Pages that listen for news are never done with the network. */
async function shown(page: Page): Promise<void> {
  await page.waitForLoadState('load');
  await page.evaluate(async () => {
    const inView = [...document.images].filter((image) => {
      const { top, bottom } = image.getBoundingClientRect();
      return top < window.innerHeight && bottom > 0;
    });
    await Promise.all(inView.map((image) => image.decode()));
  });
}

function readyAt(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    child.once('exit', (code) => reject(new Error(`the product ended with code ${code}`)));
    if (child.stdout === null) return reject(new Error('the product has no output'));
    createInterface({ input: child.stdout }).on('line', (line) => {
      if (line.startsWith('ready ')) resolve(line.slice('ready '.length));
    });
  });
}

async function take(browser: Browser, address: string, { name, email, at, open }: Shot): Promise<void> {
  const context = await browser.newContext({ baseURL: address, viewport: at, locale: 'en-US' });
  const page = await context.newPage();
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill(email);
  await page.getByLabel('Password').fill(demoPassword);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await shown(page);
  await open(page);
  await shown(page);
  await page.screenshot({ path: join(folder, `${name}.png`) });
  process.stdout.write(`${name}.png\n`);
  await context.close();
}
