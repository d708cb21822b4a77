import { problems } from '@grainwright/domain';
import { expect, test } from 'vitest';

test('docs/errors.md names every problem as the code has it; `npm test -- tests/errors-page -u` writes it anew', async () => {
  const rows = Object.entries(problems).map(
    ([code, { status, title }]) => `| \`${code}\` | ${status} | ${title} |`,
  );
  const page = `# Problems

The API answers problems as RFC 9457 problem details (\`application/problem+json\`): \`type\` is \`/problems/\` and the code, \`title\` and \`status\` stand in this table, \`detail\` says what to do, \`field\` names the input it belongs to, and \`errors\` lists several. Pages show the same sentence beside the field.

| code | status | title |
|---|---|---|
${rows.join('\n')}
| \`internal\` | 500 | Something went wrong on our side |
`;
  await expect(page).toMatchFileSnapshot('../docs/errors.md');
});
