import { randomBytes } from 'node:crypto';
import { loginUrl } from '@grainwright/db';
import postgres, { type Sql } from 'postgres';
import { afterAll, inject, onTestFinished } from 'vitest';
import type { TemplateDatabase } from './global-setup.ts';

export interface FreshDatabase {
  /** The administrator's address: for what a test must see or break behind the product's back. */
  readonly adminUrl: string;
  /** The address that the service uses. */
  readonly loginUrl: string;
  /** Done by itself at the end of the test or the file, so seldom needed. Repeating it does nothing. */
  drop(): Promise<void>;
}

const attemptsMax = 20;

/** A migrated, empty database; call it at the top of a test file, in `beforeAll`, or for one test. */
export async function freshDatabase(): Promise<FreshDatabase> {
  const offered = await offeredTemplate();
  return cloneOf(offered, offered.template);
}

/** A database without anything in it, for tests of the migrations themselves. */
export async function emptyDatabase(): Promise<FreshDatabase> {
  return cloneOf(await offeredTemplate(), 'template0');
}

async function cloneOf({ adminUrl, template }: TemplateDatabase, source: string): Promise<FreshDatabase> {
  const name = `${template}_${randomBytes(6).toString('hex')}`;
  await asAdministrator(adminUrl, async (sql) => {
    await createFrom(sql, name, source);
    // A test asks too little of a connection for plans made to measure to pay.
    await sql.unsafe(`alter database ${name} set plan_cache_mode = force_generic_plan`);
  });
  const url = new URL(adminUrl);
  url.pathname = `/${name}`;
  const service = loginUrl(url.href);
  if (service === undefined) throw new Error('The test server’s address has no password.');
  const drop = () =>
    asAdministrator(adminUrl, async (sql) => {
      await sql.unsafe(`drop database if exists ${name} with (force)`);
    });
  whenOver(drop);
  return { adminUrl: url.href, loginUrl: service, drop };
}

/** At the end of the test that is running, or of the file. What is missed is dropped when all tests are over. */
function whenOver(work: () => Promise<void>): void {
  try {
    onTestFinished(work);
  } catch {
    afterAll(work);
  }
}

async function offeredTemplate(): Promise<TemplateDatabase> {
  const reply = await fetch(inject('templateBroker'));
  if (!reply.ok) throw new Error(`There is no Postgres for this test: ${await reply.text()}`);
  return parseTemplate(await reply.json());
}

function parseTemplate(value: unknown): TemplateDatabase {
  const parsed = value as TemplateDatabase;
  if (typeof parsed.adminUrl === 'string' && typeof parsed.template === 'string') return parsed;
  throw new Error('The broker answered something else than a template database.');
}

/** 55006: somebody is connected to the template, which passes. */
async function createFrom(sql: Sql, name: string, source: string): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await sql.unsafe(`create database ${name} template ${source} strategy file_copy`);
      return;
    } catch (error) {
      const busy = error instanceof postgres.PostgresError && error.code === '55006';
      if (!busy || attempt === attemptsMax) throw error;
    }
  }
}

async function asAdministrator(adminUrl: string, work: (sql: Sql) => Promise<void>): Promise<void> {
  const sql = postgres(adminUrl, { max: 1, onnotice: () => undefined });
  try {
    await work(sql);
  } finally {
    await sql.end({ timeout: 5 });
  }
}
