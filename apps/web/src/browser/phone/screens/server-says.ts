import { workOrderStates } from '@grainwright/domain';
import type { Definition } from '../../../look/tables.ts';

/** What the server has of a work order now, as the API answers it, in a few rows. */
export function serverSays(answer: unknown): readonly Definition[] {
  if (!isRecord(answer)) return [{ term: 'Work order', value: 'not there, or it could not be asked' }];
  const lines = listed(answer.lines).map((line) => textIn(line, 'words'));
  const photos = listed(answer.photos).length;
  const steps = listed(answer.steps);
  const last = steps.at(-1);
  const entries: readonly Definition[] = [
    { term: 'Work order', value: `WO-${textIn(answer, 'number')}` },
    { term: 'Stands at', value: stateWords(textIn(answer, 'state')) },
    { term: 'On hold', value: textIn(answer, 'hold_reason') },
    { term: 'Lines', value: lines.join('; ') },
    { term: 'Photos', value: String(photos) },
    { term: 'Last step', value: last === undefined ? '' : lastStep(last) },
  ];
  return entries.filter(({ value }) => value !== '');
}

function lastStep(step: Readonly<Record<string, unknown>>): string {
  const by = textIn(step, 'person_name');
  const note = textIn(step, 'note');
  const words = [stateWords(textIn(step, 'to_state')), by === '' ? '' : `by ${by}`].filter(
    (part) => part !== '',
  );
  return note === '' ? words.join(' ') : `${words.join(' ')}: ${note}`;
}

function stateWords(state: string): string {
  return Object.entries(workOrderStates).find(([key]) => key === state)?.[1] ?? state;
}

function listed(value: unknown): readonly Readonly<Record<string, unknown>>[] {
  return Array.isArray(value) ? value.filter(isRecord) : [];
}

function textIn(record: Readonly<Record<string, unknown>>, name: string): string {
  const value = record[name];
  return typeof value === 'string' ? value : '';
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
