import { join } from 'node:path';
import axe from 'axe-core';
import type { BrowserContext, Locator, Page } from 'playwright-core';
import { afterAll, expect } from 'vitest';
import { launchBrowser } from './browser.ts';
import type { Web } from './web.ts';

/** People at their devices, each in a browser profile of their own. It closes by itself at the end of the test file. */
export interface InBrowser {
  readonly address: string;
  /** Signs in on the page, as a person would. */
  signedIn(email: string, password: string, viewport: Viewport): Promise<Page>;
  /** A browser profile of its own where nobody is signed in, as somebody has who follows a link. */
  visiting(viewport: Viewport): Promise<Page>;
}

type Viewport = Readonly<{ width: number; height: number }>;

export const phone: Viewport = { width: 390, height: 844 };
export const desk: Viewport = { width: 1280, height: 900 };

const timeout = 20_000;

export async function openBrowser(web: Web, flags: readonly string[] = []): Promise<InBrowser> {
  const address = await web.listen();
  const browser = await launchBrowser(flags);
  afterAll(() => browser.close());
  const visiting = async (viewport: Viewport) => {
    const context = await browser.newContext({ viewport });
    const page = await context.newPage();
    services.set(context, web);
    page.setDefaultTimeout(timeout);
    return page;
  };
  return {
    address,
    visiting,
    async signedIn(email, password, viewport) {
      const page = await visiting(viewport);
      await page.goto(`${address}/sign-in`);
      await page.getByLabel('E-mail').fill(email);
      await page.getByLabel('Password').fill(password);
      await page.getByRole('button', { name: 'Sign in' }).press('Enter');
      await page.getByRole('button', { name: 'Sign out' }).waitFor();
      return page;
    },
  };
}

const services = new WeakMap<BrowserContext, Web>();

/** Chooses a picture as a phone hands it over: taken now, and the phone's clock stands where the service's does. */
export async function givePicture(
  field: Locator,
  picture: Readonly<{ name: string; mimeType: string; buffer: Buffer }>,
): Promise<void> {
  const page = field.page();
  const service = services.get(page.context());
  if (service) await page.clock.setFixedTime(service.now());
  await field.setInputFiles(picture);
}

/** Presses a button and waits for the page that it leads to. */
export function press(page: Page, name: string | RegExp): Promise<void> {
  return andArrive(page, () => page.getByRole('button', { name, exact: true }).click());
}

/** Follows the first link of that name and waits for its page. */
export function follow(page: Page, name: string | RegExp): Promise<void> {
  return andArrive(page, () => page.getByRole('link', { name, exact: true }).first().click());
}

/** Does something that leads to another page, and waits for that one. */
export async function andArrive(page: Page, act: () => Promise<void>): Promise<void> {
  // Longer than the act may take, so that an act that could not be done is what the failure tells of.
  await Promise.all([page.waitForEvent('domcontentloaded', { timeout: 2 * timeout }), act()]);
}

/** The page says all of this, now or as soon as it has come. */
export async function expectText(page: Page, ...words: readonly string[]): Promise<void> {
  for (const each of words) await expect.poll(() => wordsOf(page), { timeout, interval: 50 }).toContain(each);
}

/** All that can be read on the page now. */
export async function wordsOf(page: Page): Promise<string> {
  return (await page.locator('body').allInnerTexts()).join('\n');
}

/**
 * Nothing on the page that axe-core objects to, and nothing wider than the screen. With a folder in `E2E_SHOTS` it is
 * kept there as a picture, to be looked at.
 */
export async function expectWellMade(page: Page, name: string): Promise<void> {
  const folder = process.env.E2E_SHOTS;
  if (folder) await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
  await page.evaluate(axe.source);
  const found = await page.evaluate(async () => {
    const { axe: engine } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { scrollWidth, clientWidth } = document.documentElement;
    return [
      ...(scrollWidth > clientWidth ? [`${scrollWidth - clientWidth} pixels too wide`] : []),
      ...(await engine.run()).violations.map(
        (each) => `${each.id}: ${each.nodes.map((node) => node.html.slice(0, 120)).join(' | ')}`,
      ),
    ];
  });
  expect([name, ...found]).toEqual([name]);
}
