import { fileField, textField } from '../../look/forms.ts';
import { type Html, html } from '../../look/html.ts';
import { type PageAssets, plainPage } from '../../look/layout.ts';
import { notice } from '../../look/notices.ts';

/** Choose an archive, and be told what holds and what does not. */
export function verifyView(assets: PageAssets & { readonly verify: string }): Html {
  return plainPage({
    title: 'Check an evidence pack',
    heading: 'Check an evidence pack',
    lead: 'Choose the archive that you were given. It is checked on this device, in this page; nothing of it is sent anywhere.',
    assets,
    scripts: [assets.verify],
    body: html`
      <noscript>${notice('problem', 'This page needs JavaScript', 'Without it, use the program that comes with the service: “evidence verify” and the name of the archive.')}</noscript>
      <div class="drop-place" data-verify>
        ${fileField({
          name: 'pack',
          label: 'Evidence pack',
          hint: 'A file that ends in “evidence.zip”. Choose it, or drop it here.',
          accept: '.zip,application/zip',
        })}
        ${textField({
          name: 'day',
          label: 'Digest of a sealed day, from a statement',
          hint: 'The value behind “Digest of” there, not the root. Compared with the pack, it shows that nothing sealed up to that day was changed since it was printed.',
          required: false,
          code: true,
          autocomplete: 'off',
        })}
        ${textField({
          name: 'key',
          label: 'The business’s key',
          hint: 'As they told you, or as an earlier document of theirs prints it.',
          required: false,
          code: true,
          autocomplete: 'off',
        })}
      </div>
      <p role="status" data-verify-state></p>
      <div class="report" data-verify-report></div>`,
  });
}
