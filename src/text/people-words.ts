import type { CohortInput } from '../ingest/cohort-file.ts';
import { plural } from './words.ts';

/** Who goes, in a line: `9 participants, 2 leaders, age band 12-14, comfort class 2`. */
export function peopleText(cohort: Omit<CohortInput, 'outings'>): string {
  return [
    plural(cohort.participants, 'participant'),
    cohort.leaders == null ? 'leaders not stated' : plural(cohort.leaders, 'leader'),
    cohort.ageBand == null ? 'age band not stated' : `age band ${cohort.ageBand}`,
    cohort.comfortClass == null ? 'comfort class not stated' : `comfort class ${cohort.comfortClass}`,
  ].join(', ');
}
