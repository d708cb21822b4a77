/** When a file was made, by the phone's clock; no later than that clock says now. */
export function takenAt(file: File): Date {
  return new Date(Math.min(file.lastModified, Date.now()));
}
