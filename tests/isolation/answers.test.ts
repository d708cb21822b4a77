import { expect, test } from 'vitest';
import { type Answer, differenceOf, leaksIn } from './answers.ts';

// The test of all routes is worth what this comparison sees, so it is shown answers that leak.

const real = '0197f000-0000-7000-8000-00000000000a';
const unknown = '0197f000-0000-7000-8000-00000000000b';
const other = '0197f000-0000-7000-8000-00000000000c';

function answer(body: string, more: Partial<Answer> = {}): Answer {
  return { status: 404, headers: { 'content-type': 'text/html' }, body, ...more };
}

function difference(ofReal: Answer, ofUnknown: Answer): string | null {
  return differenceOf({ answer: ofReal, sent: [real] }, { answer: ofUnknown, sent: [unknown] });
}

test('answers that differ only in the ids that were sent tell nothing', () => {
  expect(difference(answer(`no ${real}`), answer(`no ${unknown}`))).toBeNull();
});

test('nor do new ids of a form, its token, cookies and the time', () => {
  const form = (id: string, token: string) => `<input name="_csrf" value="${token}"><input value="${id}">`;
  const headers = (passing: string) => ({ 'set-cookie': passing, date: passing });
  const first = answer(form(other, 'one'), { headers: headers('one') });
  expect(difference(first, answer(form(unknown, 'two'), { headers: headers('two') }))).toBeNull();
});

test('another status tells that there is something', () => {
  expect(difference(answer('no', { status: 409 }), answer('no'))).toBe('409 instead of 404');
});

test('so does another header', () => {
  const headers = { 'content-type': 'text/html', etag: '"1"' };
  expect(difference(answer('no', { headers }), answer('no'))).toBe('etag: "1" instead of undefined');
});

test('and another word, which is shown with what stands around it', () => {
  expect(difference(answer('It is paid.'), answer('It is not there.'))).toContain('It is paid.');
});

test('a number in place of nothing is a difference, too', () => {
  expect(difference(answer('work orders: 1'), answer('work orders: '))).not.toBeNull();
});

test('a secret is found in the body and in the headers, in capitals or not', () => {
  const secrets = ['Quenbywort', other];
  const headers = { location: `/work-orders/${other}` };
  const told = { answer: answer('the yard of QUENBYWORT', { headers }), sent: [] };
  expect(leaksIn(told, secrets)).toEqual(secrets);
});

test('what was sent may come back, and the rest of the secrets may not', () => {
  const told = { answer: answer(`no ${real}, but ${other}`), sent: [real] };
  expect(leaksIn(told, [real, other])).toEqual([other]);
});
