import { readJson } from '../../app/files.ts';
import { rank, rankIf } from '../../app/shortlist.ts';
import { inFile } from '../../errors.ts';
import { whatIfSchema } from '../../ingest/what-if.ts';
import { moveText, type NamedMove } from '../../text/moved-words.ts';
import { plural } from '../../text/words.ts';
import { shortlistView } from '../../views/shortlist-view.ts';
import { shortlistText } from '../shortlist-text.ts';
import { item } from '../table.ts';
import {
  COHORT,
  DATE,
  DEM,
  groundCommand,
  jsonText,
  needed,
  option,
  readRecord,
  readRoutes,
} from '../terminal.ts';

/** Routes told one by one; the rest is counted (design). */
const MOST_TOLD = 30;

/** What moved against the shortlist as it is, for people. */
function movedText(moves: readonly NamedMove[]): string {
  if (moves.length === 0) return 'What moved: nothing.';
  const told = moves.slice(0, MOST_TOLD);
  const rest = moves.length - told.length;
  return [
    `What moved, against the shortlist without the changes (${plural(moves.length, 'route')}):`,
    ...told.map((move) => item(moveText(move))),
    ...(rest > 0 ? [`  and ${plural(rest, 'other route')}`] : []),
  ].join('\n');
}

interface RankOptions {
  readonly cohort: string;
  readonly routes: string[];
  readonly date: string;
  readonly whatIf?: string;
}

export const rankCommand = groundCommand<RankOptions>({
  name: 'rank',
  description: 'rank routes for a cohort on a date, with reasons',
  options: [
    COHORT,
    needed('--routes <path...>', 'GPX or GeoJSON files or folders'),
    DEM,
    DATE,
    option(
      '--what-if <file>',
      `JSON file with changes to try: ${Object.keys(whatIfSchema.properties).join(', ')}`,
    ),
  ],
  formats: ['table', 'json'],
  async print(ground, { cohort, routes: paths, date, units, format, whatIf }) {
    const record = await readRecord(cohort, ground);
    const routes = await readRoutes(paths, ground);
    const request = { record, date, design: ground.design };
    const { asked, ranked, moved } =
      whatIf === undefined
        ? { asked: request, ranked: rank(routes, request), moved: null }
        : await inFile(whatIf, async () => rankIf(routes, request, await readJson(whatIf)));
    if (format === 'json') {
      const view = shortlistView(asked, ranked, units);
      return jsonText(moved === null ? view : { ...view, moved });
    }
    const text = shortlistText(ranked, asked, units);
    return moved === null ? text : `${movedText(moved)}\n\n${text}`;
  },
});
