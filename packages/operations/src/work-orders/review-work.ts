import {
  adviseMethods,
  type Caution,
  type Contradiction,
  type LineId,
  lampContradictions,
  type Method,
  missingPhotos,
  ok,
  type Result,
  readLamp,
  type WorkOrderId,
} from '@grainwright/domain';
import { type Actor, performAsStaff } from '../perform.ts';
import { type OpenPhotoWarning, openWarnings } from '../photo-checks/open-warnings.ts';
import type { Services } from '../services.ts';
import { cautionsAtHandOver } from './cautions.ts';
import { type WorkHeading, workHeading } from './work-heading.ts';
import { picturedPurposes, readWork } from './work-lines.ts';
import { contradictionsOn, type LineWorkInput, workedLines } from './worked-lines.ts';

export interface WorkReview {
  readonly workOrder: WorkHeading;
  readonly lines: readonly {
    readonly id: LineId;
    readonly label: string;
    readonly methods: readonly Method[];
    /** What is known to work on its material; empty where that says nothing. */
    readonly fittingMethods: readonly Method[];
    readonly layers: number | null;
  }[];
  /** In words, e.g. “after of Cut or tear, tailgate lining”. */
  readonly missingPhotos: readonly string[];
  /** Photos with something said against them that were neither taken again nor kept with a reason. */
  readonly photoWarnings: readonly OpenPhotoWarning[];
  readonly contradictions: readonly Contradiction[];
  /** What to tell whoever takes the vehicle back. */
  readonly handOver: readonly Caution[];
}

/** What stands between work and its end, if the lines were worked and the airbag lamp seen as said. Changes nothing. */
export function reviewWork(
  services: Services,
  actor: Actor,
  input: {
    readonly workOrderId: WorkOrderId;
    readonly work: readonly LineWorkInput[];
    /** `on` or `off` as the vehicle leaves; empty or left out where nobody looked. */
    readonly airbagLamp?: string | undefined;
  },
): Promise<Result<WorkReview>> {
  return performAsStaff(services, actor, 'see_work_orders', async (scope) => {
    const lamp = readLamp(input.airbagLamp ?? '', 'airbag_lamp');
    if (!lamp.ok) return lamp;
    const work = await readWork(scope, input.workOrderId);
    if (!work.ok) return work;
    const lines = workedLines(work.value, input.work);
    if (!lines.ok) return lines;
    return ok({
      workOrder: workHeading(work.value),
      lines: lines.value.map(({ id, label, methods, layers, finding }) => ({
        id,
        label,
        methods,
        fittingMethods: finding === null ? [] : adviseMethods(finding).works,
        layers,
      })),
      missingPhotos: missingPhotos(work.value.account.photoRule, picturedPurposes(work.value), lines.value),
      photoWarnings: await openWarnings(scope, work.value.workOrder.id, lines.value),
      contradictions: [
        ...(await contradictionsOn(scope, work.value, lines.value)),
        ...lampContradictions(work.value.workOrder.airbagLampBefore, lamp.value),
      ],
      handOver: cautionsAtHandOver(work.value),
    });
  });
}
