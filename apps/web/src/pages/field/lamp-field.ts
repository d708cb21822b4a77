import { radioCards } from '../../look/forms.ts';
import type { Html } from '../../look/html.ts';

/** The airbag lamp, on or off; nobody has to look. */
export function lampField(label: string, value: string, error: string | undefined): Html {
  return radioCards({
    name: 'airbag_lamp',
    label,
    hint: 'With the ignition on. If it is lit, photograph the instrument cluster.',
    value,
    error,
    choices: [
      { value: 'off', label: 'Off' },
      { value: 'on', label: 'On' },
      { value: '', label: 'Not checked' },
    ],
  });
}
