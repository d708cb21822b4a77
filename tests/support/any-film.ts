/** Boxes by hand after ISO/IEC 14496-12 section 4.2: told as a film that says nothing of where it was made. */
export function aFilm(filling: number, place: Buffer = Buffer.alloc(0)): Buffer {
  const brand = box('ftyp', Buffer.from('isom\0\0\0\0isom', 'latin1'));
  return Buffer.concat([brand, box('moov', place), box('mdat', Buffer.alloc(40_000, filling))]);
}

/** A box that says where the film was made. */
export function filmPlace(): Buffer {
  return box('udta', box('\u00a9xyz', Buffer.from('\0\x12\x15\xc7+40.4461-079.9822/', 'latin1')));
}

function box(type: string, content: Buffer): Buffer {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(content.length + 8);
  head.write(type, 4, 'latin1');
  return Buffer.concat([head, content]);
}
