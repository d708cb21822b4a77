import fc from 'fast-check';
import { expect, test } from 'vitest';
import { attributes, html, safeUrl } from './html.ts';

const attack = `"><script>alert('x')</script>&`;
const escaped = '&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;';

test('text and quoted attributes are escaped', () => {
  expect(String(html`<p title="${attack}" class='${attack}'>${attack}</p>`)).toBe(
    `<p title="${escaped}" class='${escaped}'>${escaped}</p>`,
  );
});

test('no text can leave the place it was written to', () => {
  fc.assert(
    fc.property(fc.string(), (text) => {
      const markup = String(html`<p title="${text}">${text}</p>`);
      expect(markup.match(/[<>]/g)).toEqual(['<', '>', '<', '>']);
      expect(markup.match(/"/g)).toHaveLength(2);
    }),
  );
});

test('markup goes in as it is, alone and in lists within lists', () => {
  const item = html`<li>${'a & b'}</li>`;
  expect(String(html`<ul>${[item, [item, [html`<li>3</li>`]]]}</ul>`)).toBe(
    '<ul><li>a &amp; b</li><li>a &amp; b</li><li>3</li></ul>',
  );
});

test('what only looks like markup is refused or escaped', () => {
  const forged = { toString: () => '<b>' };
  // @ts-expect-error an object that is not Html
  expect(() => html`${forged}`).toThrow('cannot be written');
});

test('nothing is written for null, undefined and false, and zero is a number', () => {
  expect(String(html`[${null}${undefined}${false}${0}]`)).toBe('[0]');
});

test('other types are refused by the compiler and when it runs', () => {
  // @ts-expect-error true says nothing
  expect(() => html`${true}`).toThrow('boolean');
  // @ts-expect-error an amount in minor units must go through money
  expect(() => html`${28490n}`).toThrow('bigint');
  // @ts-expect-error a date must be written as a day
  expect(() => html`${new Date(0)}`).toThrow('object');
  // @ts-expect-error a function that was not called
  expect(() => html`${() => 'x'}`).toThrow('function');
  expect(() => html`${Number.NaN}`).toThrow('number');
});

test('an unquoted attribute throws, whatever is written into it', () => {
  expect(() => html`<p class=${'a'}></p>`).toThrow('without quotes');
  expect(() => html`<p class= ${'a'}></p>`).toThrow('without quotes');
  expect(() => html`<p class=a${'b'}></p>`).toThrow('unquoted');
});

test('a hole in a name, a handler, a style, a script or a comment throws', () => {
  expect(() => html`<${'b'}>`).toThrow();
  expect(() => html`<b${'r'}>`).toThrow();
  expect(() => html`<p onclick="${'x'}"></p>`).toThrow('onclick');
  expect(() => html`<p style="${'x'}"></p>`).toThrow('style');
  expect(() => html`<script>${'x'}</script>`).toThrow('script');
  expect(() => html`<style>${'x'}</style>`).toThrow('style');
  expect(() => html`<!-- ${'x'} -->`).toThrow('comment');
  expect(() => html`<p ${'onclick'}></p>`).toThrow('attributes');
});

test('a template that ends inside a tag throws', () => {
  expect(() => html`<p class="a`).toThrow('ends inside');
});

test('a javascript: address is refused wherever an address stands', () => {
  expect(() => html`<a href="${'javascript:alert(1)'}">x</a>`).toThrow('address');
  expect(() => html`<form action="${'JavaScript:alert(1)'}"></form>`).toThrow('address');
  expect(() => html`<a ${attributes({ href: ' javascript:alert(1)' })}>x</a>`).toThrow('address');
  expect(() => html`<a href="${'java'}${'script:alert(1)'}">x</a>`).toThrow('pieces');
  expect(() => html`<a href="java${'script:alert(1)'}">x</a>`).toThrow('pieces');
  expect(() => html`<a href="/${'/elsewhere.example'}">x</a>`).toThrow('folder');
});

// The ways a browser reads an address: WHATWG URL, "basic URL parser", steps that strip and skip characters.
test.each([
  'javascript:alert(1)',
  'JAVASCRIPT:alert(1)',
  ' \u0001javascript:alert(1)',
  'java\tscript:alert(1)',
  'java\nscript:alert(1)',
  'data:text/html,x',
  'vbscript:x',
  'blob:x',
  'file:///etc/hosts',
  '//elsewhere.example',
  '/\\elsewhere.example',
  '\\\\elsewhere.example',
])('%j is not an address to link to', (href) => {
  expect(() => safeUrl(href)).toThrow('not an address');
});

test.each([
  '/a',
  '/a?b=1:2',
  '#a:b',
  '?a=b',
  'a/b:c',
  '',
  'https://a.example/',
  'mailto:a@b.example',
  'sms:2125550142?body=hello',
  'tel:+15550100',
])('%j is an address to link to', (href) => {
  expect(safeUrl(href)).toBe(href);
});

test('addresses may be completed with escaped pieces', () => {
  expect(String(html`<a href="/invoices/${'"1'}">x</a>`)).toBe('<a href="/invoices/&quot;1">x</a>');
  expect(String(html`<a href="${'/a'}?to=${'b&c'}">x</a>`)).toBe('<a href="/a?to=b&amp;c">x</a>');
});

test('attributes are escaped, left out or bare, and never code', () => {
  expect(String(html`<input ${attributes({ name: attack, required: true, value: null, max: 3 })}>`)).toBe(
    `<input  name="${escaped}" required max="3">`,
  );
  expect(() => attributes({ onclick: 'x' })).toThrow('onclick');
  expect(() => attributes({ style: 'x' })).toThrow('style');
  expect(() => attributes({ 'a b': 'x' })).toThrow('name');
  expect(() => html`${attributes({ id: 'x' })}`).toThrow('inside a tag');
  expect(() => html`<p title="${html`<b>x</b>`}"></p>`).toThrow('attribute');
});

test('a less-than sign in text is text', () => {
  expect(String(html`1 < 2 ${'<'} 3`)).toBe('1 < 2 &lt; 3');
});
