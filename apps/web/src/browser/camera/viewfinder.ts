import { layGhost } from './ghost.ts';
import type { Keeping } from './keeping.ts';

export interface Frame {
  readonly jpeg: Blob;
  readonly canvas: HTMLCanvasElement;
}

interface Finding {
  readonly form: HTMLFormElement;
  readonly workOrderId: string;
  readonly keeping: Keeping;
  /** Answers with what to say of it. */
  readonly take: (frame: Frame) => Promise<string>;
}

/** Remembered on this phone: whoever used the camera here once finds it open. */
const openedBefore = 'grainwright-camera';

/** Shows the part of the page that opens the camera; the picture is what is seen, so that it lies where the one before lay. */
export function offerViewfinder(part: HTMLElement, finding: Finding): void {
  const open = part.querySelector<HTMLButtonElement>('[data-camera-open]');
  const close = part.querySelector<HTMLButtonElement>('[data-camera-close]');
  const video = part.querySelector('video');
  const shutter = document.querySelector<HTMLButtonElement>('[data-shutter]');
  const says = part.querySelector('[data-camera-says]');
  if (!open || !close || !video || !shutter || !says) return;
  const say = (words: string) => {
    says.textContent = words;
  };
  const camera = cameraOn(part, { open, video, shutter, say });
  const ghost = layGhost(part, finding);
  open.addEventListener('click', async () => {
    if (await camera.open()) ghost.show();
  });
  close.addEventListener('click', () => {
    camera.close();
    forget();
  });
  shutter.addEventListener('click', async () => {
    const frame = await frameOf(video);
    if (frame === null) return say('The camera gives no picture yet. Wait a moment and take it again.');
    shutter.classList.add('field-button--taken');
    say(await finding.take(frame));
    shutter.classList.remove('field-button--taken');
    ghost.show();
    return undefined;
  });
  window.addEventListener('pagehide', camera.close);
  part.hidden = false;
  void openAgain(open);
}

interface Parts {
  readonly open: HTMLButtonElement;
  readonly video: HTMLVideoElement;
  readonly shutter: HTMLButtonElement;
  readonly say: (words: string) => void;
}

function cameraOn(part: HTMLElement, { open, video, shutter, say }: Parts) {
  const send = document.querySelector<HTMLElement>('button[form="photo"]');
  let stream: MediaStream | null = null;
  const show = (isOpen: boolean) => {
    for (const each of part.querySelectorAll<HTMLElement>('.viewfinder, .camera-tools'))
      each.hidden = !isOpen;
    open.hidden = isOpen;
    shutter.hidden = !isOpen;
    if (send) send.hidden = isOpen;
  };
  const close = () => {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = null;
    video.srcObject = null;
    show(false);
  };
  return {
    close,
    open: async (): Promise<boolean> => {
      say('Opening the camera…');
      try {
        stream = await navigator.mediaDevices.getUserMedia({
          audio: false,
          video: { facingMode: 'environment', width: { ideal: 2560 }, height: { ideal: 1920 } },
        });
        video.srcObject = stream;
        await video.play();
      } catch {
        close();
        say(
          'No camera can be used here. Allow it for this page in the browser’s settings, or use the field below.',
        );
        return false;
      }
      show(true);
      say('Hold still, mind the glare.');
      remember();
      offerTorch(part, stream.getVideoTracks()[0]);
      stream.getVideoTracks()[0]?.addEventListener('ended', () => {
        close();
        say('The camera was taken away. Open it again.');
      });
      return true;
    },
  };
}

/** Null before the first picture has come. */
async function frameOf(video: HTMLVideoElement): Promise<Frame | null> {
  const canvas = document.createElement('canvas');
  canvas.width = video.videoWidth;
  canvas.height = video.videoHeight;
  if (canvas.width === 0) return null;
  canvas.getContext('2d')?.drawImage(video, 0, 0);
  const jpeg = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.92));
  return jpeg && { jpeg, canvas };
}

interface WithTorch extends MediaTrackConstraintSet {
  torch?: boolean;
}

/** Only where the device has one. */
function offerTorch(part: HTMLElement, track: MediaStreamTrack | undefined): void {
  const tool = part.querySelector<HTMLElement>('[data-torch]');
  const box = tool?.querySelector('input');
  const can: object = track?.getCapabilities?.() ?? {};
  if (!tool || !box || !('torch' in can) || can.torch !== true) return;
  tool.hidden = false;
  box.onchange = () => {
    const wish: WithTorch = { torch: box.checked };
    track?.applyConstraints({ advanced: [wish] }).catch(() => {
      box.checked = false;
    });
  };
}

function remember(): void {
  try {
    localStorage.setItem(openedBefore, 'open');
  } catch {
    // A browser that keeps nothing asks again.
  }
}

function forget(): void {
  try {
    localStorage.removeItem(openedBefore);
  } catch {
    // As above.
  }
}

/** By itself only where nobody is asked for it any more. */
async function openAgain(open: HTMLButtonElement): Promise<void> {
  try {
    if (localStorage.getItem(openedBefore) !== 'open') return;
    const { state } = await navigator.permissions.query({ name: 'camera' as PermissionName });
    if (state === 'granted') open.click();
  } catch {
    // Some browsers don't tell: then it is opened by hand.
  }
}
