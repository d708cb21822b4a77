/** A moment by the phone's clock with its offset to UTC, ISO 8601: “2026-08-20T09:14:03.120-05:00”. */
export function momentHere(at: Date): string {
  const minutes = -at.getTimezoneOffset();
  const shifted = new Date(at.getTime() + minutes * 60_000).toISOString().slice(0, -1);
  const two = (number: number) => String(Math.trunc(Math.abs(number))).padStart(2, '0');
  return `${shifted}${minutes < 0 ? '-' : '+'}${two(minutes / 60)}:${two(minutes % 60)}`;
}
