import { displayMoney } from '@grainwright/domain';

/** As much of a version as its reader compares. Amounts are minor units of `currency`. */
export interface ComparedVersion {
  readonly version: number;
  readonly currency: string;
  readonly totalMinor: bigint;
  readonly lines: readonly {
    readonly lineId: string;
    readonly description: string;
    readonly netMinor: bigint;
  }[];
}

/** What became of an estimate since somebody opened it, in words: which lines came, went or changed, and the totals. */
export function versionChange(seen: ComparedVersion, newer: ComparedVersion): string {
  const amount = (minor: bigint) => displayMoney(minor, newer.currency);
  const before = new Map(seen.lines.map((line) => [line.lineId, line]));
  const after = new Set(newer.lines.map((line) => line.lineId));
  const came = newer.lines
    .filter((line) => !before.has(line.lineId))
    .map((line) => `new: ${line.description} at ${amount(line.netMinor)}`);
  const changed = newer.lines.flatMap((line) => {
    const old = before.get(line.lineId);
    if (old === undefined || (old.netMinor === line.netMinor && old.description === line.description))
      return [];
    return [`${line.description} from ${amount(old.netMinor)} to ${amount(line.netMinor)}`];
  });
  const went = seen.lines
    .filter((line) => !after.has(line.lineId))
    .map((line) => `no longer: ${line.description}`);
  const total =
    seen.totalMinor === newer.totalMinor
      ? `the total stays ${amount(newer.totalMinor)}`
      : `the total from ${amount(seen.totalMinor)} to ${amount(newer.totalMinor)}`;
  const parts = [...came, ...changed, ...went, total].join('; ');
  return `Version ${newer.version} took the place of version ${seen.version}, which you saw: ${parts}. Look at the new version before you answer.`;
}
