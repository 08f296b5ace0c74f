import { afterDay } from '../../app/after.ts';
import { besideFile, readCohortFile } from '../../app/files.ts';
import { cohortRecordOf } from '../../app/recordings.ts';
import { EngineError } from '../../errors.ts';
import { checkOuting } from '../../ingest/cohort-file.ts';
import { notesView } from '../../text/notes.ts';
import { plannedAgainstActualView, predictionRecordView, predictionRowView } from '../../views/after-view.ts';
import { afterText } from '../after-text.ts';
import { COHORT, DATE, DEM, groundCommand, jsonText, needed, option, readOneRoute } from '../terminal.ts';

interface AfterOptions {
  readonly cohort: string;
  readonly route: string;
  readonly date: string;
  readonly track: string;
  readonly members?: string;
  readonly turned?: string;
  readonly nearMiss?: string[];
}

export const afterCommand = groundCommand<AfterOptions>({
  name: 'after',
  description: 'after the day: its plan beside its recording, and what the group’s pace learns from it',
  options: [
    COHORT,
    needed('--route <file>', 'GPX or GeoJSON file that was planned'),
    DEM,
    DATE,
    needed('--track <file>', 'GPX recording of the day'),
    option('--members <labels>', 'labels of those who were there, split by commas (default: those going)'),
    option('--turned <text>', 'why the group turned back; no names'),
    option('--near-miss <text...>', 'what nearly went wrong; no names'),
  ],
  formats: ['text', 'json'],
  async print(ground, options) {
    const { cohort, readTrack } = await readCohortFile(options.cohort);
    const track = besideFile(options.cohort, options.track);
    const going = cohort.going?.length ? cohort.going : null;
    const line = checkOuting(
      {
        date: options.date,
        track,
        members: options.members?.split(',').map((label) => label.trim()) ?? going,
        turnedBecause: options.turned ?? null,
        nearMisses: options.nearMiss ?? [],
      },
      cohort.members ?? null,
    );
    const record = await cohortRecordOf(cohort, readTrack, ground);
    const route = await readOneRoute(options.route, ground);
    const file = { bytes: await readTrack(track), fileName: options.track };
    const day = await afterDay(
      { route, record, date: line.date, file, members: line.members ?? null, units: options.units },
      ground,
    ).catch((error) => {
      throw error instanceof EngineError && error.place.file === undefined
        ? error.inFile(options.track)
        : error;
    });
    const toAdd = { ...line, rockClass: day.outing.rockClass };
    if (options.format !== 'json') {
      return afterText(day, { cohort: cohort.name, route: route.name }, toAdd, options.units);
    }
    const { compared, outing, row, before, after, record: season, attribution } = day;
    return jsonText({
      cohort: { name: cohort.name },
      route: { name: route.name },
      planned: plannedAgainstActualView(compared),
      outing: { ...outing, notes: notesView(outing.notes) },
      prediction: row && predictionRowView(row),
      routeTimes: { before, after },
      record: predictionRecordView(season),
      attribution,
      toAdd,
    });
  },
});
