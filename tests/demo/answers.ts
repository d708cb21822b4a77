import type { Demo } from '../support/demo.ts';

/** What the API answers, as far as the figures are read from it. */
export interface Line {
  readonly kind: string;
  readonly code: string;
  readonly net: string;
  readonly labor: string;
  readonly materials: string;
  readonly trail: string;
}
export interface Invoice {
  readonly id: string;
  readonly number: string;
  readonly account_id: string;
  readonly issued_on: string;
  readonly due_on: string;
  readonly tax: string;
  readonly total: string;
  readonly open: string;
  readonly vehicles: readonly {
    readonly work_order_number: string;
    readonly subtotal: string;
    readonly lines: readonly Line[];
  }[];
  readonly charges: readonly Line[];
  readonly taxes: readonly { readonly component: string; readonly base: string; readonly tax: string }[];
}
export interface WorkOrder {
  readonly id: string;
  readonly number: string;
  readonly state: string;
  readonly account: { readonly short_name: string };
  readonly technician: { readonly name: string };
  readonly visit: { readonly day: string };
  readonly hold_reason: string | null;
  readonly estimate: {
    readonly repairs: string;
    readonly compared_with_limit: string;
    readonly lines: readonly {
      readonly line_id: string;
      readonly code: string;
      readonly before_further_repair: string;
      readonly further_percent: string;
      readonly net: string;
      readonly labor: string;
      readonly materials: string;
    }[];
  } | null;
}

/** Every row of a list that comes in pages. */
export async function everyPage<Row>(
  demo: Demo,
  email: string,
  list: { readonly path: string; readonly name: string; readonly cursor: string },
): Promise<readonly Row[]> {
  const rows: Row[] = [];
  let next: string | null = null;
  do {
    const query: string = next === null ? '' : `?${list.cursor}=${next}`;
    const page: Record<string, unknown> = await demo.ask(email, `${list.path}${query}`);
    rows.push(...(page[list.name] as Row[]));
    next = page.next as string | null;
  } while (next !== null);
  return rows;
}
