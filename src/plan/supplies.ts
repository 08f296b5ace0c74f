import type { AgeBand, Design } from '../design.ts';
import { type FoodNeed, foodNeed } from './food.ts';
import { type Pack, packOf, packReliefs, type Relief } from './pack.ts';
import { type Refill, refillOf, type WaterPoint } from './refill.ts';
import { type WaterNeed, waterNeed } from './water.ts';

export interface SuppliesQuestion {
  /** `null`: not stated; the mass of the youngest and the greater appetite count. */
  readonly ageBand: AgeBand | null;
  readonly participants: number;
  /** `null`: not stated; the sums are then without them. */
  readonly leaders: number | null;
  readonly dayMin: { readonly p10: number; readonly p50: number; readonly p90: number };
  /** Work of the day for one participant, kcal, without margin; `null`: not known. */
  readonly energyKcal: { readonly value: number } | null;
  readonly highM: number | null;
  /** `null`: forecast not known. */
  readonly warm: boolean | null;
  readonly waterPoints: readonly WaterPoint[];
  readonly snowOnGround: boolean | null;
}

/** What one kind of person eats and carries. */
interface PersonSupplies {
  readonly food: FoodNeed;
  readonly pack: Pack;
}

export interface Supplies {
  readonly participants: number;
  readonly leaders: number | null;
  readonly minors: boolean;
  readonly ageBand: AgeBand | null;
  /** Hours that everything is counted for: the late day (p90). */
  readonly hours: number;
  readonly highM: number | null;
  readonly warm: boolean | null;
  readonly water: WaterNeed;
  /** `null`: no stated water on the way at a known time. */
  readonly refill: Refill | null;
  readonly waterPoints: readonly WaterPoint[];
  readonly snowOnGround: boolean | null;
  readonly participant: PersonSupplies;
  /** An adult leader; `null`: nobody leads. */
  readonly leader: PersonSupplies | null;
  /** Food of the whole party to carry. */
  readonly partyFood: { readonly kcal: number; readonly kg: number };
  /** Ways to lighten a participant's pack; empty below the warning. */
  readonly reliefs: readonly Relief[];
}

const WATER_KG_PER_L = 1;

function count(people: number, what: string): number {
  if (!Number.isInteger(people) || people < 0) throw new RangeError(`${people} ${what} is no count`);
  return people;
}

function perBand(table: Record<string, number>, ageBand: AgeBand): number {
  const value = table[ageBand];
  if (value === undefined) throw new RangeError(`no figure for age band ${ageBand}`);
  return value;
}

/**
 * Water, food and packs of a day, for the late day (p90). The water to carry is the full amount from the start;
 * `refill` stands beside it where the coordinator stated water, and the packs are counted with the full amount. A
 * pack that is too heavy is a conflict with its ways out in numbers, never a reason to take less water.
 * @throws RangeError on counts of people or times below 0.
 */
export function supplies(question: SuppliesQuestion, design: Design): Supplies {
  const settings = design.supplies;
  const { ageBand, dayMin, waterPoints } = question;
  const participants = count(question.participants, 'participants');
  const leaders = question.leaders === null ? null : count(question.leaders, 'leaders');
  const minors = ageBand !== 'adult';
  const band = ageBand ?? '8-11';
  const hours = dayMin.p90 / 60;
  const people = participants + (leaders ?? 0);
  const water = waterNeed({ hours, people, warm: question.warm, highM: question.highM }, settings);
  const refill = refillOf(waterPoints, dayMin, water.ratePerHL, settings);
  const bodyKg = perBand(design.massKg, band);
  const adultKg = perBand(design.massKg, 'adult');

  const person = (theirBand: AgeBand, massKg: number, kcalPerH: number, isMinor: boolean): PersonSupplies => {
    // LCDA is work for each kg of the person, so it grows with the mass (capability/energy.ts).
    const workKcal = question.energyKcal === null ? null : (question.energyKcal.value * massKg) / bodyKg;
    const food = foodNeed({ hours, kcalPerH, workKcal }, settings);
    const parts = {
      kitKg: perBand(settings.kitKg, theirBand),
      waterKg: water.each.packedL * WATER_KG_PER_L,
      foodKg: food.carryKg,
    };
    return { food, pack: packOf(parts, massKg, isMinor, settings.packShare) };
  };

  const { kcalPerHMinor, kcalPerHAdult } = settings;
  const kcalPerH =
    ageBand === null ? Math.max(kcalPerHMinor, kcalPerHAdult) : minors ? kcalPerHMinor : kcalPerHAdult;
  const participant = person(band, bodyKg, kcalPerH, minors);
  const leader = leaders === 0 ? null : person('adult', adultKg, kcalPerHAdult, false);
  const partyKcal =
    participants * participant.food.carryKcal + (leaders ?? 0) * (leader?.food.carryKcal ?? 0);
  const refillSavesKg =
    refill === null ? 0 : Math.max(0, water.each.packedL - refill.greatest.packedL) * WATER_KG_PER_L;
  return {
    participants,
    leaders,
    minors,
    ageBand,
    hours,
    highM: question.highM,
    warm: question.warm,
    water,
    refill,
    waterPoints,
    snowOnGround: question.snowOnGround,
    participant,
    leader,
    partyFood: { kcal: partyKcal, kg: partyKcal / settings.kcalPerKg },
    reliefs: packReliefs(
      {
        pack: participant.pack,
        minors,
        sharedKitKg: perBand(settings.sharedKitKg, band),
        refillSavesKg,
        participants,
        leaders: leaders === null || leader === null ? null : { count: leaders, pack: leader.pack },
      },
      settings.packShare,
    ),
  };
}
