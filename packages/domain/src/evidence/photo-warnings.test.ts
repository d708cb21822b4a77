import { expect, test } from 'vitest';
import { instant } from '../dates.ts';
import {
  type OtherPhoto,
  type PhotoFactsToJudge,
  type PhotoSurroundings,
  photoWarnings,
} from './photo-warnings.ts';
import { readTakenTime } from './taken-time.ts';

const print = '40'.repeat(1024);
const fine: PhotoFactsToJudge = {
  sha256: 'a'.repeat(64),
  width: 1600,
  height: 1200,
  measures: { sharpness: 400, dark: 0.1, washedOut: 0, hash: '00ff00ff00ff00ff', print },
  taken: null,
};
const around: PhotoSurroundings = {
  others: [],
  writtenUpAt: instant('2026-08-05T14:00:00Z'),
  now: instant('2026-08-05T15:00:00Z'),
};
const codes = (facts: PhotoFactsToJudge, surroundings: PhotoSurroundings = around) =>
  photoWarnings(facts, surroundings).map(({ code }) => code);
const measured = (measures: Partial<PhotoFactsToJudge['measures']>): PhotoFactsToJudge => ({
  ...fine,
  measures: { ...fine.measures, ...measures },
});

test('a sharp, light, large new picture is left alone', () => {
  expect(codes(fine)).toEqual([]);
});

test('blur, white and size are said beside each other; in the dark only the darkness', () => {
  expect(codes({ ...measured({ sharpness: 20, washedOut: 0.5 }), width: 320, height: 240 })).toEqual([
    'blurred',
    'washed_out',
    'too_small',
  ]);
  expect(codes(measured({ sharpness: 20, dark: 0.9 }))).toEqual(['too_dark']);
});

test('a picture held upright is large enough when its longer side is', () => {
  expect(codes({ ...fine, width: 480, height: 640 })).toEqual([]);
  expect(codes({ ...fine, width: 479, height: 640 })).toEqual(['too_small']);
});

const other: OtherPhoto = {
  sha256: 'b'.repeat(64),
  purpose: 'before',
  measures: { hash: fine.measures.hash, print },
  elsewhere: null,
};

test('the same bytes, a copy, and the same place later are told apart', () => {
  const beside = (each: OtherPhoto) => photoWarnings(fine, { ...around, others: [each] });
  expect(beside({ ...other, sha256: fine.sha256, elsewhere: 'WO-1004' })).toMatchObject([
    { code: 'same_picture', sentence: expect.stringContaining('with WO-1004 as “before”') },
  ]);
  expect(beside(other)).toMatchObject([{ code: 'like_another' }]);
  // A repaired place: nearly the same hash, and a field that got lighter.
  const repaired = `58${print.slice(2)}`;
  expect(beside({ ...other, measures: { hash: fine.measures.hash, print: repaired } })).toEqual([]);
  expect(beside({ ...other, measures: { hash: '00ff00ff00ff0000', print } })).toEqual([]);
  expect(beside({ ...other, measures: null })).toEqual([]);
  // The same part of another vehicle is close; a picture saved again is closer.
  const close = { hash: fine.measures.hash, print: `42${print.slice(2)}` };
  expect(beside({ ...other, measures: close })).toMatchObject([{ code: 'like_another' }]);
  expect(beside({ ...other, measures: close, elsewhere: 'WO-1004' })).toEqual([]);
});

const timeZone = 'America/Chicago';
const taken = (local: string | null, offset: string | null, capturedAt: string | null = null) => ({
  ...fine,
  taken: readTakenTime({
    takenAtLocal: local,
    takenAtOffset: offset,
    capturedAt: capturedAt === null ? null : instant(capturedAt),
    timeZone,
  }),
});

test('a picture from before the work order, or from the future, is told by the camera’s clock and its zone', () => {
  expect(codes(taken('2026-08-05T09:30:00', '-05:00'))).toEqual([]);
  expect(codes(taken('2026-08-05T06:30:00', '-05:00'))).toEqual(['before_work_order']);
  expect(codes(taken('2026-08-05T10:30:00', '-05:00'))).toEqual(['in_future']);
  // The same clock in New York is an hour earlier.
  expect(codes(taken('2026-08-05T10:30:00', '-04:00'))).toEqual([]);
});

test('a camera without a zone is read in the business’s, and doubted by twelve hours', () => {
  expect(codes(taken('2026-08-05T06:30:00', null))).toEqual([]);
  const [warning] = photoWarnings(taken('2026-08-04T06:30:00', null), around);
  expect(warning).toMatchObject({
    code: 'before_work_order',
    sentence: expect.stringContaining('names no time zone'),
  });
  expect(codes(taken('2026-08-07T10:30:00', null))).toEqual(['in_future']);
});

test('a camera’s word counts before the phone’s, and the phone’s where no camera says anything', () => {
  expect(codes(taken(null, null, '2026-08-04T15:00:00Z'))).toEqual(['before_work_order']);
  expect(codes(taken('2026-08-05T09:30:00', '-05:00', '2026-08-04T15:00:00Z'))).toEqual([]);
  expect(codes(taken(null, null))).toEqual([]);
});

test('the sentence gives the time as the clock shows it', () => {
  const [warning] = photoWarnings(taken('2026-08-03T18:05:00', '-05:00'), around);
  expect(warning?.sentence).toContain('By the camera’s clock this photo was taken at Aug 3, 2026, 6:05 PM');
});
