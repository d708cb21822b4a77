import { expect, test } from 'vitest';
import { beforeAfter, pictureRow } from './before-after.ts';

const after = { src: '/photos/2/thumb', alt: 'after: tailgate' };

const picture = { src: '/photos/1/thumb', alt: 'before: tailgate', href: '/photos/1/view' };

test('a picture that is still being made says where it will be, and offers to look again without a script', () => {
  const shown = pictureRow([{ ...picture, ready: false }]).toString();
  expect(shown).toContain('data-picture="/photos/1/thumb"');
  expect(shown).toContain('data-alt="before: tailgate"');
  expect(shown).toContain('<noscript><a href="">Show the picture</a></noscript>');
  expect(shown).not.toContain('<img');
});

test('a picture that is there is shown at once', () => {
  const shown = pictureRow([picture]).toString();
  expect(shown).toContain('<img src="/photos/1/thumb"');
  expect(shown).not.toContain('data-picture');
});

test('without a script before and after stand side by side, each with its words; a pair says what its divider divides', () => {
  const shown = beforeAfter(picture, after).toString();
  expect(shown.match(/<figure>/g)).toHaveLength(2);
  for (const alt of [picture.alt, after.alt]) expect(shown).toContain(`alt="${alt}"`);
  expect(shown).toContain('data-divider="Divider between “before: tailgate” and “after: tailgate”"');
  expect(shown).not.toContain('type="range"');
});

test('one picture alone has nothing to divide', () => {
  expect(beforeAfter(null, after).toString()).not.toContain('data-divider');
});
