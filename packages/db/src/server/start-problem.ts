import { type Result, refuse } from '@grainwright/domain';

type Refusal = Extract<Result<never>, { ok: false }>;

/** One sentence for a system error (EACCES and its like) on a path, or undefined for an error it doesn't know. */
export function explainSystemError(error: unknown, path: string): Refusal | undefined {
  switch (systemCode(error)) {
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return refuse(
        'unavailable',
        `Grainwright may not write to ${path}: give this user the right to, or name another folder in DATA_DIR.`,
      );
    case 'ENOTDIR':
    case 'EEXIST':
      return refuse(
        'unavailable',
        `${path} is a file where a folder is needed: name another folder in DATA_DIR.`,
      );
    case 'ENOSPC':
    case 'EDQUOT':
      return diskFull(path);
    default:
      return undefined;
  }
}

/** One sentence for what initdb, pg_ctl or the server said when it did not come up. */
export function explainOutput(output: string, place: { directory: string; port?: number }): Refusal {
  if (portIsTaken(output)) return portTaken(place.port);
  if (/could not bind .*Permission denied/.test(output)) {
    return refuse('unavailable', `This user may not listen on port ${place.port}: choose one above 1023.`);
  }
  if (/No space left on device|Disk quota exceeded/.test(output)) return diskFull(place.directory);
  if (/lock file .* already exists|another server might be running/.test(output)) {
    return inUse(place.directory);
  }
  if (/Permission denied|Operation not permitted|wrong ownership|invalid permissions/.test(output)) {
    return refuse(
      'unavailable',
      `Postgres may not use ${place.directory}: the folder must belong to the user that Postgres runs as, and to nobody else.`,
    );
  }
  if (/error while loading shared libraries|Library not loaded/.test(output)) {
    return refuse(
      'unavailable',
      'The bundled Postgres cannot load its libraries: run `npm ci` again with install scripts allowed.',
    );
  }
  return refuse('unavailable', `Postgres did not start in ${place.directory}: ${lastComplaint(output)}`);
}

export function portIsTaken(output: string): boolean {
  return /could not bind .*Address already in use|Address already in use/.test(output);
}

/** After a kill -9 the server's own processes need a moment to notice that their parent is gone. */
export function stillEnding(output: string): boolean {
  return /pre-existing shared memory block .* is still in use/.test(output);
}

export function portTaken(port: number | undefined): Refusal {
  return refuse(
    'unavailable',
    `Port ${port} is in use by another program: stop that program or choose another port for Postgres.`,
  );
}

export function inUse(directory: string): Refusal {
  return refuse(
    'unavailable',
    `The database in ${directory} is in use by another running Grainwright: stop that one first, or name another folder in DATA_DIR.`,
  );
}

export function systemCode(error: unknown): string | undefined {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : undefined;
}

function diskFull(path: string): Refusal {
  return refuse('unavailable', `The disk that holds ${path} is full: make room, then start again.`);
}

function lastComplaint(output: string): string {
  const lines = output.split('\n').map((line) => line.trim());
  const complaint =
    lines.findLast((line) => /FATAL|PANIC|ERROR|error:/.test(line)) ?? lines.findLast(Boolean);
  return complaint?.replace(/^.*?(FATAL|PANIC|ERROR):\s*/, '') ?? 'it said nothing.';
}
