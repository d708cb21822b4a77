import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Runs all tests, or those that the arguments name, and ends with the one line that says how it went. */

const root = fileURLToPath(new URL('..', import.meta.url));
const nodeMajorMin = 24;

interface Counts {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

process.on('SIGINT', () => undefined);
process.exitCode = await main(process.argv.slice(2));

async function main(args: readonly string[]): Promise<number> {
  if (Number.parseInt(process.versions.node, 10) < nodeMajorMin) {
    return run(join(root, 'node_modules', '.bin', 'node'), [fileURLToPath(import.meta.url), ...args]);
  }
  const folder = await mkdtemp(join(tmpdir(), 'grainwright-result-'));
  try {
    const file = join(folder, 'result.json');
    const code = await run(process.execPath, [
      join(root, 'node_modules', 'vitest', 'vitest.mjs'),
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${file}`,
      ...args,
    ]);
    const counts = countsOf(await readReport(file), code);
    const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
    process.stdout.write(`${counts.passed} passed, ${counts.failed} failed${skipped}\n`);
    return counts.failed === 0 ? 0 : 1;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function run(program: string, args: readonly string[]): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, { cwd: root, stdio: 'inherit' });
    const pass = () => child.kill('SIGTERM');
    process.once('SIGTERM', pass);
    child.on('error', reject);
    child.on('close', (code) => {
      process.off('SIGTERM', pass);
      resolve(code ?? 1);
    });
  });
}

async function readReport(file: string): Promise<unknown> {
  const text = await readFile(file, 'utf8').catch(() => 'null');
  return JSON.parse(text);
}

/**
 * A file that failed without a failed test in it (it didn't load, or a hook failed) counts as one failure, and
 * so does a run that failed otherwise or in which no test ran.
 */
function countsOf(report: unknown, code: number): Counts {
  const files = listOf(report, 'testResults');
  const tests = files.flatMap((file) => listOf(file, 'assertionResults'));
  const withStatus = (status: string) => tests.filter((test) => field(test, 'status') === status).length;
  const broken = files.filter(
    (file) =>
      field(file, 'status') === 'failed' &&
      listOf(file, 'assertionResults').every((test) => field(test, 'status') !== 'failed'),
  );
  const passed = withStatus('passed');
  const found = withStatus('failed') + broken.length;
  const otherwise = found === 0 && (code !== 0 || passed === 0) ? 1 : 0;
  const skipped = tests.length - passed - withStatus('failed');
  return { passed, failed: found + otherwise, skipped };
}

function listOf(value: unknown, name: string): readonly unknown[] {
  const found = field(value, name);
  return Array.isArray(found) ? found : [];
}

function field(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? Reflect.get(value, name) : undefined;
}
