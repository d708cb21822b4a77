import {
  displayMoney,
  formatMinor,
  type InvoiceId,
  isUuid,
  matchAmount,
  ok,
  type Problem,
  parseMoney,
  type Result,
  refuse,
  spreadAmount,
  toId,
} from '@grainwright/domain';
import type { DocumentToPay, PaymentEntryView } from '@grainwright/operations';
import type { FormValues } from '../../../plugins/forms.ts';

export const appliedField = (invoiceId: string) => `applied-${invoiceId}`;
export const reasonField = (invoiceId: string) => `short-${invoiceId}`;
export const disputeField = (invoiceId: string) => `dispute-${invoiceId}`;

/** What was typed, by the field's name. */
export type Typed = (name: string) => string;

/** What is ticked, and the amount for each document as text. */
export interface Entered {
  readonly typed: Typed;
  readonly ticked: ReadonlySet<string>;
}

/** A document with what is to be applied to it. */
export interface EnteredPart {
  readonly invoiceId: InvoiceId;
  readonly amount: string;
}

export function enteredIn(form: FormValues): Entered {
  const ids = form.all('invoice_id').filter((id) => isUuid(id));
  const ticked = new Set(form.all('tick').filter((id) => isUuid(id)));
  for (const id of ids) if (form.text(appliedField(id)) !== '') ticked.add(id);
  return { typed: (name) => form.text(name), ticked };
}

export function documentsOf(entry: PaymentEntryView): readonly DocumentToPay[] {
  return [...entry.open, ...entry.ofGroup];
}

/**
 * The amounts for what is ticked: as written, and where nothing is, what is open and still left of the amount, oldest
 * due first. Refuses with `over_payment` a document for which nothing is left.
 */
export function partsOf(entered: Entered, entry: PaymentEntryView): Result<readonly EnteredPart[]> {
  const { typed, ticked } = entered;
  const shown = documentsOf(entry).filter((document) => ticked.has(document.id));
  const elsewhere = [...ticked].filter((id) => !shown.some((document) => document.id === id));
  const written = shown.map((document) => ({ document, text: typed(appliedField(document.id)) }));
  const kept = elsewhere.map((id) => ({
    openMinor: 0n,
    writtenMinor: minorOf(typed(appliedField(id)), entry) ?? 0n,
  }));
  const amounts = spreadAmount(minorOf(typed('amount'), entry) ?? 0n, [
    ...kept,
    ...written.map(({ document, text }) => ({
      openMinor: document.openMinor,
      writtenMinor: text === '' ? null : (minorOf(text, entry) ?? 0n),
    })),
  ]).slice(kept.length);
  const parts: EnteredPart[] = elsewhere.map((id) => ({
    invoiceId: toId<InvoiceId>(id),
    amount: typed(appliedField(id)),
  }));
  for (const [place, { document, text }] of written.entries()) {
    const amountMinor = amounts[place] ?? 0n;
    if (text === '' && amountMinor === 0n) return nothingLeft(document);
    const amount = text === '' ? formatMinor(amountMinor, entry.currency) : text;
    parts.push({ invoiceId: document.id, amount });
  }
  return ok(parts);
}

function nothingLeft({ id, number }: DocumentToPay): Result<never> {
  const detail = `Nothing of the amount is left for ${number}. Take its tick away, or write what goes where.`;
  return refuse('over_payment', detail, appliedField(id));
}

function minorOf(text: string, { currency }: PaymentEntryView): bigint | null {
  const read = parseMoney(text, { currency });
  return read.ok ? read.value : null;
}

/** Ticks what the amount pays exactly; the own account's documents go before the group's. */
export function suggested(entered: Entered, entry: PaymentEntryView): Entered {
  const amountMinor = minorOf(entered.typed('amount'), entry) ?? 0n;
  const documents = documentsOf(entry);
  const own = matchAmount(
    amountMinor,
    entry.open.map((document) => document.openMinor),
  );
  const places =
    own.length > 0
      ? own
      : matchAmount(
          amountMinor,
          documents.map((document) => document.openMinor),
        );
  const chosen = places.flatMap((place) => documents[place] ?? []);
  return filledWith(
    entered,
    new Map(chosen.map(({ id, openMinor }) => [id, formatMinor(openMinor, entry.currency)])),
  );
}

/** Each ticked document with its amount, for a page that shows others. */
export function settledOn(entered: Entered, entry: PaymentEntryView): Entered {
  const parts = partsOf(entered, entry);
  if (!parts.ok) return entered;
  return filledWith(entered, new Map(parts.value.map((part) => [part.invoiceId, part.amount])));
}

function filledWith({ typed }: Entered, amounts: ReadonlyMap<string, string>): Entered {
  const byField = new Map([...amounts].map(([id, amount]) => [appliedField(id), amount]));
  return {
    ticked: new Set(amounts.keys()),
    typed: (name) => (name.startsWith('applied-') ? (byField.get(name) ?? '') : typed(name)),
  };
}

/** The operation counts the applications it was given; the form names its boxes by document. */
export function asFormProblem(problem: Problem, parts: readonly EnteredPart[]): Problem {
  const place = /^applications\.(\d+)\./.exec(problem.field ?? '')?.[1];
  const part = place === undefined ? undefined : parts[Number(place)];
  return part === undefined ? problem : { ...problem, field: appliedField(part.invoiceId) };
}

/**
 * Asks about an amount that is more than the account and its group have open, as far as all of it is on one page: a
 * slip of a digit looks like that.
 */
export function aboveAllThatIsOpen(
  { typed }: Entered,
  entry: PaymentEntryView,
  past: InvoiceId | null,
): Problem | null {
  const amountMinor = minorOf(typed('amount'), entry);
  if (amountMinor === null || past !== null || entry.next !== null) return null;
  const openMinor = documentsOf(entry).reduce((sum, document) => sum + document.openMinor, 0n);
  if (amountMinor <= openMinor) return null;
  const shown = (minor: bigint) => displayMoney(minor, entry.currency);
  const detail = `${shown(amountMinor)} is more than all that is open, ${shown(openMinor)}. Check the amount. Recorded anyway, the rest stays account credit.`;
  return { code: 'over_payment', detail, field: 'amount' };
}
