import postgres from 'postgres';

/** Proof that we, and nobody else, use this server; it ends with our process however that ends. */
export interface Claim {
  release(): Promise<void>;
}

/** Any number will do, as long as nothing else in the database `postgres` locks it. */
const claimKey = 7_221_164;

/**
 * Claims a server by a lock that its one connection holds for as long as it lives. Answers undefined when
 * another process holds it. `onLost` is called when the connection ends without release.
 */
export async function claimServer(url: string, onLost: () => void): Promise<Claim | undefined> {
  let wanted = false;
  const connection = postgres(url, {
    max: 1,
    max_lifetime: null,
    onnotice: () => undefined,
    connection: { application_name: 'grainwright-claim' },
    onclose: () => {
      if (wanted) onLost();
      wanted = false;
    },
  });
  const release = async () => {
    wanted = false;
    await connection.end({ timeout: 5 });
  };
  try {
    const [row] = await connection<{ held: boolean }[]>`select pg_try_advisory_lock(${claimKey}) as held`;
    if (row?.held !== true) {
      await release();
      return undefined;
    }
    wanted = true;
    return { release };
  } catch (error) {
    await release();
    throw error;
  }
}

/** Makes the product's database when the server doesn't have it yet. */
export async function ensureDatabase(url: string, name: string): Promise<void> {
  const connection = postgres(url, { max: 1, onnotice: () => undefined });
  try {
    const found = await connection`select from pg_database where datname = ${name}`;
    if (found.length === 0) await connection`create database ${connection(name)}`;
  } finally {
    await connection.end({ timeout: 5 });
  }
}
