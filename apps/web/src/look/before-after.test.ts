import { expect, test } from 'vitest';
import { pictureRow } from './before-after.ts';

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
