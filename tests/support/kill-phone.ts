import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

/**
 * Ends a browser that keeps its things in that folder at once, as a phone ends an app: it has no time to put anything in
 * order. Only the browser that was started for that folder is ended, by its id.
 */
export async function killPhone(folder: string): Promise<void> {
  const { stdout } = await promisify(execFile)('ps', ['-axww', '-o', 'pid=,args=']);
  const own = stdout
    .split('\n')
    .filter((row) => row.includes(`--user-data-dir=${folder}`) && !row.includes('--type='))
    .map((row) => Number.parseInt(row, 10));
  const [pid] = own;
  if (pid === undefined) throw new Error(`no browser keeps its things in ${folder}`);
  process.kill(pid, 'SIGKILL');
}
