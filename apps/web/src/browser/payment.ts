/**
 * Payment entry by keyboard. Arrow keys go from document to document, space ticks, and a ticked document gets what is
 * open of it and still left of the amount. What is left stands under the table while it is typed. Where the amount is
 * exactly one document or a few, that is offered. Without this module the same fields are sent and reckoned by the server.
 */
import { displayMoney, matchAmount, parseMoney, spreadAmount } from '@grainwright/domain';

interface Row {
  readonly tick: HTMLInputElement;
  readonly amount: HTMLInputElement;
  /** Why less is paid than is open, where that is asked. */
  readonly reason: HTMLElement | null;
  readonly openMinor: bigint;
  readonly number: string;
}

for (const form of document.querySelectorAll<HTMLFormElement>('form[data-payment]')) watch(form);

function watch(form: HTMLFormElement): void {
  const currency = form.dataset.payment ?? 'USD';
  const received = form.querySelector<HTMLInputElement>('input[name="amount"]');
  if (!received) return;
  const rows = [...form.querySelectorAll<HTMLInputElement>('input[data-open]')].flatMap(rowOf);
  const minorOf = (input: HTMLInputElement): bigint | null => {
    const read = parseMoney(input.value, { currency });
    return read.ok ? read.value : null;
  };
  const show = (): void => {
    const used = rows.reduce((sum, row) => sum + (minorOf(row.amount) ?? 0n), elsewhereOf(form, minorOf));
    tellLeft(form, minorOf(received), used, currency);
    for (const row of rows) tellShort(row, minorOf(row.amount));
    offer(form, rows, minorOf(received), currency, (chosen) => {
      for (const row of chosen) tick(row, row.openMinor, currency);
      show();
    });
  };
  const fill = (row: Row): void => {
    if (!row.tick.checked) row.amount.value = '';
    else if (row.amount.value.trim() === '')
      tick(row, shareOf(rows, row, minorOf(received), minorOf), currency);
    show();
  };
  for (const row of rows) {
    row.tick.addEventListener('change', () => fill(row));
    row.tick.addEventListener('keydown', (event) => onKey(event, form, rows, row));
    row.amount.addEventListener('input', () => {
      row.tick.checked = row.amount.value.trim() !== '';
      show();
    });
  }
  received.addEventListener('input', show);
  show();
}

function rowOf(tick: HTMLInputElement): Row[] {
  const amount = document.getElementById(tick.dataset.amount ?? '');
  if (!(amount instanceof HTMLInputElement)) return [];
  const reason = document.querySelector<HTMLElement>(`[data-short="${tick.value}"]`);
  return [
    { tick, amount, reason, openMinor: BigInt(tick.dataset.open ?? '0'), number: tick.dataset.number ?? '' },
  ];
}

function tick(row: Row, amountMinor: bigint, currency: string): void {
  row.tick.checked = true;
  row.amount.value = amountMinor === 0n ? '' : plain(amountMinor, currency);
}

/** As much as is open and still left; all of it while no amount was received yet. */
function shareOf(
  rows: readonly Row[],
  row: Row,
  receivedMinor: bigint | null,
  minorOf: (input: HTMLInputElement) => bigint | null,
): bigint {
  if (receivedMinor === null) return row.openMinor;
  const others = rows.filter((other) => other !== row && minorOf(other.amount) !== null);
  const ticked = others.map((other) => ({ openMinor: other.openMinor, writtenMinor: minorOf(other.amount) }));
  return (
    spreadAmount(receivedMinor, [...ticked, { openMinor: row.openMinor, writtenMinor: null }]).at(-1) ?? 0n
  );
}

function onKey(event: KeyboardEvent, form: HTMLFormElement, rows: readonly Row[], row: Row): void {
  if (event.key === 'Enter') {
    event.preventDefault();
    form.requestSubmit();
    return;
  }
  const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0;
  if (step === 0) return;
  event.preventDefault();
  rows[rows.indexOf(row) + step]?.tick.focus();
}

/** Amounts for documents on other pages of the list, which are sent along. */
function elsewhereOf(form: HTMLFormElement, minorOf: (input: HTMLInputElement) => bigint | null): bigint {
  const kept = [...form.querySelectorAll<HTMLInputElement>('input[type="hidden"][name^="applied-"]')];
  return kept.reduce((sum, input) => sum + (minorOf(input) ?? 0n), 0n);
}

function tellLeft(
  form: HTMLFormElement,
  receivedMinor: bigint | null,
  usedMinor: bigint,
  currency: string,
): void {
  const place = form.querySelector<HTMLElement>('[data-left]');
  if (!place) return;
  const used = displayMoney(usedMinor, currency);
  if (receivedMinor === null) {
    place.textContent = usedMinor === 0n ? 'Write the amount received.' : `${used} is put on documents.`;
    return;
  }
  const leftMinor = receivedMinor - usedMinor;
  place.textContent =
    leftMinor < 0n
      ? `${displayMoney(-leftMinor, currency)} more is put on documents than came in.`
      : `${used} is put on documents. ${displayMoney(leftMinor, currency)} is left${leftMinor > 0n ? ' and stays account credit' : ''}.`;
}

function tellShort({ reason, openMinor }: Row, amountMinor: bigint | null): void {
  if (reason) reason.hidden = amountMinor === null || amountMinor === 0n || amountMinor >= openMinor;
}

function offer(
  form: HTMLFormElement,
  rows: readonly Row[],
  receivedMinor: bigint | null,
  currency: string,
  take: (rows: readonly Row[]) => void,
): void {
  const place = form.querySelector<HTMLElement>('[data-match]');
  if (!place) return;
  const untouched = rows.every((row) => !row.tick.checked);
  const places =
    untouched && receivedMinor !== null
      ? matchAmount(
          receivedMinor,
          rows.map((row) => row.openMinor),
        )
      : [];
  const chosen = places.flatMap((each) => rows[each] ?? []);
  place.hidden = chosen.length === 0;
  const words = place.querySelector('[data-match-words]');
  const button = place.querySelector<HTMLButtonElement>('button');
  if (chosen.length === 0 || !words || !button) return;
  words.textContent = `${displayMoney(receivedMinor ?? 0n, currency)} is exactly ${chosen.map((row) => row.number).join(', ')}.`;
  button.onclick = () => {
    take(chosen);
    chosen[0]?.tick.focus();
  };
}

/** As it is typed: no sign and no grouping. */
function plain(amountMinor: bigint, currency: string): string {
  return displayMoney(amountMinor, currency).replaceAll(/[^\d.]/g, '');
}
