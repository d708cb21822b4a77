import type { PhotosToTake } from '@grainwright/operations';
import { attributes, type Html, html } from '../../../look/html.ts';

/**
 * The camera in the page, shown by its module (browser/camera), where there is JavaScript: what was there before lies over
 * the picture while the one after is taken. What is taken is kept on the phone first, for `owner`, and sent from there.
 */
export function cameraPart({
  photos,
  owner,
}: {
  readonly photos: PhotosToTake;
  readonly owner: string;
}): Html {
  return html`<section ${attributes({
    class: 'camera',
    'data-camera': photos.workOrder.id,
    'data-owner': owner,
    'data-befores': JSON.stringify(beforesOf(photos)),
    hidden: true,
    'aria-label': 'Camera',
  })}>
    <button type="button" class="button" data-camera-open>Open the camera here</button>
    <div class="viewfinder" hidden>
      <video muted playsinline aria-label="What the camera sees"></video>
      <img class="ghost" alt="" hidden>
    </div>
    <div class="camera-tools" hidden>
      <div data-ghost-tools hidden>
        <label class="check"><input type="checkbox" data-ghost-on checked> <span>Lay the before picture over it</span></label>
        <label for="ghost-strength">How strong</label>
        <input type="range" id="ghost-strength" data-ghost-strength min="10" max="80" step="5" value="40">
      </div>
      <label class="check" data-torch hidden><input type="checkbox" data-torch-on> <span>Light on</span></label>
      <button type="button" class="button" data-camera-close>Close the camera</button>
    </div>
    <p role="status" data-camera-says></p>
  </section>
  <section data-shots class="shots" aria-label="Taken just now" hidden><h2>Taken just now</h2><ol></ol></section>`;
}

/** The newest picture of each line before its repair. */
function beforesOf({ photos }: PhotosToTake): readonly { readonly line: string; readonly photo: string }[] {
  const befores = photos.filter(
    ({ purpose, ready, lineId }) => purpose === 'before' && ready && lineId !== null,
  );
  return [...new Map(befores.map(({ id, lineId }) => [lineId ?? '', id]))].map(([line, photo]) => ({
    line,
    photo,
  }));
}
