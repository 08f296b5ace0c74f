import type { WaterPoint } from '../day/day-plan.ts';
import type { AgeBand, Design } from '../design.ts';
import { type FoodNeed, foodNeed } from './food.ts';
import { type Pack, packOf, packReliefs, type Relief } from './pack.ts';
import { areMinors, type PlanParty } from './party.ts';
import { type Refill, refillOf } from './refill.ts';
import { type WaterNeed, waterNeed } from './water.ts';

/** Leaders not stated: the sums are without them; age not stated: the youngest's mass, the greater appetite. */
export interface SuppliesQuestion extends PlanParty {
  readonly dayMin: { readonly p10: number; readonly p50: number; readonly p90: number };
  /** Work of the day for one participant, kcal, without margin; `null`: not known. */
  readonly energyKcal: { readonly value: number } | null;
  readonly highM: number | null;
  /** `null`: forecast not known. */
  readonly warm: boolean | null;
  /** A hot country and season. */
  readonly hot: boolean;
  readonly waterPoints: readonly WaterPoint[];
  readonly snowOnGround: boolean | null;
}

interface PersonSupplies {
  readonly food: FoodNeed;
  readonly pack: Pack;
}

export interface Supplies extends Omit<SuppliesQuestion, 'dayMin' | 'energyKcal'> {
  readonly minors: boolean;
  /** Hours that everything is counted for: the late day (p90). */
  readonly hours: number;
  readonly water: WaterNeed;
  /** `null`: no stated water on the way at a known time. */
  readonly refill: Refill | null;
  readonly participant: PersonSupplies;
  /** An adult leader; `null`: nobody leads. */
  readonly leader: PersonSupplies | null;
  readonly partyFood: { readonly kcal: number; readonly kg: number };
  /** Ways to lighten a participant's pack; empty below the warning. */
  readonly reliefs: readonly Relief[];
}

const WATER_KG_PER_L = 1;

function count(people: number, what: string): number {
  if (!Number.isInteger(people) || people < 0) throw new RangeError(`${people} ${what} is no count`);
  return people;
}

/**
 * Water, food and packs of a day, for the late day (p90). The water to carry is the full amount from the start;
 * `refill` stands beside it where the coordinator stated water, and the packs are counted with the full amount. A
 * pack that is too heavy is a conflict with its ways out in numbers, never a reason to take less water.
 * @throws RangeError on counts of people or times below 0.
 */
export function supplies(question: SuppliesQuestion, design: Design): Supplies {
  const settings = design.supplies;
  const { dayMin, energyKcal, ...asked } = question;
  const { ageBand, waterPoints, warm, hot, highM } = asked;
  const participants = count(question.participants, 'participants');
  const leaders = question.leaders === null ? null : count(question.leaders, 'leaders');
  const minors = areMinors(question);
  const band = ageBand ?? '8-11';
  const hours = dayMin.p90 / 60;
  const people = participants + (leaders ?? 0);
  const water = waterNeed({ hours, people, warm, hot, highM }, settings);
  const refill = refillOf(waterPoints, dayMin, water.ratePerHL, settings);
  const bodyKg = design.massKg[band];
  const adultKg = design.massKg.adult;

  const person = (theirBand: AgeBand, massKg: number, kcalPerH: number, isMinor: boolean): PersonSupplies => {
    // LCDA is work for each kg of the person, so it grows with the mass (capability/energy.ts).
    const workKcal = energyKcal === null ? null : (energyKcal.value * massKg) / bodyKg;
    const food = foodNeed(hours, kcalPerH, workKcal, settings);
    const parts = {
      kitKg: settings.kitKg[theirBand],
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
    ...{ ...asked, minors, hours, water, refill, participant, leader },
    partyFood: { kcal: partyKcal, kg: partyKcal / settings.kcalPerKg },
    reliefs: packReliefs(
      {
        pack: participant.pack,
        minors,
        sharedKitKg: settings.sharedKitKg[band],
        refillSavesKg,
        participants,
        leaders: leaders === null || leader === null ? null : { count: leaders, pack: leader.pack },
      },
      settings.packShare,
    ),
  };
}
