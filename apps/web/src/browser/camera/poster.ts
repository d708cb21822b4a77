/** A small picture of what the camera sees now, as base64; null before the first picture has come. */
export function posterOf(video: HTMLVideoElement): string | null {
  const scale = Math.min(1, 640 / Math.max(1, video.videoWidth));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(video.videoWidth * scale);
  canvas.height = Math.round(video.videoHeight * scale);
  if (canvas.width === 0 || canvas.height === 0) return null;
  canvas.getContext('2d')?.drawImage(video, 0, 0, canvas.width, canvas.height);
  const address = canvas.toDataURL('image/jpeg', 0.7);
  return address.startsWith('data:image/jpeg;base64,')
    ? address.slice('data:image/jpeg;base64,'.length)
    : null;
}
