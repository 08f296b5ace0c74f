import type { CriterionName } from '../../rank/criteria/index.ts';
import type { Judgement } from '../../rank/judgement.ts';
import type { UnitSystem } from '../../units.ts';
import { VERDICT_TEXT } from '../verdict-words.ts';
import { aim } from './aim.ts';
import { altitude } from './altitude.ts';
import { daylight } from './daylight.ts';
import { distance } from './distance.ts';
import { drive } from './drive.ts';
import { effort } from './effort.ts';
import { gain } from './gain.ts';
import { heat } from './heat.ts';
import { hours } from './hours.ts';
import { leaders } from './leaders.ts';
import { partySize } from './party-size.ts';
import { roadAccess } from './road-access.ts';
import { rockClass } from './rock-class.ts';
import { season } from './season.ts';
import { stormWindow } from './storm-window.ts';
import type { CriterionWords, JudgementWords } from './words-of.ts';

const WORDS: { readonly [Name in CriterionName]: CriterionWords<Name> } = {
  distance,
  gain,
  effort,
  rockClass,
  altitude,
  stormWindow,
  daylight,
  drive,
  roadAccess,
  partySize,
  leaders,
  season,
  heat,
  hours,
  aim,
};

/** A criterion in a word or two. */
export const questionText = (name: CriterionName): string => WORDS[name].question;

/** A judgement in words. */
export function judgementWords(judgement: Judgement, units: UnitSystem): JudgementWords {
  // Each criterion's words are asked for its own judgements, which the compiler cannot follow through the table.
  const { words } = WORDS[judgement.name] as CriterionWords<CriterionName>;
  return words(judgement, units);
}

export const reasonText = (judgement: Judgement, units: UnitSystem): string =>
  judgementWords(judgement, units).reason;

/** The verdict as a word; what was not stated is to be checked, and the aim is no question of yes or no. */
export function shownVerdict(judgement: Judgement): string {
  const { name, verdict } = judgement;
  if (name === 'aim') return '—';
  return verdict === 'fits' && isToCheck(judgement) ? 'to check' : VERDICT_TEXT[verdict];
}

/** Whether something is to be asked before the trip, although it does not hold up the verdict. */
export const isToCheck = (judgement: Judgement): boolean =>
  (judgementWords(judgement, 'metric').toCheck ?? null) !== null;
