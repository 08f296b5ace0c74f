import type { KitQuestion } from '../../src/plan/kit.ts';

/** The kit's question of a day on the invented island. */
export const KIT_QUESTION: KitQuestion = {
  party: { participants: 9, leaders: 2, ageBand: '12-14' },
  rockClass: '2',
  surface: 'rough',
  dayMin: { p10: 400, p50: 460, p90: 540 },
  headlampMin: { p50: 40, p90: 85 },
  highM: 1980,
  trailheadM: 700,
  aboveTreelineMin: 130,
  steep30to50: true,
  date: '2026-07-15',
  lowM: 700,
  latDeg: 46.1,
};
