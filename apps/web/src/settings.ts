import { z } from 'zod';

const environment = z.object({
  DATABASE_LOGIN_URL: z.string().min(1),
  DATA_DIR: z.string().min(1),
  HOST: z.string().default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65_535).default(8080),
  /** The address that people use; https means that cookies are sent over TLS only. */
  PUBLIC_URL: z.url().optional(),
  /** Addresses of proxies whose X-Forwarded-For is believed, with commas between. */
  TRUST_PROXY: z.string().default(''),
  PHOTO_BYTES_MAX: z.coerce.number().int().min(100_000).default(40_000_000),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'silent']).default('warn'),
});

export interface WebSettings {
  readonly loginUrl: string;
  readonly dataFolder: string;
  readonly host: string;
  readonly port: number;
  readonly secure: boolean;
  readonly trustProxy: readonly string[];
  readonly photoBytesMax: number;
  readonly logLevel: string;
}

/** Reads the web process's settings from the environment; throws a sentence that names the one that is wrong. */
export function readSettings(from: Readonly<Record<string, string | undefined>>): WebSettings {
  const read = environment.safeParse(from);
  if (!read.success) {
    const issue = read.error.issues[0];
    throw new Error(`The setting ${issue?.path.join('.')} is not right: ${issue?.message}.`);
  }
  const env = read.data;
  return {
    loginUrl: env.DATABASE_LOGIN_URL,
    dataFolder: env.DATA_DIR,
    host: env.HOST,
    port: env.PORT,
    secure: env.PUBLIC_URL?.startsWith('https:') ?? false,
    trustProxy: env.TRUST_PROXY.split(',')
      .map((each) => each.trim())
      .filter((each) => each !== ''),
    photoBytesMax: env.PHOTO_BYTES_MAX,
    logLevel: env.LOG_LEVEL,
  };
}
