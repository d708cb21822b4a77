import type { Instant } from '@grainwright/domain';
import type { DrawnPicture } from '@grainwright/evidence';
import { localTime, plusMinutes } from './demo-days.ts';
import type { PictureDrawer } from './picture-drawer.ts';
import { type DemoStage, type DemoWorkOrder, demoStages } from './work-order.ts';

export type ShotMoment = 'before' | 'found_later' | 'found_before' | 'proof' | 'stop_point' | 'after';

/** A picture that is taken of a work order, and when, in minutes from its beginning. */
export interface Shot {
  readonly moment: ShotMoment;
  /** Which line it is of; null: of the vehicle. */
  readonly line: number | null;
  readonly purpose: 'walk_around' | 'before' | 'after_heat' | 'progress' | 'stop_point' | 'after';
  readonly drawn: Omit<DrawnPicture, 'takenAtLocal' | 'takenAtOffset'>;
}

/** When things happen to a work order of the demo, in minutes from its beginning. */
export const minuteOf = {
  write_up: 0,
  before: 3,
  submit: 6,
  answer: 9,
  start: 12,
  found_later: 14,
  found_before: 16,
  proof: 20,
  stop_point: 22,
  after: 32,
  finish: 34,
  accept: 36,
  next: 40,
} as const;

/** The pictures of a work order in the order they are taken. `seed` makes its vehicle look like no other. */
export function shotsOf(workOrder: DemoWorkOrder, seed: number): readonly Shot[] {
  const { lines, foundLater = [] } = workOrder;
  const all = [...lines, ...foundLater];
  const shot = (moment: ShotMoment, line: number, purpose: Shot['purpose'], ofVehicle = false): Shot[] => {
    const picture = all[line]?.picture;
    if (!picture) return [];
    // In another light than the finished part, which looks the same but for that.
    const isAsFinished =
      purpose === 'stop_point' || (purpose === 'after_heat' && picture.damage === 'wrinkle');
    const own = (ofVehicle ? 50 : 0) + (isAsFinished ? 25 : 0);
    const drawn = { ...picture, stage: stageOf(purpose), seed: seed * 100 + line + own };
    return [{ moment, line: ofVehicle ? null : line, purpose, drawn }];
  };
  const places = [...all.keys()];
  const approved = places.filter((line) => all[line]?.declined === undefined);
  const later = places.filter((line) => line >= lines.length);
  const worked = reaches(workOrder, 'in_work') ? approved : [];
  const finished = reaches(workOrder, 'done') ? approved : [];
  return [
    ...places.filter((line) => line < lines.length).flatMap((line) => shot('before', line, 'before')),
    ...(workOrder.owner ? shot('before', 0, 'walk_around', true) : []),
    ...later.flatMap((line) => shot('found_later', line, 'before', true)),
    ...later.flatMap((line) => shot('found_before', line, 'before')),
    ...worked.flatMap((line) => (all[line]?.proof ?? []).flatMap((purpose) => shot('proof', line, purpose))),
    ...(workOrder.stopPoint === undefined ? [] : shot('stop_point', 1, 'stop_point')),
    ...finished.flatMap((line) => shot('after', line, 'after')),
  ];
}

export function reaches(workOrder: DemoWorkOrder, stage: DemoStage): boolean {
  return demoStages.indexOf(workOrder.until) >= demoStages.indexOf(stage);
}

function stageOf(purpose: Shot['purpose']): DrawnPicture['stage'] {
  if (purpose === 'walk_around') return 'before';
  return purpose === 'stop_point' ? 'after' : purpose;
}

/** Hands out the pictures of a story, those of the next vehicle drawn before they are asked for. */
export interface PictureBook {
  pictureOf(shot: Shot): Promise<Buffer>;
}

interface ToldVehicle {
  readonly began: Instant;
  readonly shots: readonly Shot[];
}

const vehiclesAhead = 2;

/** `told` has the shots of every work order in the order they will be asked for, and when each began. */
export function openPictureBook(drawer: PictureDrawer, told: readonly ToldVehicle[]): PictureBook {
  const places = new Map(told.flatMap(({ shots }, place) => shots.map((shot) => [shot, place] as const)));
  const drawn = new Map<Shot, Promise<Buffer>>();
  let next = 0;
  return {
    pictureOf: async (shot) => {
      const place = places.get(shot);
      if (place === undefined) throw new Error('a picture that is not in the book');
      for (; next < told.length && next <= place + vehiclesAhead; next += 1)
        for (const { began, shots } of told.slice(next, next + 1))
          for (const wanted of byPlace(shots)) drawn.set(wanted, drawer.draw(inputOf(wanted, began)));
      const jpeg = drawn.get(shot);
      if (jpeg === undefined) throw new Error('a picture that was handed out before');
      drawn.delete(shot);
      return jpeg;
    },
  };
}

/** All of one place one after the other: they begin with the same undamaged part. */
function byPlace(shots: readonly Shot[]): readonly Shot[] {
  return shots.toSorted((a, b) => (a.line ?? 0) - (b.line ?? 0));
}

function inputOf({ drawn, moment }: Shot, began: Instant): DrawnPicture {
  const { local, offset } = localTime(plusMinutes(began, minuteOf[moment]));
  return { ...drawn, takenAtLocal: local, takenAtOffset: offset };
}
