import type { Judgement } from '../rank/criterion.ts';
import type { Verdict } from '../rank/verdict.ts';

export const VERDICT_TEXT: Record<Verdict, string> = {
  fits: 'fits',
  stretch: 'stretch',
  notYet: 'not yet',
  incomplete: 'incomplete',
  ruledOut: 'ruled out',
};

const QUESTION: Record<string, string> = {
  distance: 'distance',
  gain: 'climb',
  effort: 'work of the day',
  rockClass: 'rock class',
  altitude: 'altitude',
  stormWindow: 'storms',
  daylight: 'daylight',
  drive: 'drive',
  roadAccess: 'road',
  partySize: 'party',
  season: 'season',
  aim: 'aim',
};

export const questionText = (name: string): string => QUESTION[name] ?? name;

/** The verdict as a word; what was not stated is to be checked, and the aim is no question of yes or no. */
export function shownVerdict({ name, verdict, toCheck }: Judgement): string {
  if (name === 'aim') return '—';
  return verdict === 'fits' && toCheck !== undefined ? 'to check' : VERDICT_TEXT[verdict];
}
