/** A body of RFC 7578 as a browser sends it: the fields in their order, then the file. */
export function multipart(
  fields: Readonly<Record<string, string>>,
  file: { readonly name: string; readonly bytes: Buffer } | null,
): { readonly payload: Buffer; readonly headers: { readonly 'content-type': string } } {
  const boundary = '----------grainwright-test';
  const parts = Object.entries(fields).map(
    ([name, value]) => `--${boundary}\r\ncontent-disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`,
  );
  const head =
    file === null
      ? ''
      : `--${boundary}\r\ncontent-disposition: form-data; name="photo"; filename="${file.name}"\r\ncontent-type: image/jpeg\r\n\r\n`;
  const body = [Buffer.from(parts.join('') + head), file?.bytes ?? Buffer.alloc(0)];
  const end = Buffer.from(`${file === null ? '' : '\r\n'}--${boundary}--\r\n`);
  return {
    payload: Buffer.concat([...body, end]),
    headers: { 'content-type': `multipart/form-data; boundary=${boundary}` },
  };
}
