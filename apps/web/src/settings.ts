import { readS3Settings, type S3Settings } from '@grainwright/operations';
import { z } from 'zod';

const environment = z.object({
  DATABASE_LOGIN_URL: z.string().min(1),
  DATA_DIR: z.string().min(1),
  HOST: z.string().default('127.0.0.1'),
  PORT: z.coerce.number({ error: 'a number from 0 to 65535' }).int().min(0).max(65_535).default(8080),
  /** The address that people use; https means that cookies are sent over TLS only. */
  PUBLIC_URL: z
    .url({ protocol: /^https?$/, error: 'an address like https://repairs.example.com' })
    .optional(),
  /** Addresses of proxies whose X-Forwarded-For is believed, with commas between. */
  TRUST_PROXY: z
    .string()
    .regex(/^([0-9a-fA-F.:]+(\/\d{1,3})?)?(\s*,\s*[0-9a-fA-F.:]+(\/\d{1,3})?)*$/, {
      error: 'the addresses of proxies with commas between, like 10.0.0.1, 10.0.1.0/24',
    })
    .default(''),
  PHOTO_BYTES_MAX: z.coerce
    .number({ error: 'bytes as a whole number, like 40000000' })
    .int()
    .min(100_000)
    .default(40_000_000),
  RECORDING_BYTES_MAX: z.coerce
    .number({ error: 'bytes as a whole number, like 250000000' })
    .int()
    .min(1_000_000)
    .default(250_000_000),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'silent']).default('warn'),
});

export interface WebSettings {
  readonly loginUrl: string;
  readonly dataFolder: string;
  readonly host: string;
  readonly port: number;
  /** Where browsers reach it; undefined: this computer, at its port. */
  readonly publicUrl: string | undefined;
  readonly secure: boolean;
  readonly trustProxy: readonly string[];
  readonly photoBytesMax: number;
  readonly recordingBytesMax: number;
  readonly logLevel: string;
  /** Null: photos and documents are in the data folder. */
  readonly s3: S3Settings | null;
}

/** Reads the web process's settings from the environment; throws a sentence that names the one that is wrong. */
export function readSettings(from: Readonly<Record<string, string | undefined>>): WebSettings {
  const read = environment.safeParse(from);
  if (!read.success) {
    const issue = read.error.issues[0];
    const name = issue?.path.join('.') ?? '';
    throw new Error(`${name} is “${from[name] ?? ''}”. Write ${issue?.message}.`);
  }
  const env = read.data;
  return {
    loginUrl: env.DATABASE_LOGIN_URL,
    dataFolder: env.DATA_DIR,
    host: env.HOST,
    port: env.PORT,
    publicUrl: env.PUBLIC_URL,
    secure: env.PUBLIC_URL?.startsWith('https:') ?? false,
    trustProxy: env.TRUST_PROXY.split(',')
      .map((each) => each.trim())
      .filter((each) => each !== ''),
    photoBytesMax: env.PHOTO_BYTES_MAX,
    recordingBytesMax: env.RECORDING_BYTES_MAX,
    logLevel: env.LOG_LEVEL,
    s3: readS3Settings(from),
  };
}
