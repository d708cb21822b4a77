import type { ShownAcceptanceRow } from '@grainwright/db';
import type { JsonValue } from '@grainwright/domain';
import type { AcceptanceView } from './work-order-view.ts';

export function acceptanceView(row: ShownAcceptanceRow): AcceptanceView {
  return {
    id: row.id,
    outcome: row.outcome,
    remark: row.remark,
    signerName: row.signerName,
    signerRole: row.signerRole,
    identifiedBy: row.identifiedBy,
    method: row.method,
    drawn: row.strokes === null ? null : drawn(row.strokes),
    picture: row.signatureSha256,
    digest: row.shownDigest,
    acceptedAt: row.acceptedAt,
    answeredAt: row.answeredAt,
  };
}

interface Point {
  readonly x: number;
  readonly y: number;
}

const marginPixels = 8;

/** The strokes as they were drawn, as one path; a dot is drawn as a line of no length. */
export function drawn(strokes: JsonValue): AcceptanceView['drawn'] {
  const lines = listOf(strokes).map((stroke) => listOf(stroke).flatMap(pointOf));
  const points = lines.flat();
  if (points.length === 0) return null;
  const left = Math.min(...points.map(({ x }) => x)) - marginPixels;
  const top = Math.min(...points.map(({ y }) => y)) - marginPixels;
  const width = Math.max(...points.map(({ x }) => x)) + marginPixels - left;
  const height = Math.max(...points.map(({ y }) => y)) + marginPixels - top;
  const path = lines
    .filter((line) => line.length > 0)
    .map(strokePath)
    .join(' ');
  return { path, viewBox: [left, top, width, height].map(rounded).join(' ') };
}

function strokePath(line: readonly Point[]): string {
  const [first, ...rest] = line;
  const at = ({ x, y }: Point) => `${rounded(x)} ${rounded(y)}`;
  if (first === undefined) return '';
  return `M ${at(first)} ${(rest.length === 0 ? [first] : rest).map((point) => `L ${at(point)}`).join(' ')}`;
}

function rounded(value: number): number {
  return Math.round(value * 10) / 10;
}

function listOf(value: JsonValue): readonly JsonValue[] {
  return Array.isArray(value) ? value : [];
}

function pointOf(value: JsonValue): readonly Point[] {
  if (value === null || typeof value !== 'object' || !('x' in value) || !('y' in value)) return [];
  return typeof value.x === 'number' && typeof value.y === 'number' ? [{ x: value.x, y: value.y }] : [];
}
