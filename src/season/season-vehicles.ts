import type { PoolVehicle } from './season.ts';
import type { Way } from './season-options.ts';
import type { VehicleKind } from './vehicle-packs.ts';

/**
 * Which vehicles each party gets: of a kind the first that nobody has that day. In the order of the ways; `null`: the
 * party comes in its own.
 */
export function vehiclesHandedOut(
  ways: readonly Way[],
  kinds: readonly VehicleKind[],
  vehicles: readonly PoolVehicle[],
): (readonly PoolVehicle[] | null)[] {
  const given = new Map<string, number>();
  return ways.map(({ pairing, pack }) => {
    if (pack === null) return null;
    return pack.flatMap((count, kind) => {
      const key = `${pairing.date} ${kind}`;
      const from = given.get(key) ?? 0;
      given.set(key, from + count);
      const which = kinds[kind]?.which.slice(from, from + count) ?? [];
      return which.flatMap((index) => vehicles[index] ?? []);
    });
  });
}
