/**
 * Reads the VIN from the bar code in a vehicle's door with the camera, or from a picture of it, into its field. Code 39
 * and Code 128, read on the phone: no frame leaves it. Without this module, or without a camera, the VIN is typed.
 */
import { type ReadVin, vinFromBarcode } from '@grainwright/domain';
import { prepareZXingModule, type ReaderOptions, readBarcodes } from 'zxing-wasm/reader';

const options: ReaderOptions = { formats: ['Code39', 'Code128'], maxNumberOfSymbols: 8 };
/** As wide as a bar code of 17 characters needs; more only takes longer. */
const frameWidthMax = 1600;
const pauseMilliseconds = 120;

for (const part of document.querySelectorAll<HTMLElement>('[data-scan]')) offer(part);

function offer(part: HTMLElement): void {
  const field = document.querySelector<HTMLInputElement>(`#${part.dataset.scan}`);
  const start = part.querySelector<HTMLButtonElement>('[data-scan-start]');
  const video = part.querySelector('video');
  const chooser = part.querySelector<HTMLElement>('[data-scan-picture]');
  const picture = chooser?.querySelector('input');
  const heard = part.querySelector('[role="status"]');
  if (!field || !start || !video || !chooser || !picture || !heard) return;
  const say = (words: string) => {
    heard.textContent = words;
  };
  const take = (read: ReadVin) => {
    field.value = read.vin;
    const [doubt] = read.warnings;
    say(
      doubt === undefined
        ? `Read: ${read.vin}. Its check digit fits.`
        : `Read: ${read.vin}. ${doubt.sentence}`,
    );
    field.focus();
  };
  const choose = (words: string) => {
    chooser.hidden = false;
    say(words);
  };
  const camera = cameraOn(video, { say, take, choose, start });
  start.addEventListener('click', () => camera.toggle());
  picture.addEventListener('change', () => readPicture(picture, { say, take }));
  window.addEventListener('pagehide', () => camera.stop());
  part.hidden = false;
}

interface Told {
  readonly say: (words: string) => void;
  readonly take: (read: ReadVin) => void;
}

/** The rear camera while somebody scans; the button ends it as it began it. */
function cameraOn(
  video: HTMLVideoElement,
  told: Told & { readonly choose: (words: string) => void; readonly start: HTMLButtonElement },
) {
  const label = told.start.textContent;
  let stream: MediaStream | null = null;
  const stop = () => {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = null;
    video.srcObject = null;
    video.hidden = true;
    told.start.textContent = label;
  };
  const begin = async () => {
    told.say('Opening the camera…');
    try {
      stream = await navigator.mediaDevices.getUserMedia({
        video: { facingMode: 'environment', width: { ideal: 1920 }, height: { ideal: 1080 } },
      });
      video.srcObject = stream;
      video.hidden = false;
      await video.play();
    } catch {
      stop();
      told.choose('No camera can be used here. Take a picture of the bar code instead, or type the VIN.');
      return;
    }
    told.start.textContent = 'Stop scanning';
    told.choose('Hold the bar code across the picture. A picture of it does as well.');
    const take = (read: ReadVin) => {
      stop();
      told.take(read);
    };
    await watch(video, () => stream !== null, { say: told.say, take });
  };
  const toggle = () => {
    if (stream === null) return begin();
    stop();
    told.say('');
    return undefined;
  };
  return { stop, toggle };
}

/** Looks at one frame after the other. A VIN whose check digit does not fit has to be read twice alike. */
async function watch(video: HTMLVideoElement, isOn: () => boolean, { say, take }: Told): Promise<void> {
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('2d', { willReadFrequently: true });
  let doubted = '';
  while (context !== null && isOn()) {
    const scale = Math.min(1, frameWidthMax / Math.max(1, video.videoWidth));
    canvas.width = Math.round(video.videoWidth * scale);
    canvas.height = Math.round(video.videoHeight * scale);
    if (canvas.width > 0) {
      context.drawImage(video, 0, 0, canvas.width, canvas.height);
      const read = await readVin(context.getImageData(0, 0, canvas.width, canvas.height), say);
      if (!isOn()) return;
      if (read !== null && (read.warnings.length === 0 || read.vin === doubted)) return take(read);
      doubted = read?.vin ?? doubted;
    }
    await new Promise((resolve) => setTimeout(resolve, pauseMilliseconds));
  }
}

async function readPicture(input: HTMLInputElement, { say, take }: Told): Promise<void> {
  const [file] = input.files ?? [];
  if (file === undefined) return;
  say('Reading…');
  try {
    let other = nothingRead;
    const read = await readVin(file, (words) => {
      other = words;
    });
    if (read === null) say(other);
    else take(read);
  } catch {
    say('This picture can’t be read. Take another one, or type the VIN.');
  }
}

const nothingRead =
  'There is no VIN in this picture that can be read. Come closer, hold still, mind the glare; or type it.';

/** Null where there is none; what another bar code says is told. */
async function readVin(picture: Blob | ImageData, say: (words: string) => void): Promise<ReadVin | null> {
  await prepared();
  const found = (await readBarcodes(picture, options)).filter(({ isValid }) => isValid);
  let other = '';
  for (const { text } of found) {
    const read = vinFromBarcode(text);
    if (read.ok) return read.value;
    other = read.problem.detail;
  }
  if (other !== '') say(other);
  return null;
}

let ready: Promise<unknown> | null = null;

/** From our own address, and only once somebody scans: it is large. */
function prepared(): Promise<unknown> {
  const address = document.querySelector<HTMLElement>('[data-scan]')?.dataset.wasm ?? '';
  ready ??= prepareZXingModule({ overrides: { locateFile: () => address }, fireImmediately: true });
  return ready;
}
