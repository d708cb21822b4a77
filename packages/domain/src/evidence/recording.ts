/** What a recording may be, as its first bytes say. */
export const recordingMediaTypes = ['video/webm', 'video/mp4', 'video/quicktime'] as const;

export type RecordingMediaType = (typeof recordingMediaTypes)[number];

/** A walk around the vehicle is at most this long where the page records it; it then stops by itself. */
export const walkAroundSecondsMost = 120;

/** The cap of the camera's bit rate while a page records: two minutes are then about 30 MB. */
export const recordingBitsPerSecond = 2_000_000;
