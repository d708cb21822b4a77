import { type PhotoPurpose, type Problem, photoPurposes } from '@grainwright/domain';
import type { PhotosToTake } from '@grainwright/operations';
import { quietLink } from '../../../look/buttons.ts';
import { cameraField, errorSummary, hiddenCsrf, hiddenField, radioCards } from '../../../look/forms.ts';
import { type Html, html } from '../../../look/html.ts';
import { problemsOf } from '../../form-problems.ts';
import { choicesOf } from '../choices.ts';
import { workOrderPath } from '../work-words.ts';
import { isWorked } from './due-now.ts';

export interface PhotoForm {
  readonly photoId: string;
  /** Empty for a photo of the vehicle as a whole. */
  readonly lineId: string;
  readonly purpose: string;
  /** The photo that is taken again; empty where none is. */
  readonly retakeOf: string;
  /** Whether the cards to choose from are shown, instead of what the page proposes. */
  readonly choosing: boolean;
}

const photoFields = ['photo', 'line_id', 'purpose'];

interface PhotoFormParts {
  readonly csrfToken: string;
  readonly photos: PhotosToTake;
  readonly form: PhotoForm;
  readonly problem: Problem | null;
  readonly bytesMax: number;
}

/** The file comes last: what it is of has to be read before it. */
export function photoForm({ csrfToken, photos, form, problem, bytesMax }: PhotoFormParts): Html {
  const { errorOf, summary } = problemsOf(problem, photoFields);
  const path = `${workOrderPath(photos.workOrder)}/photos`;
  const preset = form.choosing ? null : presetWords(photos, form);
  return html`<form id="photo" class="photo-form" method="post" enctype="multipart/form-data" action="${path}" data-sending="Sending…" data-shows="${preset ?? ''}" data-bytes-max="${bytesMax}">
    ${errorSummary(summary)}
    ${hiddenCsrf(csrfToken)}
    ${hiddenField('photo_id', form.photoId)}
    ${hiddenField('retake_of', form.retakeOf)}
    ${preset === null ? choices(photos, form, errorOf) : presetFields(form, preset)}
    ${cameraField({
      name: 'photo',
      label: 'Photo',
      hint: 'Wipe the lens, mind the glare, hold still.',
      error: errorOf('photo'),
      required: true,
      sendsAtOnce: preset !== null,
    })}
    ${preset !== null && html`<p>${quietLink({ label: 'Take something else', href: `${path}?choose=yes` })}</p>`}
  </form>`;
}

/** What was chosen in words, as long as it is something that can be taken; else null. */
function presetWords({ lines }: PhotosToTake, { lineId, purpose, retakeOf }: PhotoForm): string | null {
  const line = lines.find(({ id }) => id === lineId);
  if (!isPurpose(purpose) || (lineId !== '' && line === undefined)) return null;
  const words = photoPurposes[purpose];
  const shows = `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${line?.label ?? 'the whole vehicle'}`;
  return retakeOf === '' ? shows : `Take it again. ${shows}`;
}

function isPurpose(text: string): text is PhotoPurpose {
  return Object.hasOwn(photoPurposes, text);
}

function presetFields({ lineId, purpose }: PhotoForm, words: string): Html {
  return html`<h2>${words}</h2>${hiddenField('purpose', purpose)}${hiddenField('line_id', lineId)}`;
}

function choices(
  photos: PhotosToTake,
  form: PhotoForm,
  errorOf: (field: string) => string | undefined,
): Html {
  return html`<h2>Take a photo</h2>
    ${hiddenField('choose', 'yes')}
    ${radioCards({
      name: 'purpose',
      label: 'What does it show?',
      value: form.purpose,
      required: true,
      error: errorOf('purpose'),
      choices: choicesOf(photoPurposes).filter(({ value }) => value !== 'after' || isWorked(photos)),
    })}
    ${radioCards({
      name: 'line_id',
      label: 'Of which part?',
      value: form.lineId,
      error: errorOf('line_id'),
      choices: [
        ...photos.lines.map(({ id, label }) => ({ value: id, label })),
        { value: '', label: 'The whole vehicle' },
      ],
    })}`;
}
