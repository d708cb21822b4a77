import type { DelegationId } from '@grainwright/domain';
import { nameDelegate, recordDelegation } from '@grainwright/operations';
import { must } from '../support/world.ts';
import type { Teller } from './told-work.ts';

/** Who stands in for the approver next year, once named by them and once written down by the office. */
export async function tellWaiting({ account, approver }: Teller) {
  const { world, office } = account.business;
  const days = (month: string) => ({
    validFrom: `2027-${month}-01`,
    validTo: `2027-${month}-20`,
    limit: null,
  });
  const [delegation, officeDelegation] = [world.newId<DelegationId>(), world.newId<DelegationId>()];
  const toPersonId = account.viewer.personId;
  must(await nameDelegate(world.services, approver, { id: delegation, toPersonId, ...days('01') }));
  must(
    await recordDelegation(world.services, office, {
      id: officeDelegation,
      accountId: account.id,
      fromPersonId: approver.personId,
      toPersonId,
      ...days('02'),
    }),
  );
  return { delegation, officeDelegation, colleague: toPersonId };
}
