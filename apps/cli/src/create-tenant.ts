import { parseArgs } from 'node:util';
import { ok, type Result, refuse, type TenantId, toId } from '@grainwright/domain';
import { createTenant } from '@grainwright/operations';
import type { CliSettings } from './settings.ts';
import { withServices } from './with-services.ts';

/** Makes a business and its owner. The password comes from the environment, where no list of processes shows it. */
export async function createTenantCommand(
  settings: CliSettings,
  args: readonly string[],
): Promise<Result<number>> {
  const asked = readArguments(args);
  if (!asked.ok) return asked;
  const password = process.env.PASSWORD ?? '';
  if (password === '')
    return refuse(
      'invalid_input',
      'Give the owner’s first password in the environment variable PASSWORD.',
      'PASSWORD',
    );
  return withServices(settings, async (services) => {
    const id = toId<TenantId>(services.newId());
    const { name, ownerName, ownerEmail, timeZone } = asked.value;
    const created = await createTenant(services, {
      id,
      name,
      address: '',
      phone: '',
      email: ownerEmail,
      timeZone,
      currency: 'USD',
      taxComponents: 'each',
      taxBasis: 'invoice',
      agingBasis: 'due_date',
      invoicePrefix: 'INV-',
      firstWorkOrderNumber: 1001,
      firstInvoiceNumber: 1001,
      estimateValidDays: 30,
      documentNote: '',
      owner: {
        personId: toId(services.newId()),
        userId: toId(services.newId()),
        membershipId: toId(services.newId()),
        name: ownerName,
        shortName: 'OWN',
        email: ownerEmail,
        password,
      },
    });
    if (!created.ok) return created;
    const { login } = created.value;
    const signsIn =
      login.kind === 'new' || login.joinCode === null
        ? `${ownerEmail} signs in.`
        : `${ownerEmail} signs in elsewhere already and keeps that password. They get in here with this code, which is shown once: ${login.joinCode}. Signed in, they open /choose-business and give it there.`;
    process.stdout.write(`${name} is there as ${id}. ${signsIn}\n`);
    return ok(0);
  });
}

interface Asked {
  readonly name: string;
  readonly ownerName: string;
  readonly ownerEmail: string;
  readonly timeZone: string;
}

function readArguments(args: readonly string[]): Result<Asked> {
  const { values } = parseArgs({
    args: [...args],
    strict: false,
    options: {
      name: { type: 'string' },
      'owner-name': { type: 'string' },
      'owner-email': { type: 'string' },
      'time-zone': { type: 'string', default: 'America/Chicago' },
    },
  });
  const text = (key: string) => (typeof values[key] === 'string' ? values[key] : '');
  const missing = ['name', 'owner-name', 'owner-email'].filter((key) => text(key) === '');
  if (missing.length > 0)
    return refuse('invalid_input', `Say ${missing.map((key) => `--${key}`).join(' and ')} as well.`);
  return ok({
    name: text('name'),
    ownerName: text('owner-name'),
    ownerEmail: text('owner-email'),
    timeZone: text('time-zone'),
  });
}
