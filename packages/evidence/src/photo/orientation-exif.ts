/**
 * An EXIF block that says how the picture was held and nothing else: a TIFF header, one directory with one entry, tag
 * Orientation 0x0112 as SHORT (Exif 2.32 §4.5.2 and §4.6.4).
 */
export function orientationExif(orientation: number): Uint8Array {
  return Uint8Array.from([
    // "MM", 42, and the directory right behind the header of eight bytes.
    ...[0x4d, 0x4d, 0, 42, 0, 0, 0, 8],
    ...[0, 1],
    ...[0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0],
    ...[0, 0, 0, 0],
  ]);
}
