import { type Clearance, manages, type Vehicle } from '../approach/vehicles.ts';
import { at } from '../array.ts';

/** Vehicles alike in seats and clearance: for a party it is one whichever of them it gets. */
export interface VehicleKind extends Vehicle {
  /** Places in the list that they were taken from. */
  readonly which: readonly number[];
}

/** How many vehicles of each kind a party takes, kind by kind. */
export type Pack = readonly number[];

export function kindsOf(vehicles: readonly Vehicle[]): VehicleKind[] {
  const kinds = new Map<string, Vehicle & { which: number[] }>();
  vehicles.forEach(({ seats, clearance }, index) => {
    const key = `${seats} ${clearance}`;
    const kind = kinds.get(key);
    if (kind === undefined) kinds.set(key, { seats, clearance, which: [index] });
    else kind.which.push(index);
  });
  return [...kinds.values()];
}

/**
 * Every set of vehicles that seats a party on a road of this need and has no vehicle too many. A set with one more
 * could only take from others, so none is missed that a best board needs.
 *
 * @param least vehicles that the way takes, whatever they seat
 * @param most the search ends there
 * @returns the sets; `null` where there are more than `most`
 */
export function packsFor(
  party: number,
  need: Clearance,
  least: number,
  kinds: readonly VehicleKind[],
  most: number,
): Pack[] | null {
  const packs: Pack[] = [];
  const counts = kinds.map(() => 0);
  // From the largest seats down: the last vehicle added is the smallest, so it is the one that may be too many.
  const order = kinds
    .map((kind, at) => ({ ...kind, at }))
    .filter((kind) => manages(kind, need))
    .sort((a, b) => b.seats - a.seats);
  const seatsFrom = order.map((_, i) =>
    order.slice(i).reduce((sum, { seats, which }) => sum + seats * which.length, 0),
  );
  const search = (i: number, missing: number, stillToCome: number): boolean => {
    if (missing <= 0 && stillToCome <= 0) {
      packs.push([...counts]);
      return packs.length <= most;
    }
    const kind = order[i];
    if (kind === undefined || at(seatsFrom, i) < missing) return true;
    const usable = Math.min(kind.which.length, Math.max(stillToCome, Math.ceil(missing / kind.seats)));
    for (let count = usable; count >= 0; count -= 1) {
      counts[kind.at] = count;
      if (!search(i + 1, missing - count * kind.seats, stillToCome - count)) return false;
    }
    return true;
  };
  return search(0, party, least) ? packs : null;
}
