/** What a page may load and run: only what is ours, no inline script or style. */
const directives = {
  defaultSrc: ["'none'"],
  scriptSrc: ["'self'"],
  styleSrc: ["'self'"],
  imgSrc: ["'self'", 'blob:', 'data:'],
  mediaSrc: ["'self'", 'blob:'],
  connectSrc: ["'self'"],
  manifestSrc: ["'self'"],
  workerSrc: ["'self'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
  baseUri: ["'none'"],
};

export const contentSecurity = { useDefaults: false, directives };

/** Of the one page that reads bar codes: what it reads them with is compiled in the browser, from our own file. */
export const contentSecurityOfScanning = {
  useDefaults: false,
  directives: { ...directives, scriptSrc: ["'self'", "'wasm-unsafe-eval'"] },
};
