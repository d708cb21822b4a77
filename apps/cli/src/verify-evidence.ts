import { open } from 'node:fs/promises';
import {
  type ArchiveFile,
  checkSubjects,
  ok,
  type PackReport,
  type Result,
  readArchive,
  refuse,
  verifyPack,
} from '@grainwright/domain';

/**
 * Checks an evidence pack, without a database and without a network: a line for each thing that was looked at. Exit code
 * 0 only when everything holds.
 */
export async function verifyEvidenceCommand(args: readonly string[]): Promise<Result<number>> {
  const path = args.find((arg, index) => !arg.startsWith('--') && !args[index - 1]?.startsWith('--'));
  if (path === undefined)
    return refuse('invalid_input', 'Write the file to check behind “evidence verify”.', 'file');
  const file = await opened(path);
  if (file === null) return refuse('not_found', `There is no file ${path} that can be read.`, 'file');
  try {
    const files = await readArchive(file.archive);
    if (!files.ok) return files;
    const day = optionOf(args, '--day') ?? '';
    const keyId = optionOf(args, '--key') ?? '';
    return ok(tell(path, verifyPack(files.value, { day, keyId })));
  } finally {
    await file.close();
  }
}

async function opened(
  path: string,
): Promise<{ readonly archive: ArchiveFile; readonly close: () => Promise<void> } | null> {
  try {
    const handle = await open(path, 'r');
    const { size } = await handle.stat();
    const read = async (start: number, end: number) => {
      const bytes = new Uint8Array(Math.max(0, end - start));
      const { bytesRead } = await handle.read(bytes, 0, bytes.length, start);
      return bytes.subarray(0, bytesRead);
    };
    return { archive: { bytes: size, read }, close: () => handle.close() };
  } catch {
    return null;
  }
}

const marks = { holds: 'holds', fails: 'FAILS', note: 'note ' } as const;

function tell(path: string, { holds, holdsByItself, checks, manifest }: PackReport): number {
  if (manifest !== null)
    process.stdout.write(
      `WO-${manifest.workOrder.number}, ${manifest.vehicle}, by ${manifest.business} for ${manifest.account}, as of ${manifest.asOf}\n`,
    );
  for (const { about, result, sentence } of checks)
    process.stdout.write(`${marks[result]}  ${checkSubjects[about]}: ${sentence}\n`);
  const failed = checks.filter(({ result }) => result === 'fails').length;
  const faults = failed === 1 ? '1 fault' : `${failed} faults`;
  const outcome = holds
    ? 'holds'
    : holdsByItself
      ? 'holds by itself, but not against what it was compared with'
      : `does not hold: ${faults}`;
  process.stdout.write(`${path} ${outcome}\n`);
  return holds ? 0 : 1;
}

function optionOf(args: readonly string[], name: string): string | undefined {
  const place = args.indexOf(name);
  return place < 0 ? undefined : args[place + 1];
}
