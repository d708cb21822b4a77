import { createHash } from 'node:crypto';
import { canonicalJson, type JsonValue, keyIdOf, publicKeyOf, signText } from '@grainwright/domain';
import { jsonIn, packedAgain, type Unpacked, unpacked } from './evidence-desk.ts';

/** Something that somebody did to a pack, and what has to be said of it. */
export interface Tampering {
  readonly what: string;
  readonly does: (pack: Uint8Array, insider: Uint8Array) => Uint8Array;
  readonly said: readonly string[];
}

const approval = 'seals/000001.json';
const acceptance = 'seals/000002.json';
const day = 'days/2026-08-05.json';
const [before, after] = ['photos/01-before.jpg', 'photos/03-after.jpg'];
/** Of somebody who is not the business. */
const strangersSeed = new Uint8Array(32).fill(9);

const bytesOf = (json: JsonValue) => new Uint8Array(Buffer.from(canonicalJson(json)));
const sha256 = (bytes: Uint8Array | string) => createHash('sha256').update(bytes).digest('hex');

/** Unpacks, changes and packs again. */
function changed(change: (files: Unpacked, insider: Uint8Array) => void): Tampering['does'] {
  return (pack, insider) => {
    const files = unpacked(pack);
    change(files, insider);
    return packedAgain(files);
  };
}

function flipped(files: Unpacked, name: string, fromEnd = 40): void {
  const bytes = new Uint8Array(fileIn(files, name));
  const at = bytes.length - fromEnd;
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  files[name] = bytes;
}

function fileIn(files: Unpacked, name: string): Uint8Array {
  const bytes = files[name];
  if (bytes === undefined) throw new Error(`there is no ${name}`);
  return bytes;
}

/** Changes what stands under a seal, or its text. */
function reworded(
  files: Unpacked,
  name: string,
  part: 'content' | 'text',
  from: string | RegExp,
  to: string,
): void {
  const record = jsonIn(files, name);
  const text = String(record[part]);
  const other = text.replace(from, to);
  if (other === text) throw new Error(`${name} has no ${String(from)}`);
  files[name] = bytesOf({ ...record, [part]: other });
}

/** The list of contents over the files as they are now, changed and signed again. */
function relisted(
  files: Unpacked,
  seed: Uint8Array,
  change: (manifest: ReturnType<typeof jsonIn>) => void = () => {},
): void {
  const manifest = jsonIn(files, 'manifest.json');
  change(manifest);
  manifest.key = keyIdOf(publicKeyOf(seed));
  manifest.files = Object.entries(files)
    .filter(([name]) => !name.startsWith('manifest.'))
    .map(([name, bytes]) => ({ name, bytes: bytes.length, sha256: sha256(bytes) }));
  const text = canonicalJson(manifest);
  files['manifest.json'] = new Uint8Array(Buffer.from(text));
  files['manifest.signature.json'] = bytesOf({
    key: manifest.key,
    signature: signText(text, seed).signature,
  });
}

function withStrangersKey(files: Unpacked): void {
  const { keys } = jsonIn(files, 'keys.json');
  const publicKey = publicKeyOf(strangersSeed);
  files['keys.json'] = bytesOf({
    keys: [...keys, { id: keyIdOf(publicKey), publicKey, madeAt: '2026-08-05T14:00:00Z' }],
  });
}

/** Everything signed again by somebody else, so that it holds together. */
export const forged = changed((files) => {
  const publicKey = publicKeyOf(strangersSeed);
  const keyId = keyIdOf(publicKey);
  const own = jsonIn(files, 'manifest.json').key;
  files['keys.json'] = bytesOf({ keys: [{ id: keyId, publicKey, madeAt: '2026-08-05T14:00:00Z' }] });
  const texts = new Map<string, string>();
  for (const name of [approval, acceptance]) {
    const record = jsonIn(files, name);
    const text = [own, ...texts.keys()].reduce(
      (made, each) => made.replaceAll(each, each === own ? keyId : (texts.get(each) ?? each)),
      String(record.text),
    );
    texts.set(sha256(String(record.text)), sha256(text));
    files[name] = bytesOf({ ...record, ...signText(text, strangersSeed) });
  }
  delete files[day];
  relisted(files, strangersSeed, (manifest) => {
    manifest.days = [];
    for (const seal of manifest.seals) seal.sha256 = texts.get(seal.sha256);
  });
});

