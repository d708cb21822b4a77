import { dateField, textField } from '../../../look/forms.ts';
import type { Html } from '../../../look/html.ts';
import type { PartFields } from './part.ts';

/** Why a price or a contract was agreed. */
export function reasonField({ values, problems }: PartFields): Html {
  return textField({
    name: 'reason',
    label: 'Why',
    value: values.reason,
    error: problems.errorOf('reason'),
    maxLength: 200,
    required: true,
  });
}

/** The first day, `from` until it is written otherwise, and the last. */
export function validityFields({ values, problems }: PartFields, from?: string): readonly Html[] {
  return [
    dateField({
      name: 'valid_from',
      label: 'Valid from',
      value: values.valid_from ?? from,
      error: problems.errorOf('valid_from'),
      required: true,
    }),
    dateField({
      name: 'valid_to',
      label: 'Valid to',
      hint: 'The last day; empty if it has no end',
      value: values.valid_to,
      error: problems.errorOf('valid_to'),
      required: false,
    }),
  ];
}
