import type { WaterPoint } from '../day/day-plan.ts';
import type { AgeBand, Design } from '../design.ts';
import { areMinors, type PlanParty } from '../rank/party.ts';
import { type FoodNeed, foodNeed } from './food.ts';
import { type Pack, packOf, packReliefs, type Relief } from './pack.ts';
import { type Refill, refillOf } from './refill.ts';
import { type Litres, type WaterNeed, waterNeed } from './water.ts';

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
  /** Of one participant; the party's sum is of all. */
  readonly water: WaterNeed;
  /** Of one leader; `null`: nobody leads. */
  readonly leaderWater: WaterNeed | null;
  /** What a participant carries of it at a time. */
  readonly load: WaterLoad;
  /** `null`: no stated water on the way at a known time. */
  readonly refill: Refill | null;
  readonly participant: PersonSupplies;
  /** An adult leader; `null`: nobody leads. */
  readonly leader: PersonSupplies | null;
  readonly partyFood: { readonly kcal: number; readonly kg: number };
  /** Ways to lighten a participant's pack; empty below the warning. */
  readonly reliefs: readonly Relief[];
}

/**
 * How a participant's water is carried. `full`: all from the start. `stated`: filled up at the stated points, as all of
 * it would make the pack of a minor too heavy. `planned`: the same, and the places are still to be found. `tooHeavy`:
 * no filling up makes the pack light enough.
 */
interface WaterLoad {
  readonly kind: 'full' | 'stated' | 'planned' | 'tooHeavy';
  readonly startL: number;
  /** The most at any time. */
  readonly mostL: number;
  /** Times that bottles are filled on the way. */
  readonly fills: number;
}

const WATER_KG_PER_L = 1;

/**
 * Mass of a person without the day pack that `massKg` holds: kit and the least water.
 */
const bodyOf = (band: AgeBand, { massKg, supplies: { kitKg, leastWaterL } }: Design): number =>
  Math.max(massKg[band] / 2, massKg[band] - kitKg[band] - leastWaterL * WATER_KG_PER_L);

/** What someone of an age drinks as a share of a grown-up. Age not stated: all of it. */
const drinkShare = (ageBand: AgeBand | null, design: Design): number =>
  ageBand === null || ageBand === 'adult'
    ? 1
    : Math.min(1, (bodyOf(ageBand, design) / bodyOf('adult', design)) ** design.supplies.waterByMass);

/** Shares are printed in whole per cent: below it by so much, it is printed below it too. */
const HALF_PERCENT = 0.005;

/** How the water is carried so that a minor's pack stays under the share that is too much. */
function waterLoad(
  packWith: (waterL: number) => Pack,
  fullL: number,
  refill: Refill | null,
  { packShare, waterStepL, leastCarriedL }: Design['supplies'],
): WaterLoad {
  const isTooMuch = (waterL: number) => packWith(waterL).level === 'conflict';
  const full = { startL: fullL, mostL: fullL, fills: 0 };
  if (!isTooMuch(fullL)) return { kind: 'full', ...full };
  const { kitKg, foodKg, bodyKg } = packWith(0);
  const roomL = ((packShare.minorConflict - HALF_PERCENT) * bodyKg - kitKg - foodKg) / WATER_KG_PER_L;
  // Strictly below the share that is too much.
  const mostL = (Math.ceil(roomL / waterStepL) - 1) * waterStepL;
  if (refill !== null && !isTooMuch(refill.greatest.packedL)) {
    const { carries, atStart, greatest } = refill;
    return {
      kind: 'stated',
      startL: atStart.packedL,
      mostL: greatest.packedL,
      fills: carries.length - 1,
    };
  }
  if (mostL < leastCarriedL) return { kind: 'tooHeavy', ...full };
  return { kind: 'planned', startL: mostL, mostL, fills: Math.ceil(fullL / mostL) - 1 };
}

const sumOf = (one: Litres, other: Litres | null): Litres => ({
  exactL: one.exactL + (other?.exactL ?? 0),
  packedL: one.packedL + (other?.packedL ?? 0),
});

function count(people: number, what: string): number {
  if (!Number.isInteger(people) || people < 0) throw new RangeError(`${people} ${what} is no count`);
  return people;
}

/**
 * Water, food and packs of a day, for the late day (p90). The water to carry is the full amount from the start;
 * `refill` stands beside it where the coordinator stated water. The packs are counted with the full amount, but where
 * that is too much for a minor, water is filled up on the way (`load`): never a reason to drink less.
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
  const needOf = (share: number, people: number) =>
    waterNeed({ hours, people, warm, hot, highM, share }, settings);
  const need = needOf(drinkShare(ageBand, design), participants);
  const leaderWater = leaders === 0 ? null : needOf(1, leaders ?? 0);
  const water = { ...need, party: sumOf(need.party, leaderWater?.party ?? null) };
  const refill = refillOf(waterPoints, dayMin, water.ratePerHL, settings);

  const person = (theirBand: AgeBand, kcalPerH: number, isMinor: boolean, waterL: number): PersonSupplies => {
    // LCDA is work for each kg of the person with the pack, so it grows with the mass (capability/energy.ts).
    const workKcal =
      energyKcal === null ? null : (energyKcal.value * design.massKg[theirBand]) / design.massKg[band];
    const food = foodNeed(hours, kcalPerH, workKcal, settings);
    const parts = {
      kitKg: settings.kitKg[theirBand],
      waterKg: waterL * WATER_KG_PER_L,
      foodKg: food.carryKg,
    };
    return { food, pack: packOf(parts, bodyOf(theirBand, design), isMinor, settings.packShare) };
  };

  const { kcalPerHMinor, kcalPerHAdult } = settings;
  const kcalPerH =
    ageBand === null ? Math.max(kcalPerHMinor, kcalPerHAdult) : minors ? kcalPerHMinor : kcalPerHAdult;
  const personWith = (waterL: number) => person(band, kcalPerH, minors, waterL);
  const load = waterLoad((waterL) => personWith(waterL).pack, water.each.packedL, refill, settings);
  const participant = personWith(load.mostL);
  const leader =
    leaderWater === null ? null : person('adult', kcalPerHAdult, false, leaderWater.each.packedL);
  const partyKcal =
    participants * participant.food.carryKcal + (leaders ?? 0) * (leader?.food.carryKcal ?? 0);
  const refillSavesKg =
    refill === null ? 0 : Math.max(0, load.mostL - refill.greatest.packedL) * WATER_KG_PER_L;
  return {
    ...{ ...asked, minors, hours, water, leaderWater, load, refill, participant, leader },
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
