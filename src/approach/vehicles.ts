export type Clearance = 'any' | 'high' | 'fourWheel';

export interface Vehicle {
  readonly seats: number;
  readonly clearance: Clearance;
}

/** From the least to the most that a road needs. */
export const CLEARANCES: readonly Clearance[] = ['any', 'high', 'fourWheel'];

/** Seats of the vehicles that manage a road of this need. A vehicle of `fourWheel` manages every road. */
export function seatsFor(need: Clearance, vehicles: readonly Vehicle[]): number {
  return vehicles
    .filter((vehicle) => CLEARANCES.indexOf(vehicle.clearance) >= CLEARANCES.indexOf(need))
    .reduce((seats, vehicle) => seats + vehicle.seats, 0);
}
