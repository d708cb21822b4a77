import { type Result, refuse } from '../result.ts';
import { parseVin, type ReadVin } from './vin.ts';

/**
 * Reads the VIN out of what a scanner found in a vehicle's bar code, Code 39 or Code 128. The asterisks that start and
 * stop Code 39 are no content (ISO/IEC 16388), though some readers hand them over; the data identifier I in front of
 * the 17 characters says that a VIN follows (ANSI MH10.8.2, ISO/IEC 15418) and is dropped. Refuses with `invalid_vin`
 * what is another bar code: a door has several.
 */
export function vinFromBarcode(text: string): Result<ReadVin> {
  const payload = text.trim().replace(/^\*(.*)\*$/, '$1');
  const read = parseVin(payload);
  if (read.ok) return read;
  const shown = payload.length > 40 ? `${payload.slice(0, 40)}…` : payload;
  return refuse('invalid_vin', `This bar code says “${shown}”, which is no VIN. Try the other one.`, 'vin');
}
