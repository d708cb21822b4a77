import { openDatabase, type TenantContext } from '@grainwright/db';
import { ok } from '@grainwright/domain';
import { sql } from 'drizzle-orm';
import { expect, test } from 'vitest';
import { aBusiness, anAccount, must, openWorld } from '../support/world.ts';

/**
 * A statement is prepared once a connection and then used for whoever comes next on it. That Postgres plans it again for
 * another role is its own word (plancache.c, RevalidateCachedQuery); that nobody sees more by it is seen here.
 */
test('one prepared statement on one connection tells each only what is theirs', async () => {
  const world = await openWorld();
  const quillfeather = await aBusiness(world);
  const marrowby = await aBusiness(world);
  const glass = await anAccount(quillfeather, { shortName: 'GLASS' });
  await anAccount(quillfeather, { shortName: 'TINT' });
  await anAccount(marrowby, { shortName: 'LOT' });
  const database = openDatabase(world.loginUrl, 1);
  const namesSeen = async (context: TenantContext) =>
    must(
      await database.withTenant(context, async (tx) => {
        const seen = await tx.execute<{ name: string }>(
          sql`select short_name as name from accounts where short_name <> ${'WALK-IN'} order by 1`,
        );
        const [kept] = await tx.execute<{ statements: number }>(sql`
          select count(*)::int as statements from pg_prepared_statements where statement like ${'select short_name%'}`);
        return ok([seen.map(({ name }) => name), kept?.statements]);
      }),
    );
  const { tenantId } = quillfeather;
  // Oftener than Postgres tries plans for one set of values before it keeps one for all.
  for (let round = 1; round <= 8; round += 1) {
    expect(await namesSeen({ role: 'staff', tenantId })).toEqual([['GLASS', 'TINT'], 1]);
    expect(await namesSeen({ role: 'account', tenantId, accountId: glass.id })).toEqual([['GLASS'], 1]);
    expect(await namesSeen({ role: 'staff', tenantId: marrowby.tenantId })).toEqual([['LOT'], 1]);
    expect(await namesSeen({ role: 'worker', tenantId: marrowby.tenantId })).toEqual([['LOT'], 1]);
  }
  await database.close();
});
