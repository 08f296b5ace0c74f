import type { Design } from '../design.ts';

/** Why this rate: a cool low day, a warm one, a hot country and season, high ground, or weather or height not known. */
type WaterCase = 'cool' | 'warm' | 'hot' | 'high' | 'notKnown';

export interface Litres {
  readonly exactL: number;
  /** Rounded up to what bottles hold. */
  readonly packedL: number;
}

export interface WaterQuestion {
  /** Hours of the late day (p90), stops included: thirst does not stop at a rest. */
  readonly hours: number;
  readonly people: number;
  readonly warm: boolean | null;
  /** A hot country and season: it counts unless a day is forecast that is not warm. Missing: neither. */
  readonly hot?: boolean;
  /** `null`: not known. */
  readonly highM: number | null;
  /** What one of them drinks as a share of a grown-up; 1 where missing. */
  readonly share?: number;
}

export interface WaterNeed {
  readonly ratePerHL: number;
  /** The cap: nobody of this body drinks more in an hour. */
  readonly mostPerHL: number;
  readonly because: WaterCase;
  /** Drunk on the way by each, without the reserve, L. */
  readonly drinkEachL: number;
  /** To carry from the start: drink and reserve, never less than the minimum. */
  readonly each: Litres;
  readonly party: Litres;
  /** What people drink in that time, from the least to the most, L each. */
  readonly range: { readonly lowL: number; readonly highL: number };
  /** The number if the day turned out cool and low, or warm or high; empty where nothing would change it. */
  readonly alternatives: readonly {
    readonly when: 'cool' | 'warm';
    readonly ratePerHL: number;
    readonly each: Litres;
  }[];
}

/** Litres with what is packed: up to the next step. */
function litres(exactL: number, { waterStepL }: Pick<Design['supplies'], 'waterStepL'>): Litres {
  // A hair over a step is rounding, not thirst.
  return { exactL, packedL: Math.ceil(exactL / waterStepL - 1e-9) * waterStepL };
}

/** Litres to carry over so many hours to the next water: drink and reserve, never less than the minimum. */
export function carryOver(hours: number, ratePerHL: number, settings: Design['supplies']): Litres {
  return litres(Math.max(settings.leastWaterL, ratePerHL * hours + settings.reserveL), settings);
}

function caseOf({ warm, hot = false, highM }: WaterQuestion, limitM: number): WaterCase {
  if (hot && warm !== false) return 'hot';
  if (highM !== null && highM > limitM) return 'high';
  if (warm === true) return 'warm';
  return warm === null || highM === null ? 'notKnown' : 'cool';
}

/**
 * Water of a day, L. One number for a grown-up: 0.5 L an hour, 0.75 when warm or above 3,000 m, 1 in a hot country and
 * season (design, between the ½ and 1 quart an hour of US National Park Service advice; common practice is 1–2 L in
 * 3 h); `share` of it for a smaller body, never less than the low end. The cap of 1 L an hour, and its share, is there
 * because drinking more than is sweated is itself dangerous (ACSM 2007: Sawka et al., Med Sci Sports Exerc
 * 39(2):377-390; pages from memory).
 * @example waterNeed({ hours: 8, people: 11, warm: false, highM: 1900 }, DESIGN.supplies).drinkEachL // 4
 * @throws RangeError on hours or people below 0.
 */
export function waterNeed(question: WaterQuestion, settings: Design['supplies']): WaterNeed {
  const { hours, people } = question;
  if (!Number.isFinite(hours) || hours < 0) throw new RangeError(`a day of ${hours} h is not 0 or more`);
  if (!(people >= 0)) throw new RangeError(`a party of ${people} people is not 0 or more`);
  const { cool, warmOrHigh, hot, notKnown, least, most } = settings.waterLPerH;
  const because = caseOf(question, settings.highM);
  const rates = { cool, warm: warmOrHigh, hot, high: warmOrHigh, notKnown: Math.max(cool, notKnown) };
  const { share = 1 } = question;
  // A twentieth of a litre, rounded down.
  const mostPerHL = Math.floor(most * share * 20 + 1e-9) / 20;
  // A small body needs less, but never less than the low end of what people drink.
  const rateOf = (litresPerH: number) =>
    Math.min(mostPerHL, Math.max(Math.min(least, litresPerH), share * litresPerH));
  const ratePerHL = rateOf(rates[because]);
  const each = carryOver(hours, ratePerHL, settings);
  const turns: Record<WaterCase, readonly ('cool' | 'warm')[]> = {
    cool: ['warm'],
    warm: [],
    hot: ['warm'],
    high: [],
    notKnown: ['cool', 'warm'],
  };
  const alternatives = turns[because]
    .map((when) => ({ when, ratePerHL: rateOf(rates[when]) }))
    .filter((other) => other.ratePerHL !== ratePerHL)
    .map((other) => ({ ...other, each: carryOver(hours, other.ratePerHL, settings) }));
  return {
    ratePerHL,
    mostPerHL,
    because,
    drinkEachL: ratePerHL * hours,
    each,
    party: { exactL: people * each.exactL, packedL: people * each.packedL },
    range: { lowL: Math.min(least, ratePerHL) * hours, highL: Math.max(ratePerHL, mostPerHL) * hours },
    alternatives,
  };
}
