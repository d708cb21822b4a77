import { type ChildProcess, spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { ok, type Result, refuse } from '@grainwright/domain';

export interface Child {
  readonly name: string;
  /** Resolves with the exit code once it has ended. */
  readonly ended: Promise<number>;
  /** Asks it to end cleanly, and resolves when it has. */
  stop(): Promise<void>;
}

/** Longer than the longest request or job should take; whatever is cut off then is done again or was never answered. */
const stopMillisecondsMax = 30_000;

/**
 * Starts one of our processes and waits until it says that it is ready; `unavailable` when it ends before. What it
 * says on stderr goes through.
 * It runs in a process group of its own, so that Ctrl-C reaches us alone and things stop in the right order.
 */
export async function startChild(
  name: string,
  script: string,
  env: Readonly<Record<string, string>>,
): Promise<Result<Child>> {
  const child = spawn(process.execPath, [script], {
    // It ends when its standard input does: killed as we may be, nothing is left running.
    env: { ...process.env, ...env, STOP_WITH_PARENT: '1' },
    stdio: ['pipe', 'pipe', 'inherit'],
    detached: true,
  });
  const ended = new Promise<number>((resolve) => child.once('exit', (code) => resolve(code ?? 1)));
  const stop = async () => {
    child.kill('SIGTERM');
    const patience = setTimeout(() => child.kill('SIGKILL'), stopMillisecondsMax);
    await ended;
    clearTimeout(patience);
  };
  const code = await Promise.race([saysReady(child, `${name} ready`).then(() => null), ended]);
  if (code === null) return ok({ name, ended, stop });
  return refuse(
    'unavailable',
    `The ${name} process ended with code ${code} before it was ready; what it said stands above.`,
  );
}

function saysReady(child: ChildProcess, line: string): Promise<void> {
  return new Promise((resolve) => {
    if (child.stdout === null) throw new Error('the child has no stdout');
    createInterface({ input: child.stdout }).on('line', (each) => {
      if (each === line) resolve();
    });
  });
}
