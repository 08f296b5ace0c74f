import type { OutputFile } from './make-routes.ts';

/** A season of the Corvanney Outdoor School: one vehicle too few for four groups on two Saturdays. */
const SEASON = {
  name: 'Corvanney, July Saturdays',
  dates: ['2026-07-11', '2026-07-18'],
  vehicles: [
    { name: 'school bus', seats: 12, clearance: 'any' },
    { name: 'quay truck', seats: 9, clearance: 'high' },
  ],
  cohorts: [
    { file: 'cohorts/cranny-juniors.json', ledBy: ['l1', 'l2'] },
    { file: 'cohorts/marram-seniors.json', ledBy: ['l2', 'l3'] },
    { file: 'cohorts/plover-adults.json', notOn: ['2026-07-11'] },
    {
      cohort: {
        name: 'Sandbar Walkers',
        participants: 10,
        leaders: 2,
        ageBand: 'adult',
        home: { lat: 46.16, lon: -30.34, name: 'Cranny Harbour green' },
        driveLimit: { km: 40, minutes: null },
        comfortClass: '1',
        sleepElevationM: 60,
        altitudeHistory: 'none',
        earliestStart: '06:00',
        headlamps: true,
        outings: [
          {
            date: '2026-06-27',
            distanceM: 9800,
            gainM: 600,
            movingMin: 250,
            maxElevationM: 620,
            rockClass: '1',
          },
        ],
      },
    },
  ],
  limits: [{ trailhead: 'Upper Sheepfold', partiesPerDay: 1 }],
};

/** The season file, beside the folders that it names. */
export function seasonFile(): OutputFile {
  return { path: 'season.json', content: `${JSON.stringify(SEASON, null, 2)}\n` };
}
