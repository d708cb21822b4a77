/**
 * The camera in the photo page: a picture is taken beside what was there before, judged at once, kept on the phone and
 * sent from there. Where no camera may be used, the page's own field takes the picture the same way; without this module
 * the form is sent as forms are.
 */
import { openKeeping } from './keeping.ts';
import { readPhotoForm, watchForm } from './photo-form.ts';
import { openShots } from './shots.ts';
import { offerViewfinder } from './viewfinder.ts';

const part = document.querySelector<HTMLElement>('[data-camera]');
if (part) void begin(part);

async function begin(camera: HTMLElement): Promise<void> {
  const workOrderId = camera.dataset.camera ?? '';
  const keeping = await openKeeping(camera.dataset.owner ?? '');
  const form = document.querySelector<HTMLFormElement>('form#photo');
  if (keeping === null || form === null) return;
  const shots = openShots({ keeping, workOrderId, form });
  watchForm(form, shots);
  if (navigator.mediaDevices?.getUserMedia === undefined) return;
  offerViewfinder(camera, {
    form,
    workOrderId,
    keeping,
    take: (picture) => shots.take(picture, readPhotoForm(form)),
  });
}
