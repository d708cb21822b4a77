import { type ArchivedFile, readArchive, verifyPack } from '@grainwright/domain';
import { reportView, unreadableView } from '../pages/verify/report-view.ts';

/**
 * Checks an evidence pack where it is: the file is read in pieces by this page and nothing leaves it. The digest and the
 * key may be typed before or after; the pack is then looked at again without reading it once more.
 */
const place = document.querySelector<HTMLElement>('[data-verify]');
const state = document.querySelector<HTMLElement>('[data-verify-state]');
const report = document.querySelector<HTMLElement>('[data-verify-report]');
if (place !== null && state !== null && report !== null) begin(place, state, report);

function begin(place: HTMLElement, state: HTMLElement, report: HTMLElement): void {
  const fileInput = place.querySelector<HTMLInputElement>('input[type="file"]');
  let read: { readonly name: string; readonly files: readonly ArchivedFile[] } | null = null;
  let turn = 0;

  const tell = () => {
    if (read === null) return;
    const found = verifyPack(read.files, { day: typed(place, 'day'), keyId: typed(place, 'key') });
    state.textContent = found.holds
      ? 'Checked: it holds together.'
      : found.holdsByItself
        ? 'Checked: it holds by itself, but not against what you compared it with.'
        : 'Checked: it does not hold.';
    report.innerHTML = reportView(found, read.name).toString();
  };
  const check = async (file: File) => {
    turn += 1;
    const own = turn;
    read = null;
    report.replaceChildren();
    const archive = {
      bytes: file.size,
      read: async (start: number, end: number) => new Uint8Array(await file.slice(start, end).arrayBuffer()),
    };
    const files = await readArchive(archive, (done, all) => {
      if (own === turn) state.textContent = `Reading: ${Math.floor((100 * done) / Math.max(1, all))} %`;
    }).catch(() => null);
    // Another file was chosen meanwhile.
    if (own !== turn) return;
    if (files?.ok === true) {
      read = { name: file.name, files: files.value };
      tell();
    } else {
      state.textContent = 'It can’t be checked.';
      const sentence = files?.problem.detail ?? 'The file can’t be read any more. Choose it again.';
      report.innerHTML = unreadableView(sentence).toString();
    }
  };

  fileInput?.addEventListener('change', () => {
    const file = fileInput.files?.[0];
    if (file !== undefined) void check(file);
  });
  for (const name of ['day', 'key'])
    place.querySelector(`input[name="${name}"]`)?.addEventListener('change', tell);
  takeDrops(place, (file) => void check(file));
}

function typed(place: HTMLElement, name: string): string {
  return place.querySelector<HTMLInputElement>(`input[name="${name}"]`)?.value ?? '';
}

/** Dropped beside the place, a file would open in the page’s stead; so the whole window takes it. */
function takeDrops(place: HTMLElement, take: (file: File) => void): void {
  window.addEventListener('dragover', (event) => {
    event.preventDefault();
    place.classList.add('drop-place--over');
  });
  window.addEventListener('dragleave', () => place.classList.remove('drop-place--over'));
  window.addEventListener('drop', (event) => {
    event.preventDefault();
    place.classList.remove('drop-place--over');
    const file = event.dataTransfer?.files[0];
    if (file !== undefined) take(file);
  });
}
