import { type Business, lockBusiness, renameTenant, updateBusiness } from '@grainwright/db';
import { ok, type Result, refuse } from '@grainwright/domain';
import { type Actor, performAsStaff, record } from '../perform.ts';
import type { Services } from '../services.ts';
import { type BusinessSettingsInput, readSettings, settingsWords } from './business-settings.ts';

export interface ChangeBusinessSettingsInput extends BusinessSettingsInput {
  /** Of the settings that were shown. */
  readonly revision: number;
}

/** The owner's view of the business. */
export function readBusinessSettings(services: Services, actor: Actor): Promise<Result<Business>> {
  return performAsStaff(services, actor, 'change_settings', async ({ business }) => ok(business));
}

/**
 * Changes what the business says of itself and how it handles its money, all at once. Refuses with `shown_changed`
 * when somebody else changed it since it was shown; sending again what stands there changes nothing. Documents that
 * were issued keep what they say.
 */
export async function changeBusinessSettings(
  services: Services,
  actor: Actor,
  input: ChangeBusinessSettingsInput,
): Promise<Result<Business>> {
  const changed = await performAsStaff(services, actor, 'change_settings', async (scope) => {
    const { tx, business } = scope;
    const settings = readSettings(input, business.currency);
    if (!settings.ok) return settings;
    const now = await lockBusiness(tx);
    const before = settingsWords(now, business.currency);
    const after = settingsWords(settings.value, business.currency);
    const names = Object.keys(after).filter((name) => before[name] !== after[name]);
    if (names.length === 0) return ok(now);
    if (input.revision !== now.settingsRevision)
      return refuse(
        'shown_changed',
        'Somebody else changed these settings meanwhile. Look at what stands there now before you save.',
        'revision',
      );
    const next = { ...now, ...settings.value, settingsRevision: now.settingsRevision + 1 };
    await updateBusiness(tx, next);
    const only = (words: typeof after) =>
      Object.fromEntries(names.map((name) => [name, words[name] ?? null]));
    const detail = { before: only(before), after: only(after) };
    await record(scope, 'settings_changed', { kind: 'business', id: tx.tenantId }, detail);
    return ok(next);
  });
  if (!changed.ok) return changed;
  // What lists a person's businesses by name is no tenant's; sent again, the same change completes it.
  const named = await services.database.withRegistry(async (tx) =>
    ok(await renameTenant(tx, actor.tenantId, changed.value.name)),
  );
  return named.ok ? changed : named;
}
