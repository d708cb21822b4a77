import { damageKinds, materials, observationLabels, partPositions, vehicleParts } from '@grainwright/domain';
import type { DrawnPicture } from '@grainwright/evidence';
import type { Page } from 'playwright-core';
import type { DemoVehicle } from '../../apps/cli/src/demo/vehicles.ts';
import type { DemoLine } from '../../apps/cli/src/demo/work-order.ts';
import { andArrive, expectText, expectWellMade, follow, givePicture, press } from '../support/in-browser.ts';
import { smallPhoto } from './pictures.ts';

/** What a technician does on the phone, each by the words on the page. */

export interface TypedVehicle {
  /** “Brackwater Glass & Screen, Main yard”; null: one more at the stop that today's page shows. */
  readonly place: string | null;
  readonly vehicle: DemoVehicle;
  /** More fields by their labels. */
  readonly typed?: Readonly<Record<string, string>>;
  readonly afterHours?: boolean;
  /** The form is looked over under this name. */
  readonly shot?: string;
}

export async function writeUp(
  page: Page,
  { place, vehicle, typed = {}, afterHours, shot }: TypedVehicle,
): Promise<void> {
  if (place === null) await follow(page, 'Next vehicle here');
  else {
    await follow(page, 'Write up a vehicle');
    await page.getByLabel('Account and place').selectOption({ label: place });
    await press(page, 'Go on to the vehicle');
  }
  const more = page.getByText('Make, model, other numbers, owner, day');
  if (!(await page.getByLabel('Make').isVisible())) await more.click();
  await page.getByLabel('VIN, or its last 8').fill(vehicle.vin);
  await page.getByLabel('Make').fill(vehicle.make);
  await page.getByLabel('Model', { exact: true }).fill(vehicle.model);
  await page.getByLabel('Interior color').fill(vehicle.color);
  for (const [label, words] of Object.entries(typed))
    await page.getByLabel(label, { exact: true }).fill(words);
  if (afterHours === true) await page.getByLabel('After hours').check();
  if (shot !== undefined) await expectWellMade(page, shot);
  await press(page, 'Write it up');
  await expectText(page, `${vehicle.modelYear} ${vehicle.make} ${vehicle.model}`);
}

/** From the work order to the line with its price. Once it was sent, keeping the line sends a changed estimate. */
export async function addLine(page: Page, { line }: DemoLine, keep = 'Keep the line'): Promise<void> {
  // A vehicle that was just written up is asked for its first line already.
  if (!(await page.getByLabel('Damage', { exact: true }).isVisible()))
    await follow(page, /^(Add (a|another) line|Found more: add a line)$/);
  const choose = (label: string, words: string | undefined) =>
    words === undefined
      ? Promise.resolve([])
      : page.getByLabel(label, { exact: true }).selectOption({ label: capital(words) });
  await choose('Part', wordsIn(vehicleParts, line.part));
  await choose('Side', wordsIn(partPositions, line.side));
  await choose('Damage', wordsIn(damageKinds, line.damage));
  await press(page, 'Go on: what it is made of');
  if (!['carpet', 'headliner', 'key_remote'].includes(line.part ?? '')) await tellMaterial(page, line);
  if (line.measuredInches !== undefined) await page.getByLabel('Measured size').fill(line.measuredInches);
  await chooseStarting(page, 'Repair', familyOf(line));
  if (line.factorCode === 'perf') await chooseStarting(page, 'Extra care', 'Perforated leather');
  // Some are ticked already, as they are usual.
  for (const box of await page.locator('input[name="methods"]').all())
    await box.setChecked((line.methods ?? []).includes((await box.getAttribute('value')) ?? ''));
  await press(page, keep);
}

/** One tap: what the heat test showed, or how it was told without heat. */
async function tellMaterial(page: Page, line: DemoLine['line']): Promise<void> {
  await press(page, toldWords(line));
}

/** The words on the card. */
export function toldWords({ observation, looksLike }: DemoLine['line']): string {
  const looks = capital(wordsIn(materials, looksLike) ?? '');
  if (observation === undefined) return 'Nothing to test';
  if (observation === 'by_eye') return looks;
  return burntWords[`${observation}:${looksLike ?? ''}`] ?? wordsIn(observationLabels, observation) ?? '';
}

const burntWords: Readonly<Record<string, string>> = {
  'already_burnt:unbacked_vinyl': 'It drew apart: looks like unbacked vinyl',
  'already_burnt:foam_backed_vinyl': 'It melted on its foam: looks like foam-backed vinyl',
  'already_burnt:urethane': 'It charred or flakes: looks like urethane',
  'already_burnt:': 'It can’t be told',
  'foam_wheel_missing_material:': 'Foam wheel, material missing',
};

