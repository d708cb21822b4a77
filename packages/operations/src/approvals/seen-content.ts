import { listShownLines, listShownPhotos } from '@grainwright/db';
import {
  canonicalJson,
  displayMoney,
  type EstimatePrice,
  formatDecimal,
  formatMinor,
  type JsonValue,
  ok,
  type PhotoId,
  type Result,
  refuse,
  savings,
} from '@grainwright/domain';
import type { Scope } from '../perform.ts';
import type { Answerable, LineAnswer } from '../work-orders/estimate-version.ts';
import { loadQuotes, replaceableLines } from '../work-orders/replacement-view.ts';

export interface SeenInput {
  readonly estimate: Answerable;
  readonly answers: readonly LineAnswer[];
  /** Of the approved lines. */
  readonly price: EstimatePrice;
  /** The photos that stood on the page; undefined where nobody knows what was looked at. */
  readonly photoIds: readonly PhotoId[] | undefined;
}

/**
 * What stood before somebody’s eyes when they answered, as canonical JSON: the version, each line with its price and the
 * answer to it, the pictures by their digests, what a new part would cost, and the question. Amounts are decimal texts
 * of `currency`. Refuses with `invalid_input` a photo that is not of this work order.
 */
export async function seenContent(scope: Scope, input: SeenInput): Promise<Result<string>> {
  const { estimate, answers, price } = input;
  const { version } = estimate;
  const photos = await photosSeen(scope, input);
  if (!photos.ok) return photos;
  const amount = (minor: bigint) => formatMinor(minor, version.currency);
  const { totals } = price.invoice;
  return ok(
    canonicalJson({
      format: 'seen-when-answered-1',
      work_order: version.workOrderId,
      version: version.id,
      number: version.version,
      digest: version.digest,
      currency: version.currency,
      question: questionWords(input),
      offered_total: amount(version.totalMinor),
      compared_with_limit: amount(price.limitMinor),
      tax: amount(totals.taxMinor),
      total: amount(totals.withTaxMinor),
      lines: estimate.lines.map((line) => {
        const approved = price.vehicle.lines.find(({ lineId }) => lineId === line.lineId);
        const given = answers.find(({ lineId }) => lineId === line.lineId);
        return {
          line: line.lineId,
          text: line.description,
          offered: amount(line.netMinor),
          answer: given?.answer ?? null,
          reason: given?.reason.trim() ?? '',
          price: approved === undefined ? null : amount(approved.netMinor),
        };
      }),
      photos: photos.value,
      new_part: await newPartSeen(scope, input),
    }),
  );
}

async function photosSeen(
  { tx }: Scope,
  { estimate, photoIds }: SeenInput,
): Promise<Result<JsonValue | null>> {
  if (photoIds === undefined) return ok(null);
  const known = new Map(
    (await listShownPhotos(tx, estimate.version.workOrderId)).map((photo) => [photo.id, photo]),
  );
  const seen = [...new Set(photoIds)].map((id) => known.get(id));
  if (seen.some((photo) => photo === undefined))
    return refuse(
      'invalid_input',
      'A photo is not of this work order. Open the estimate again.',
      'photo_ids',
    );
  return ok(
    seen.flatMap((photo) =>
      photo === undefined
        ? []
        : [{ photo: photo.id, sha256: photo.sha256, purpose: photo.purpose, line: photo.lineId }],
    ),
  );
}

/** Against the lines that were approved: what new parts for them were quoted at, and what the repair saves. */
async function newPartSeen(scope: Scope, { estimate, answers, price }: SeenInput): Promise<JsonValue> {
  const { workOrderId, currency } = estimate.version;
  const rows = await listShownLines(scope.tx, workOrderId);
  const declined = answers.filter(({ answer }) => answer === 'declined').map(({ lineId }) => lineId);
  const lines = replaceableLines(rows, (lineId) => declined.includes(lineId));
  const { quotes, replacement } = await loadQuotes(scope, workOrderId, lines);
  if (replacement === null) return null;
  const amount = (minor: bigint) => formatMinor(minor, currency);
  const saved = savings(replacement.minor, price.visit.netMinor);
  return {
    quoted: amount(replacement.minor),
    quotes: quotes
      .filter(({ counts }) => counts)
      .map(({ words, amountMinor, note }) => ({ part: words, amount: amount(amountMinor), note })),
    saved: saved === null ? null : amount(saved.savedMinor),
    saved_percent: saved === null ? null : formatDecimal(saved.percent),
  };
}

function questionWords({ estimate: { version, lines }, price }: SeenInput): string {
  const amount = (minor: bigint) => displayMoney(minor, version.currency);
  const approved = price.vehicle.lines.length;
  const total = amount(price.invoice.totals.withTaxMinor);
  if (approved === lines.length) return `All lines approved: ${total}`;
  if (approved === 0) return 'Every line is declined: nothing is repaired and nothing is billed';
  return `${approved} of ${lines.length} lines approved: ${total} instead of ${amount(version.totalMinor)}`;
}
