import type { Readable } from 'node:stream';
import type { Result, TenantId } from '@grainwright/domain';
import type { ObjectKey } from './object-key.ts';

/** Keeps bytes under keys that name their content. What is there never changes; it may only go. */
export interface ObjectStore {
  /**
   * Copies a local file to its key. When it answers, the bytes survive a power loss; when it fails, there is
   * either nothing under the key or the whole content. The same content twice is fine. Throws when the file
   * does not have the digest that its key names.
   */
  put(localPath: string, key: ObjectKey): Promise<void>;
  /** The content as a stream with its length in bytes; null when there is none. */
  open(key: ObjectKey): Promise<StoredObject | null>;
  /** As `open`, of the bytes from `first` to `last`, both counted from 0 and in it; `bytes` is their number. */
  openRange(key: ObjectKey, range: ByteRange): Promise<StoredObject | null>;
  has(key: ObjectKey): Promise<boolean>;
  /** Length in bytes; null when there is nothing under the key. */
  size(key: ObjectKey): Promise<number | null>;
  /**
   * Takes an object away, and answers whether there was one that went; when it answers, it stays gone after a power
   * loss. With `unlessWrittenSince` it looks at the moment of removal, and leaves what was put again since then:
   * somebody is about to name it.
   */
  remove(key: ObjectKey, options?: { readonly unlessWrittenSince?: Date }): Promise<boolean>;
  /** Everything that is there of a tenant, in no order; what comes or goes meanwhile may be in it or not. */
  list(tenantId: TenantId): AsyncIterable<ListedObject>;
  /** Whether it takes bytes right now, for the readiness answer: `unavailable` when it does not. */
  check(): Promise<Result<void>>;
}

export interface ByteRange {
  readonly first: number;
  readonly last: number;
}

export interface StoredObject {
  readonly stream: Readable;
  readonly bytes: number;
}

export interface ListedObject {
  readonly key: ObjectKey;
  readonly bytes: number;
  /** When it was put last, by the clock of the disk or the store. */
  readonly writtenAt: Date;
}
