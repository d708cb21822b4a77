/** A file for an archive that is made by hand, so that it can be made wrongly. */
export interface MadeFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** 8 where `bytes` are deflated already. */
  readonly method?: number;
  /** What the archive says of the unpacked length; its own unless given. */
  readonly says?: number;
  readonly flags?: number;
  /** Where the directory says that it begins. */
  readonly at?: number;
  /** Extra fields, in its header and in the directory. */
  readonly extra?: Uint8Array;
  /** There, but not in the directory. */
  readonly hidden?: boolean;
}

/** An archive with these files, by the book (APPNOTE.TXT) but for what they say otherwise. */
export function anArchive(files: readonly MadeFile[], comment = ''): Uint8Array {
  const bodies: Buffer[] = [];
  const entries: Buffer[] = [];
  let at = 0;
  for (const file of files) {
    const { name, bytes, method = 0, says = bytes.length, flags = 0x0800, at: said = at } = file;
    const extra = Buffer.from(file.extra ?? []);
    const named = Buffer.from(name, 'utf8');
    const local = Buffer.alloc(30);
    local.writeUInt32LE(0x04034b50, 0);
    local.writeUInt16LE(flags, 6);
    local.writeUInt16LE(method, 8);
    local.writeUInt32LE(bytes.length, 18);
    local.writeUInt32LE(says, 22);
    local.writeUInt16LE(named.length, 26);
    local.writeUInt16LE(extra.length, 28);
    const entry = Buffer.alloc(46);
    entry.writeUInt32LE(0x02014b50, 0);
    entry.writeUInt16LE(flags, 8);
    entry.writeUInt16LE(method, 10);
    entry.writeUInt32LE(bytes.length, 20);
    entry.writeUInt32LE(says, 24);
    entry.writeUInt16LE(named.length, 28);
    entry.writeUInt16LE(extra.length, 30);
    entry.writeUInt32LE(said, 42);
    bodies.push(local, named, extra, Buffer.from(bytes));
    if (file.hidden !== true) entries.push(entry, named, extra);
    at += local.length + named.length + extra.length + bytes.length;
  }
  const directory = Buffer.concat(entries);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  const listed = files.filter(({ hidden }) => hidden !== true).length;
  end.writeUInt16LE(listed, 8);
  end.writeUInt16LE(listed, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(at, 16);
  end.writeUInt16LE(comment.length, 20);
  return new Uint8Array(Buffer.concat([...bodies, directory, end, Buffer.from(comment)]));
}

/** Read from memory, and how many bytes were asked for at once at most. */
export function inMemory(bytes: Uint8Array) {
  let most = 0;
  return {
    bytes: bytes.length,
    read: async (start: number, end: number) => {
      most = Math.max(most, end - start);
      return bytes.subarray(start, end);
    },
    mostAtOnce: () => most,
  };
}
