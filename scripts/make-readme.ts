/** Puts into the README what the commands of its worked example print now: `npm run make:readme`. */
import { readFileSync, writeFileSync } from 'node:fs';
import { run } from '../src/cli/commands.ts';

const LEFT_OUT = '…';

async function printed(command: string): Promise<string> {
  const [, argv = ''] = command.replaceAll('\\\n', ' ').split(' -- ');
  let text = '';
  const status = await run(argv.trim().split(/\s+/), {
    out: (line) => {
      text += `${line}\n`;
    },
    err: (line) => process.stderr.write(line),
    serve: async () => {},
  });
  if (status !== 0) throw new RangeError(`exit status ${status}: ${command}`);
  return text.trimEnd();
}

/** The head of a shortlist, its first entry, and its first entry that is not yet. */
function shortlistPart(text: string): string {
  const lines = text.split('\n');
  const entryFrom = (start: number): string[] => {
    const end = lines.findIndex((line, i) => i > start && !line.startsWith('      '));
    return lines.slice(start, end);
  };
  const first = lines.findIndex((line) => line.startsWith(' 1  '));
  const notYet = lines.findIndex((line) => /^ ?\d+ .* not yet /.test(line));
  return [...lines.slice(0, first), ...entryFrom(first), LEFT_OUT, ...entryFrom(notYet)].join('\n');
}

/** The head of the leaders' sheet: in short, the day, storms. */
function planPart(text: string): string {
  const lines = text.split('\n');
  return [...lines.slice(0, lines.indexOf('Light')), LEFT_OUT].join('\n').replace(/\n\n…/, `\n${LEFT_OUT}`);
}

const PART: Record<string, (text: string) => string> = {
  measure: (text) => text,
  rank: shortlistPart,
  plan: planPart,
  shown: (text) => text,
  season: (text) => text,
};

const readme = readFileSync('README.md', 'utf8');
const example = /^```\n(npm run --silent krummholz -- (\w+)[^`]*)```\n\n```\n[^`]*```$/gm;
let made = readme;
for (const [whole, command = '', name = ''] of readme.matchAll(example)) {
  const part = PART[name];
  if (part === undefined) throw new RangeError(`no part for ${name}`);
  const output = part(await printed(command));
  made = made.replace(whole, () => ['```', `${command}\`\`\``, '', '```', output, '```'].join('\n'));
}
writeFileSync('README.md', made);
process.stdout.write('README.md\n');
