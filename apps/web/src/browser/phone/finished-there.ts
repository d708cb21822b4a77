/** The work orders of which a kept snapshot says that their work is done and not answered yet. */
export function finishedIn(kept: unknown): ReadonlySet<string> {
  const snapshot = isObject(kept) && 'snapshot' in kept ? kept.snapshot : null;
  const orders = isObject(snapshot) && 'workOrders' in snapshot ? snapshot.workOrders : null;
  if (!Array.isArray(orders)) return new Set();
  return new Set(
    orders.flatMap((order: unknown) =>
      isObject(order) && 'id' in order && 'state' in order && order.state === 'done'
        ? [String(order.id)]
        : [],
    ),
  );
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
