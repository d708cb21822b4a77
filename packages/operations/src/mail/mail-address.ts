import { ok, type Result, refuse } from '@grainwright/domain';

/** One plain address: no name, no list, nothing that could begin another header or another recipient. */
const form =
  /^[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]{1,64}@[A-Za-z0-9](?:[A-Za-z0-9-]*[A-Za-z0-9])?(?:\.[A-Za-z0-9](?:[A-Za-z0-9-]*[A-Za-z0-9])?)+$/;
const lengthMax = 254;

/** Reads the address of a recipient (RFC 5321, “Mailbox”, without quoted parts); refuses with `invalid_input`. */
export function readMailAddress(text: string, field: string): Result<string> {
  const address = text.trim();
  if (address.length <= lengthMax && form.test(address)) return ok(address);
  return refuse(
    'invalid_input',
    `“${address.slice(0, 80)}” is not an e-mail address. Write one like office@example.com.`,
    field,
  );
}

/** As `readMailAddress` without a person to tell: whether mail can go there. */
export function isMailAddress(text: string): boolean {
  return readMailAddress(text, '').ok;
}
