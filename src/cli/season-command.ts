import type { SeasonFile } from '../app/files.ts';
import type { Ground } from '../app/measure.ts';
import { cohortRecordOf } from '../app/recordings.ts';
import { seasonBoard, seasonQuestion } from '../app/season.ts';
import { solveBoard } from '../app/solve-board.ts';
import { EngineError } from '../errors.ts';
import type { Route } from '../route/describe-route.ts';
import type { SeasonBoard, SeasonCohort } from '../season/season.ts';
import type { UnitSystem } from '../units.ts';
import { progressOf } from './progress.ts';

/** The board of a season file; `path` is where it lies, for errors. */
export async function boardOf(
  path: string,
  { season, readTrack }: SeasonFile,
  routes: readonly Route[],
  ground: Ground,
  units: UnitSystem,
): Promise<SeasonBoard> {
  const cohorts: SeasonCohort[] = [];
  for (const { file, cohort, notOn, ledBy, ownVehicles } of season.cohorts) {
    const record = await cohortRecordOf(cohort, (track) => readTrack(file, track), ground);
    cohorts.push({
      record,
      id: null,
      notOn: new Set(notOn ?? []),
      ledBy: ledBy ?? [],
      hasOwnVehicles: ownVehicles === true,
    });
  }
  try {
    const question = seasonQuestion(season, {
      routes: routes.map((route) => ({ route, id: null })),
      cohorts,
    });
    const progress = progressOf(cohorts.length * question.dates.length, 'ranking');
    try {
      return await seasonBoard(question, ground.design, units, { solve: solveBoard, step: progress.step });
    } finally {
      progress.stop();
    }
  } catch (error) {
    throw error instanceof EngineError ? error.inFile(path) : error;
  }
}
