import { readSeasonFile, type SeasonFile } from '../../app/files.ts';
import type { Ground } from '../../app/measure.ts';
import { cohortRecordOf } from '../../app/recordings.ts';
import { seasonBoard, seasonCohort, seasonQuestion } from '../../app/season.ts';
import { solveBoard } from '../../app/solve-board.ts';
import { EngineError } from '../../errors.ts';
import type { Route } from '../../route/describe-route.ts';
import type { SeasonBoard, SeasonCohort } from '../../season/season.ts';
import { seasonView } from '../../views/season-view.ts';
import { progressOf } from '../progress.ts';
import { seasonText } from '../season-text.ts';
import { DEM, groundCommand, jsonText, needed, readRoutes } from '../terminal.ts';

export const seasonCommand = groundCommand<{ routes: string[] }, string>({
  name: 'season',
  description: 'a date and a route for each of many cohorts, within shared vehicles, permits and parking',
  argument: ['<file>', 'season file'],
  options: [needed('--routes <path...>', 'GPX or GeoJSON files, or folders'), DEM],
  formats: ['text', 'json'],
  async print(ground, { routes: paths, format, units }, path) {
    const file = await readSeasonFile(path);
    const routes = await readRoutes(paths, ground);
    const board = await boardOf(path, file, routes, ground);
    return format === 'json' ? jsonText(seasonView(board, ground.design, units)) : seasonText(board, units);
  },
});

/** The board of a season file; `path` is where it lies, for errors. */
async function boardOf(
  path: string,
  { season, readTrack }: SeasonFile,
  routes: readonly Route[],
  ground: Ground,
): Promise<SeasonBoard> {
  const cohorts: SeasonCohort[] = [];
  for (const { file, cohort, ...terms } of season.cohorts) {
    const record = await cohortRecordOf(cohort, (track) => readTrack(file, track), ground);
    cohorts.push(seasonCohort(record, null, terms));
  }
  try {
    const question = seasonQuestion(season, {
      routes: routes.map((route) => ({ route, id: null })),
      cohorts,
    });
    const progress = progressOf(cohorts.length * question.dates.length, 'ranking');
    try {
      return await seasonBoard(question, ground.design, { solve: solveBoard, step: progress.step });
    } finally {
      progress.stop();
    }
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(path) : error;
  }
}
