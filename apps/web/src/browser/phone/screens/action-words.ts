import {
  acceptanceOutcomes,
  damageKinds,
  methods,
  missingSignatureReasons,
  photoPurposes,
  signerRoles,
  vehicleParts,
} from '@grainwright/domain';
import type { Definition } from '../../../look/tables.ts';
import type { KeptAction } from '../action.ts';
import { listIn, recordsIn, typedIn } from './mending.ts';
import { type Here, workOf } from './screen.ts';
import { linesOf, numberedWork } from './work-words.ts';

/** What it is of, e.g. “before of 2025 Ostra Vela, gray, job number BG-9107”. */
export function aboutWords(here: Here, { action }: KeptAction): string {
  const work = workOf(here, action.workOrderId);
  const vehicle = work === null ? '' : `of ${numberedWork(work)}`;
  const what = action.kind === 'photo' ? wordIn(photoPurposes, action.body.purpose) : '';
  return [what, vehicle].filter((part) => part !== '').join(' ');
}

/** When it was done by the phone’s own clock, as the clocks of the business show it. */
export function timeOf({ day }: Here, { action }: KeptAction): string {
  const { timeZone } = day.snapshot.business;
  return new Date(action.madeAt).toLocaleString('en-US', {
    dateStyle: 'medium',
    timeStyle: 'short',
    timeZone,
  });
}

export function kilobytes(bytes: number): string {
  return `${Math.ceil(bytes / 1000).toLocaleString('en-US')} kB`;
}

export function wordIn(words: Readonly<Record<string, string>>, key: string): string {
  return Object.hasOwn(words, key) ? (words[key] ?? key) : key;
}

/** What was typed and chosen, in words, by the names of its fields. */
const shownFields: Readonly<Record<string, string>> = {
  purpose: 'Shows',
  make: 'Make',
  model: 'Model',
  model_year: 'Model year',
  color: 'Color',
  vin: 'VIN',
  last_eight: 'End of the VIN',
  own_number: 'Own number',
  ro_number: 'RO',
  po_number: 'PO',
  owner_name: 'Owner',
  owner_phone: 'Owner’s phone',
  odometer_miles: 'Odometer',
  part: 'Part',
  side: 'Side',
  damage: 'Damage',
  family: 'Repair',
  measured_inches: 'Measured',
  outcome: 'Answer',
  remark: 'Remark',
  signer_name: 'Signed by',
  signer_role: 'As',
  signer_email: 'Signer’s e-mail',
  signer_phone: 'Signer’s phone',
  override_reason: 'Why it is right',
  why: 'What happened',
  reason: 'Why',
  witness: 'Witness',
  amount: 'Amount',
  note: 'Note',
  technician_minutes: 'Minutes',
  materials_cost: 'Materials',
  airbag_lamp: 'Airbag lamp',
};

const shownWords: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  purpose: photoPurposes,
  part: vehicleParts,
  damage: damageKinds,
  outcome: acceptanceOutcomes,
  signer_role: signerRoles,
  why: missingSignatureReasons,
};

export function saidWords(here: Here, kept: KeptAction): readonly Definition[] {
  const { action, file } = kept;
  const said = Object.entries(action.body).flatMap(([name, value]) => {
    const term = shownFields[name];
    if (term === undefined || typeof value !== 'string' || value === '') return [];
    return [{ term, value: wordIn(shownWords[name] ?? {}, value) }];
  });
  const ofFile = file === null ? [] : [{ term: 'File', value: kilobytes(file.bytes) }];
  return [...said, ...methodWords(action.body), ...workWords(here, kept), ...ofFile];
}

function methodWords(body: object): readonly Definition[] {
  const words = listIn(body, 'methods').map(methodWord);
  return words.length === 0 ? [] : [{ term: 'Methods', value: words.join(', ') }];
}

function methodWord(key: string): string {
  return Object.entries(methods).find(([each]) => each === key)?.[1].label ?? key;
}

/** How lines were worked, and why something stays as it is. */
function workWords(here: Here, { action: { body, workOrderId } }: KeptAction): readonly Definition[] {
  const work = workOf(here, workOrderId);
  const lines = work === null ? [] : linesOf(work);
  const worked = recordsIn(body, 'work').map((each) => {
    const line = lines.find(({ lineId }) => lineId === typedIn(each, 'line_id'));
    const layers = typedIn(each, 'layers');
    const done = listIn(each, 'methods').map(methodWord);
    const value = [...done, layers === '' ? '' : layers === '1' ? '1 layer' : `${layers} layers`];
    return { term: line?.label ?? 'A line', value: value.filter((part) => part !== '').join(', ') };
  });
  const reasons = [...recordsIn(body, 'overrides'), ...recordsIn(body, 'photo_reasons')];
  return [...worked, ...reasons.map((each) => ({ term: 'Kept because', value: typedIn(each, 'reason') }))];
}