/** Takes every photo that is asked for until the page says that it is enough. */
export async function takePhotos(page: Page, lines: readonly DemoLine[]): Promise<void> {
  const enough = page.getByText(/^Every photo (for now|that this account asks for) is here$/);
  while (page.url().includes('/photos') && !(await enough.isVisible())) {
    const asked = (await page.getByRole('heading', { level: 2 }).first().innerText()).toLowerCase();
    await takePhoto(page, stageOf(asked), lines.find((line) => isOf(line, asked)) ?? lines[0]);
  }
}

/** Takes one that the page does not propose, by its two choices. */
export async function takeAnother(page: Page, purpose: string, of: string, line: DemoLine): Promise<void> {
  const instead = page.getByRole('link', { name: 'Take something else' });
  if (await instead.isVisible()) await follow(page, 'Take something else');
  await page.getByLabel(purpose, { exact: true }).check();
  await page.getByLabel(of, { exact: true }).check();
  await takePhoto(page, stageOf(purpose.toLowerCase()), line);
}

/** Takes the photo that the page proposes. */
export async function takePhoto(
  page: Page,
  stage: DrawnPicture['stage'],
  line: DemoLine | undefined,
): Promise<void> {
  const picture = line?.picture ?? { part: 'dash', trim: 'graphite', damage: 'scuff', inches: 1 };
  const shot = await smallPhoto(stage, picture);
  const field = page.getByLabel('Photo', { exact: true });
  const isSentAtOnce = (await field.getAttribute('data-photo')) === 'send';
  if (isSentAtOnce) await andArrive(page, () => givePicture(field, shot));
  else {
    await givePicture(field, shot);
    await press(page, 'Keep the photo');
  }
  await page.getByText(/^Kept: /).waitFor();
}

/** Ticks every caution; the page is looked over where `shot` names it. */
export async function startWork(page: Page, shot?: string): Promise<void> {
  for (const box of await page.locator('#start input[name="acknowledge"]').all()) await box.check();
  if (shot !== undefined) await expectWellMade(page, shot);
  await press(page, 'Start work');
}

/** Three layers on each, as is usual, and the methods as they were planned; looked over as `startWork`. */
export async function finishWork(page: Page, shot?: string): Promise<void> {
  for (const layers of await page.getByLabel('Layers put on').all()) await layers.fill('3');
  if (shot !== undefined) await expectWellMade(page, shot);
  await press(page, 'Finish work');
}

/** Whoever holds the phone writes the name and draws with a finger. */
export async function sign(page: Page, name: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Your name' }).fill(name);
  const pad = page.locator('canvas[data-signature]');
  await pad.scrollIntoViewIfNeeded();
  const box = await pad.boundingBox();
  if (!box) throw new Error('there is no place to draw');
  await page.mouse.move(box.x + 30, box.y + box.height / 2);
  await page.mouse.down();
  for (let step = 1; step <= 12; step += 1)
    await page.mouse.move(box.x + 30 + step * 18, box.y + box.height / 2 + (step % 2 ? 18 : -18));
  await page.mouse.up();
}

/** Families as the price book calls them, where a repair is told by its code. */
const families: Readonly<Record<string, string>> = {
  'LW-P': 'Leather wear, bolster',
  'SW-S': 'Steering wheel, a third',
  'PL-H': 'Hard plastic hole',
  'KF-1': 'Key remote',
};

export function familyOf({ family, rateCode = '' }: DemoLine['line']): string {
  const words = family ?? families[rateCode];
  if (words === undefined) throw new Error(`no family for ${rateCode}`);
  return words;
}

async function chooseStarting(page: Page, label: string, words: string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  const options = await field.locator('option').allTextContents();
  const wanted = options.find((each) => each.startsWith(words));
  if (wanted === undefined) throw new Error(`“${label}” does not offer “${words}”`);
  await field.selectOption({ label: wanted });
}

function stageOf(asked: string): DrawnPicture['stage'] {
  if (asked.startsWith('after heat')) return 'after_heat';
  if (asked.startsWith('after')) return 'after';
  return asked.startsWith('progress') ? 'progress' : 'before';
}

function isOf({ line }: DemoLine, asked: string): boolean {
  return asked.includes(wordsIn(vehicleParts, line.part) ?? 'nothing');
}

export function wordsIn(
  words: Readonly<Record<string, string | { readonly label: string }>>,
  key: string | undefined,
): string | undefined {
  const found = key === undefined ? undefined : words[key];
  return typeof found === 'object' ? found.label : found;
}

export function capital(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
