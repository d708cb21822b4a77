/** A file to hand out, whole: `statement-2026-08.pdf`, its media type and its bytes. */
export interface OpenedFile {
  readonly fileName: string;
  readonly mediaType: string;
  readonly body: Uint8Array;
}
