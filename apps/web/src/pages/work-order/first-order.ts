import { type Actor, readWorkOrder, type Services, type WorkOrderView } from '@grainwright/operations';

/** The first order of a rework, with its lines and photos; null for everything else. */
export async function firstOrder(
  services: Services,
  actor: Actor,
  { reworkOf }: WorkOrderView,
): Promise<WorkOrderView | null> {
  if (reworkOf === null) return null;
  const first = await readWorkOrder(services, actor, reworkOf.id);
  return first.ok ? first.value : null;
}