export const tamperings: readonly Tampering[] = [
  {
    what: 'a picture’s pixel',
    does: changed((files) => flipped(files, before)),
    said: [`The picture “${before}” was changed`, 'at least one of its pixels or bytes was changed'],
  },
  {
    what: 'a price',
    does: changed((files) =>
      reworded(files, approval, 'content', '"totalMinor":"21199"', '"totalMinor":"91199"'),
    ),
    said: [
      'the record under it is not the one that was sealed',
      '“Total” reads “$911.99”; when the pack was signed it was “$211.99”',
    ],
  },
  {
    what: 'a price in the estimate that was answered',
    does: changed((files) =>
      reworded(files, approval, 'content', '\\"netMinor\\":\\"16575\\"', '\\"netMinor\\":\\"96575\\"'),
    ),
    said: ['the estimate that was answered was changed after it was frozen'],
  },
  {
    what: 'the signer’s name',
    does: changed((files) =>
      reworded(files, acceptance, 'content', '"name":"Orrin Vasek"', '"name":"Milo Fenwright"'),
    ),
    said: ['“Signer” reads “Milo Fenwright”; when the pack was signed it was “Orrin Vasek”'],
  },
  {
    what: 'the remark that somebody signed',
    does: changed((files) => reworded(files, acceptance, 'content', 'A faint edge in low sun.', '')),
    said: ['“Remark” reads “”; when the pack was signed it was “A faint edge in low sun.”'],
  },
  {
    what: 'a date',
    does: changed((files) =>
      reworded(files, acceptance, 'text', /"happenedAt":"2026-08-05/, '"happenedAt":"2026-08-01'),
    ),
    said: ['its text was changed after it was signed', '“Happened at” reads “2026-08-01'],
  },
  {
    what: 'the order of the seals',
    does: changed((files) => {
      const [first, second] = [fileIn(files, approval), fileIn(files, acceptance)];
      Object.assign(files, { [approval]: second, [acceptance]: first });
    }),
    said: ['seals changed places', 'the order of the seals was changed'],
  },
  {
    what: 'two pictures in each other’s place',
    does: changed((files) => {
      const [first, second] = [fileIn(files, before), fileIn(files, after)];
      Object.assign(files, { [before]: second, [after]: first });
    }),
    said: [`Files changed places: ${before}, ${after}`],
  },
  {
    what: 'a missing picture',
    does: changed((files) => void delete files[after]),
    said: [`“${after}” is missing`],
  },
  {
    what: 'a file that was added',
    does: changed((files) => {
      files['photos/04-after.jpg'] = fileIn(files, after);
    }),
    said: ['“photos/04-after.jpg” was added'],
  },
  {
    what: 'a seal’s signature',
    does: changed((files) => {
      const record = jsonIn(files, approval);
      files[approval] = bytesOf({ ...record, signature: otherSignature(record.signature) });
    }),
    said: ['Seal 1 (approval): its text was changed after it was signed, or its signature was'],
  },
  {
    what: 'the signature of the list',
    does: changed((files) => {
      const signed = jsonIn(files, 'manifest.signature.json');
      files['manifest.signature.json'] = bytesOf({
        ...signed,
        signature: otherSignature(signed.signature),
      });
    }),
    said: ['The list of contents was changed after it was signed, or its signature was'],
  },
  {
    what: 'no signature of the list at all',
    does: changed((files) => void delete files['manifest.signature.json']),
    said: ['nobody signed this list of contents'],
  },
  {
    what: 'a public key under the name of another',
    does: changed((files) => {
      const [key] = jsonIn(files, 'keys.json').keys;
      files['keys.json'] = bytesOf({ keys: [{ ...key, publicKey: publicKeyOf(strangersSeed) }] });
    }),
    said: ['was replaced: another key stands under its name', 'names a key that is not in the pack'],
  },
  {
    what: 'a list that somebody else signed',
    does: changed((files) => {
      flipped(files, after);
      withStrangersKey(files);
      relisted(files, strangersSeed);
    }),
    said: [
      'no seal of the business introduces it: somebody else signed',
      'at least one of its pixels or bytes was changed',
    ],
  },
  {
    what: 'a proof of inclusion',
    does: changed((files) => {
      const record = jsonIn(files, day);
      const [first, ...others] = record.proofs;
      files[day] = bytesOf({
        ...record,
        proofs: [{ ...first, proof: ['0'.repeat(64), ...first.proof.slice(1)] }, ...others],
      });
    }),
    said: ['its proof does not lead to the root of that day'],
  },
  {
    what: 'a day’s root',
    does: changed((files) =>
      reworded(files, day, 'text', /"root":"[0-9a-f]{64}"/, `"root":"${'a'.repeat(64)}"`),
    ),
    said: [
      'The sealed day 2026-08-05: its root or its text was changed',
      'does not lead to the root of that day',
    ],
  },
  {
    what: 'the words of the document',
    does: changed((files) => flipped(files, 'evidence.pdf', 2_000)),
    said: [
      'The document “evidence.pdf” is not the one that was signed: its words, prices or pictures were changed',
    ],
  },
  {
    what: 'an entry of the list',
    does: changed((files) => {
      flipped(files, before);
      const text = Buffer.from(fileIn(files, 'manifest.json')).toString();
      const [entry] = JSON.parse(text).files.filter(({ name }: { name: string }) => name === before);
      files['manifest.json'] = new Uint8Array(
        Buffer.from(text.replaceAll(entry.sha256, sha256(fileIn(files, before)))),
      );
    }),
    said: [
      'The list of contents was changed after it was signed',
      'is not the picture that Seal 1 (approval) was put on',
    ],
  },
  {
    what: 'a seal that was dropped',
    does: changed((files) => void delete files[acceptance]),
    said: ['Seal 2 (acceptance) is gone'],
  },
  {
    what: 'a seal that was dropped from the list as well',
    does: changed((files) => {
      delete files[acceptance];
      const manifest = jsonIn(files, 'manifest.json');
      manifest.seals.pop();
      manifest.files = manifest.files.filter(({ name }: { name: string }) => name !== acceptance);
      files['manifest.json'] = bytesOf(manifest);
    }),
    said: ['The list of contents was changed after it was signed'],
  },
  {
    what: 'a picture that the business itself exchanged',
    does: changed((files, insider) => {
      flipped(files, after);
      relisted(files, insider, (manifest) => {
        for (const each of manifest.media.filter(({ file }: { file: string }) => file === after))
          each.original = each.bare = sha256(fileIn(files, after));
      });
    }),
    said: [`“${after}” is not the picture that Seal 2 (acceptance) was put on: it was exchanged`],
  },
  {
    what: 'a picture that the business itself left out',
    does: changed((files, insider) => {
      delete files[before];
      relisted(files, insider, (manifest) => {
        manifest.media = manifest.media.filter(({ file }: { file: string }) => file !== before);
      });
    }),
    said: ['A picture (before) that Seal 1 (approval) was put on is not in the pack’s list'],
  },
  {
    what: 'a picture that the business itself calls otherwise',
    does: changed((files, insider) =>
      relisted(files, insider, (manifest) => {
        for (const each of manifest.media.filter(({ file }: { file: string }) => file === before))
          each.purpose = 'after';
      }),
    ),
    said: [`“${before}” is called after here; when Seal 1 (approval) was put it was before`],
  },
  {
    what: 'seals that the business itself puts into another pack',
    does: changed((files, insider) =>
      relisted(files, insider, (manifest) => {
        manifest.workOrder.id = manifest.tenant;
      }),
    ),
    said: ['Seal 1 (approval) is of another work order'],
  },
  {
    what: 'no list of contents',
    does: changed((files) => void delete files['manifest.json']),
    said: ['“manifest.json” is missing or can’t be read'],
  },
];

/** With another first byte, whatever that was. */
function otherSignature(signature: unknown): string {
  const text = String(signature);
  return `${text.startsWith('00') ? 'ff' : '00'}${text.slice(2)}`;
}
