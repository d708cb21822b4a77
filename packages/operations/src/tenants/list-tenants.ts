import { listTenants as readTenants } from '@grainwright/db';
import { ok, type Result, type TenantId } from '@grainwright/domain';
import type { Services } from '../services.ts';

/** Every business of this installation. Nobody signed in asks this: it is for the command line. */
export function listTenants(
  services: Services,
): Promise<Result<readonly { readonly id: TenantId; readonly name: string }[]>> {
  return services.database.withRegistry(async (tx) => ok(await readTenants(tx)));
}
