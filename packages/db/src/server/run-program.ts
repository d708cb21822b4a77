import { spawn } from 'node:child_process';

/** Whom a program runs as. `through` is a program and its arguments put before the command, often empty. */
export interface RunAs {
  readonly uid?: number;
  readonly gid?: number;
  readonly through: readonly string[];
}

export interface ProgramEnd {
  readonly code: number;
  /** What it wrote to stdout and stderr, together. */
  readonly output: string;
}

/**
 * Runs a program to its end, in a process group of its own: Ctrl-C in the terminal reaches every process of
 * the foreground group, and must not cut off Postgres's own start or stop half-way. Rejects only when the
 * program cannot be started.
 */
export function runProgram(runAs: RunAs, program: string, args: readonly string[]): Promise<ProgramEnd> {
  const [file = program, ...rest] = [...runAs.through, program, ...args];
  return new Promise((resolve, reject) => {
    const child = spawn(file, rest, {
      cwd: '/',
      detached: process.platform !== 'win32',
      windowsHide: true,
      env: programEnvironment(),
      stdio: ['ignore', 'pipe', 'pipe'],
      ...(runAs.uid === undefined ? {} : { uid: runAs.uid }),
      ...(runAs.gid === undefined ? {} : { gid: runAs.gid }),
    });
    const pieces: string[] = [];
    for (const stream of [child.stdout, child.stderr]) {
      stream.setEncoding('utf8').on('data', (piece: string) => pieces.push(piece));
    }
    child.on('error', reject);
    child.on('close', (code) => resolve({ code: code ?? 1, output: pieces.join('') }));
  });
}

/** Without PGDATA, PGPORT and their like, which would redirect the programs, and with messages in English. */
function programEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => !/^(PG|LC_|LANG)/.test(name));
  return { ...Object.fromEntries(kept), LC_ALL: 'C' };
}
