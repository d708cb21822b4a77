import type { S3Settings } from './s3-storage.ts';

/**
 * The store of objects as the environment names it: null where it names no bucket, and a folder is meant. Throws a
 * sentence that names the setting that is missing or wrong.
 */
export function readS3Settings(env: Readonly<Record<string, string | undefined>>): S3Settings | null {
  const bucket = env.S3_BUCKET ?? '';
  if (bucket === '') return null;
  const endpoint = env.S3_ENDPOINT ?? '';
  if (endpoint !== '' && !/^https?:\/\//.test(endpoint))
    throw new Error(`S3_ENDPOINT is “${endpoint}”. Write an address that begins with https:// or http://.`);
  return {
    bucket,
    endpoint: endpoint === '' ? undefined : endpoint,
    region: env.S3_REGION || 'us-east-1',
    accessKeyId: required(env, 'S3_ACCESS_KEY_ID'),
    secretAccessKey: required(env, 'S3_SECRET_ACCESS_KEY'),
  };
}

function required(env: Readonly<Record<string, string | undefined>>, name: string): string {
  const value = env[name];
  if (value === undefined || value === '') throw new Error(`S3_BUCKET is given, so ${name} is needed too.`);
  return value;
}
