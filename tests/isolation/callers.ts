import { createHash } from 'node:crypto';
import { multipart } from '../support/multipart.ts';
import type { Browsing, Web } from '../support/web.ts';
import { aJpeg } from '../support/work-in-hand.ts';
import type { Answer } from './answers.ts';
import type { SampleRequest } from './sample-request.ts';

/** Somebody who asks: by the API with a bearer token, by pages with cookies and the form's token. */
export interface Caller {
  readonly email: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly browser: Pick<Browsing, 'cookies' | 'token'>;
  /** Of the link that they hold; left out by whoever has none. */
  readonly link?: string;
}

export interface Route {
  readonly method: string;
  /** With its parameters by name, as it was registered. */
  readonly url: string;
}

export async function signedIn(web: Web, email: string, password: string): Promise<Caller> {
  const headers = await web.signIn(email, password);
  return { email, headers, browser: await web.signInByPage(email, password) };
}

export async function nobody(web: Web): Promise<Caller> {
  return { email: 'nobody@example.com', headers: {}, browser: await web.visit() };
}

/** Asks as this caller would and reads the whole answer. */
export async function call(web: Web, caller: Caller, route: Route, sample: SampleRequest): Promise<Answer> {
  const isApi = route.url.startsWith('/api/');
  const { headers, payload } = await bodyOf(sample, isApi ? null : caller.browser.token);
  const reply = await web.app.inject({
    method: methodOf(route.method),
    url: addressOf(route.url, withLinkOf(caller, sample)),
    headers: { ...headers, ...(isApi ? caller.headers : {}) },
    cookies: isApi ? {} : caller.browser.cookies,
    ...(payload === null ? {} : { payload }),
  });
  const told = Object.entries(reply.headers).map(([name, value]) => [name, String(value)]);
  return { status: reply.statusCode, headers: Object.fromEntries(told), body: reply.body };
}

/** Somebody who signs in nowhere, but holds a link. */
export async function linkBearer(web: Web, path: string): Promise<Caller> {
  const link = path.replace('/link/', '');
  return { ...(await nobody(web)), headers: { authorization: `Bearer ${link}` }, link };
}

/** A caller’s own link stands in addresses where the sample request has that of nobody. */
function withLinkOf({ link }: Caller, sample: SampleRequest): SampleRequest {
  const isByLink = link !== undefined && sample.params?.token !== undefined;
  return isByLink ? { ...sample, params: { ...sample.params, token: link } } : sample;
}

function addressOf(url: string, { params = {}, query = {} }: SampleRequest): string {
  const path = url.replaceAll(/:(\w+)/g, (_whole, name: string) => {
    const value = params[name];
    if (value === undefined) throw new Error(`the sample request for ${url} has no ${name}`);
    return value;
  });
  const asked = new URLSearchParams(query).toString();
  return asked === '' ? path : `${path}?${asked}`;
}

/** With the form's token where it goes to a page. */
async function bodyOf(sample: SampleRequest, token: string | null) {
  const guarded = token === null ? {} : { _csrf: token };
  if (sample.photo !== undefined)
    return multipart({ ...guarded, ...sample.photo }, { name: 'photo.jpg', bytes: await aJpeg() });
  if (sample.file !== undefined) {
    const { fields, text } = sample.file;
    return multipart({ ...guarded, ...fields }, { name: 'list.csv', bytes: Buffer.from(text) });
  }
  if (sample.part !== undefined) {
    const digest = createHash('sha256').update(sample.part.text).digest('base64');
    const headers = {
      'content-type': 'application/octet-stream',
      'upload-offset': String(sample.part.offset),
      'content-digest': `sha-256=:${digest}:`,
    };
    return { headers, payload: sample.part.text };
  }
  if (sample.form !== undefined) {
    const payload = new URLSearchParams({ ...guarded, ...sample.form }).toString();
    return { headers: { 'content-type': 'application/x-www-form-urlencoded' }, payload };
  }
  if (sample.json !== undefined)
    return { headers: { 'content-type': 'application/json' }, payload: JSON.stringify(sample.json) };
  return { headers: {}, payload: null };
}

const methods = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'] as const;

function methodOf(text: string): (typeof methods)[number] {
  const method = methods.find((each) => each === text);
  if (method === undefined) throw new Error(`no request was ever made with ${text}`);
  return method;
}
