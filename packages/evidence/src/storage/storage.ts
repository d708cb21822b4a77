import type { Readable } from 'node:stream';
import type { Result } from '@grainwright/domain';
import type { ObjectKey } from './object-key.ts';

/** Keeps bytes under keys that name their content. What is there never changes. */
export interface ObjectStore {
  /**
   * Copies a local file to its key. When it answers, the bytes survive a power loss; when it fails, there is
   * either nothing under the key or the whole content. The same content twice is fine. Throws when the file
   * does not have the digest that its key names.
   */
  put(localPath: string, key: ObjectKey): Promise<void>;
  /** The content as a stream with its length in bytes; null when there is none. */
  open(key: ObjectKey): Promise<StoredObject | null>;
  has(key: ObjectKey): Promise<boolean>;
  /** Length in bytes; null when there is nothing under the key. */
  size(key: ObjectKey): Promise<number | null>;
  /** Whether it takes bytes right now, for the readiness answer: `unavailable` when it does not. */
  check(): Promise<Result<void>>;
}

export interface StoredObject {
  readonly stream: Readable;
  readonly bytes: number;
}
