import { listMails, readMail } from '@grainwright/operations';
import type { Browsing, Web } from './web.ts';
import { type Business, must } from './world.ts';

/** A mail as whoever got it reads it. */
export interface ReadMail {
  readonly kind: string;
  readonly to: readonly string[];
  readonly subject: string;
  readonly text: string;
  /** Where its link leads, as `/link/…`; null without one. */
  readonly path: string | null;
}

/** Every mail that the business kept for want of a mail server, the latest first. */
export async function keptMails({ world, owner }: Business): Promise<readonly ReadMail[]> {
  const { rows } = must(await listMails(world.services, owner, null));
  const mails: ReadMail[] = [];
  for (const { id } of rows) {
    const mail = must(await readMail(world.services, owner, id));
    mails.push({
      kind: mail.kind,
      to: mail.recipients,
      subject: mail.subjectLine,
      text: mail.body,
      path: /https?:\/\/\S+(\/link\/\S+)/.exec(mail.body)?.[1] ?? null,
    });
  }
  return mails;
}

/** The link of the latest mail to this address; throws where there is none. */
export async function linkMailedTo(business: Business, email: string): Promise<string> {
  const path = (await keptMails(business)).find(
    (mail) => mail.to.includes(email) && mail.path !== null,
  )?.path;
  if (path === undefined || path === null) throw new Error(`no link was mailed to ${email}`);
  return path;
}

type Reply = Awaited<ReturnType<Browsing['get']>>;

/** Somebody without a session, a cookie or JavaScript, who has a link. */
export interface LinkHolder {
  get(path: string): Promise<Reply>;
  post(path: string, fields: Readonly<Record<string, string>>): Promise<Reply>;
}

export function linkHolder({ app }: Web): LinkHolder {
  return {
    get: (url) => app.inject({ method: 'GET', url }),
    post: (url, fields) =>
      app.inject({
        method: 'POST',
        url,
        headers: { 'content-type': 'application/x-www-form-urlencoded' },
        payload: new URLSearchParams(fields).toString(),
      }),
  };
}

/** The fields of the form on a page that goes to this address, with what stands in them; radios as they are chosen. */
export function fieldsOfForm(page: string, action: string): Record<string, string> {
  const form = page
    .split('<form ')
    .find((each) => each.includes(`action="${action}"`))
    ?.split('</form>')[0];
  if (form === undefined) throw new Error(`the page has no form to ${action}`);
  const fields: Record<string, string> = {};
  for (const [input] of form.matchAll(/<input [^>]*>/g)) {
    const name = /name="([^"]*)"/.exec(input)?.[1];
    const value = /value="([^"]*)"/.exec(input)?.[1] ?? '';
    const isRadio = /type="radio"/.test(input);
    if (name !== undefined && (!isRadio || / checked/.test(input))) fields[name] = value;
  }
  return fields;
}
