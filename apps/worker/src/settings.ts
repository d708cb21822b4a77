export interface WorkerSettings {
  /** The address of the database with the login that runs jobs. */
  readonly jobsUrl: string;
  /** The address of the database with the login that owns nothing. */
  readonly loginUrl: string;
  readonly dataFolder: string;
}

/** Reads the worker's settings from the environment; throws a sentence that names the one that is missing. */
export function readSettings(from: Readonly<Record<string, string | undefined>>): WorkerSettings {
  return {
    jobsUrl: required(from, 'DATABASE_JOBS_URL'),
    loginUrl: required(from, 'DATABASE_LOGIN_URL'),
    dataFolder: required(from, 'DATA_DIR'),
  };
}

function required(from: Readonly<Record<string, string | undefined>>, name: string): string {
  const value = from[name];
  if (value === undefined || value === '') throw new Error(`The setting ${name} is missing.`);
  return value;
}
