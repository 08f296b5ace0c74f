/**
 * Puts into the READMEs what the commands of their examples print now, and the table of error codes:
 * `npm run make:readme`; `-- --smoke` writes nothing and ends with 1 where a README is not up to date.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { run } from '../src/cli/commands.ts';
import { ERROR_STATUS } from '../src/errors.ts';
import { isSmoke } from './bench/size.ts';

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

const isFirst = (line: string): boolean => line.startsWith(' 1  ');

/** The shortlist's title and counts, and its first entry. */
function firstRoute(text: string): string {
  const lines = text.split('\n');
  const first = lines.findIndex(isFirst);
  const end = lines.findIndex((line, i) => i > first && !line.startsWith('      '));
  return [...lines.slice(0, 3), LEFT_OUT, ...lines.slice(first, end), LEFT_OUT].join('\n');
}

/** What a trip plan says in short. */
function inShort(text: string): string {
  const lines = text.split('\n');
  return [...lines.slice(0, lines.indexOf('The day')), LEFT_OUT].join('\n').replace(/\n\n…/, `\n${LEFT_OUT}`);
}

/** The READMEs with examples, and what is shown of each command; `null`: all of it. */
const EXAMPLES: Record<string, Record<string, ((text: string) => string) | null>> = {
  'README.md': { rank: firstRoute, plan: inShort },
  'src/cli/README.md': { measure: null, shown: null, season: null },
};

const EXAMPLE = /^```\n(npm run --silent krummholz -- (\w+)[^`]*)```\n\n```\n[^`]*```$/gm;

async function withOutput(readme: string, parts: Record<string, ((text: string) => string) | null>) {
  let made = readme;
  for (const [whole, command = '', name = ''] of readme.matchAll(EXAMPLE)) {
    const part = parts[name];
    if (part === undefined) throw new RangeError(`no part for ${name}`);
    const text = await printed(command);
    const output = part === null ? text : part(text);
    made = made.replace(whole, () => ['```', `${command}\`\`\``, '', '```', output, '```'].join('\n'));
  }
  return made;
}

/** The table of error codes, as it stands between its marks in the service's README. */
function withErrorCodes(readme: string): string {
  const rows = Object.entries(ERROR_STATUS).map(([code, status]) => `| \`${code}\` | ${status} |`);
  const table = ['| Code | HTTP |', '|---|---|', ...rows].join('\n');
  return readme.replace(
    /(<!-- error codes -->\n)[\s\S]*(<!-- \/error codes -->)/,
    (_, start: string, end: string) => `${start}${table}\n${end}`,
  );
}

/** Every README that is made in part, as it is and as it should be. */
export async function madeReadmes(): Promise<readonly { file: string; now: string; made: string }[]> {
  const readmes = [];
  for (const [file, parts] of Object.entries(EXAMPLES)) {
    const now = readFileSync(file, 'utf8');
    readmes.push({ file, now, made: await withOutput(now, parts) });
  }
  const file = 'src/http/README.md';
  const now = readFileSync(file, 'utf8');
  return [...readmes, { file, now, made: withErrorCodes(now) }];
}

if (process.argv[1]?.endsWith('make-readme.ts') === true) {
  for (const { file, now, made } of await madeReadmes()) {
    if (now === made) continue;
    process.stdout.write(`${file}\n`);
    if (isSmoke) process.exitCode = 1;
    else writeFileSync(file, made);
  }
}
