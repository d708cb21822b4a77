import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inclusionProof, leafHash, merkleRoot, nodeHash, provesInclusion } from './merkle-tree.ts';

const bytes = (hex: string) => new Uint8Array(Buffer.from(hex, 'hex'));
const text = (words: string) => new Uint8Array(Buffer.from(words, 'utf8'));

// transparency-dev/merkle@417fb0c, rfc6962/rfc6962_test.go (Apache-2.0).
test('the hashes of RFC 6962', () => {
  expect(merkleRoot([])).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
  expect(leafHash(text(''))).toBe('6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d');
  expect(leafHash(text('L123456'))).toBe('395aa064aa4c29f7010acfe3f25db9485bbd4b91897b6ad7ad547639252b4d56');
  // There the node's children are the plain words; ours are always hashes, so the reference is computed beside.
  const [left, right] = [leafHash(text('N123')), leafHash(text('N456'))];
  const reference = createHash('sha256')
    .update(Buffer.from(`01${left}${right}`, 'hex'))
    .digest('hex');
  expect(nodeHash(left, right)).toBe(reference);
});

// transparency-dev/merkle, testonly/constants.go (Apache-2.0): the leaves, and the root over the first n of them.
const leaves = [
  '',
  '00',
  '10',
  '2021',
  '3031',
  '40414243',
  '5051525354555657',
  '606162636465666768696a6b6c6d6e6f',
].map((hex) => leafHash(bytes(hex)));
const roots = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];

test('the roots over none to eight leaves', () => {
  expect(roots.map((_, size) => merkleRoot(leaves.slice(0, size)))).toEqual(roots);
});

test('each leaf is proved under each of these roots, and under no other', () => {
  for (let size = 1; size <= 8; size += 1)
    for (let index = 0; index < size; index += 1) {
      const proof = inclusionProof(leaves.slice(0, size), index);
      const claim = { leafHash: leaves[index] ?? '', index, size, proof };
      const proved = roots.filter((root) => provesInclusion({ ...claim, root }));
      expect(proved).toEqual([roots[size]]);
    }
});

test('a proof holds for its leaf, place and size alone, with no step changed, dropped or added', () => {
  const hashes = fc.array(fc.uint8Array({ maxLength: 8 }).map(leafHash), { minLength: 1, maxLength: 70 });
  fc.assert(
    fc.property(hashes, fc.nat(), fc.nat(), (all, at, step) => {
      const index = at % all.length;
      const proof = inclusionProof(all, index);
      const claim = { leafHash: all[index] ?? '', index, size: all.length, proof, root: merkleRoot(all) };
      expect(provesInclusion(claim)).toBe(true);
      expect(provesInclusion({ ...claim, leafHash: leafHash(text('another')) })).toBe(false);
      expect(provesInclusion({ ...claim, proof: [...proof, leafHash(text('x'))] })).toBe(false);
      expect(provesInclusion({ ...claim, index: all.length })).toBe(false);
      if (proof.length === 0) return;
      expect(provesInclusion({ ...claim, proof: proof.slice(1) })).toBe(false);
      const changed = proof.map((each, place) =>
        place === step % proof.length ? leafHash(text('changed')) : each,
      );
      expect(provesInclusion({ ...claim, proof: changed })).toBe(false);
    }),
  );
});
