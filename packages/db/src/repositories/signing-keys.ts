import { asc, eq } from 'drizzle-orm';
import type { TenantTransaction } from '../database.ts';
import { signingKeys } from '../schema/seals.ts';

export type SigningKeyRow = Omit<typeof signingKeys.$inferSelect, 'tenantId'>;
export type ShownSigningKey = Omit<SigningKeyRow, 'salt' | 'madeBy'>;

/** Every key of a business, the oldest first, with the salt that it was made with: the staff's and the worker's. */
export async function listSigningKeys(tx: TenantTransaction): Promise<readonly SigningKeyRow[]> {
  const rows = await tx
    .select()
    .from(signingKeys)
    .where(eq(signingKeys.tenantId, tx.tenantId))
    .orderBy(asc(signingKeys.number));
  return rows.map(({ tenantId: _tenantId, ...row }) => row);
}

/** As `listSigningKeys`, for everybody. */
export function listPublicKeys(tx: TenantTransaction): Promise<readonly ShownSigningKey[]> {
  return tx
    .select({
      id: signingKeys.id,
      number: signingKeys.number,
      keyId: signingKeys.keyId,
      publicKey: signingKeys.publicKey,
      cause: signingKeys.cause,
      madeAt: signingKeys.madeAt,
    })
    .from(signingKeys)
    .where(eq(signingKeys.tenantId, tx.tenantId))
    .orderBy(asc(signingKeys.number));
}

/** False when the id or the number is taken. */
export async function insertSigningKey(tx: TenantTransaction, key: SigningKeyRow): Promise<boolean> {
  const rows = await tx
    .insert(signingKeys)
    .values({ tenantId: tx.tenantId, ...key })
    .onConflictDoNothing()
    .returning({ id: signingKeys.id });
  return rows.length === 1;
}
