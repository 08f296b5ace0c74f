export type Clearance = 'any' | 'high' | 'fourWheel';

export interface Vehicle {
  readonly seats: number;
  readonly clearance: Clearance;
}

/** From the least to the most that a road needs. */
export const CLEARANCES: readonly Clearance[] = ['any', 'high', 'fourWheel'];

/** Whether a vehicle manages a road of this need. One of `fourWheel` manages every road. */
export const manages = (vehicle: Pick<Vehicle, 'clearance'>, need: Clearance): boolean =>
  CLEARANCES.indexOf(vehicle.clearance) >= CLEARANCES.indexOf(need);

/** How many of the vehicles manage a road of this need. */
export const managing = (need: Clearance, vehicles: readonly Vehicle[]): number =>
  vehicles.filter((vehicle) => manages(vehicle, need)).length;

/** One waits at the end of a walk that ends elsewhere, one is left at its start. */
export const VEHICLES_ONE_WAY = 2;

/** Seats of the vehicles that manage a road of this need. */
export function seatsFor(need: Clearance, vehicles: readonly Vehicle[]): number {
  return vehicles
    .filter((vehicle) => manages(vehicle, need))
    .reduce((seats, vehicle) => seats + vehicle.seats, 0);
}
