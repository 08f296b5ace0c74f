/** Energy models that the engine does not use; the tests hold its own one to their shape. */

/**
 * Minetti, Moia, Roi, Susta, Ferretti 2002, J Appl Physiol 93(3):1039-1046: cost of walking in J/(kg·m) of slope
 * distance from the signed gradient, −0.45 to 0.45.
 */
export function minettiJPerKgM(i: number): number {
  return 280.5 * i ** 5 - 58.7 * i ** 4 - 76.8 * i ** 3 + 51.9 * i ** 2 + 19.6 * i + 2.5;
}

/** Herzog's sixth-degree refit of the same measurements, which passes the measured level cost. */
export function herzogJPerKgM(i: number): number {
  return (
    1337.8 * i ** 6 +
    278.19 * i ** 5 -
    517.39 * i ** 4 -
    78.199 * i ** 3 +
    93.419 * i ** 2 +
    19.825 * i +
    1.64
  );
}

interface Walk {
  readonly bodyKg: number;
  readonly loadKg: number;
  readonly speedMS: number;
  /** Signed: downhill is negative. */
  readonly gradePercent: number;
}

/** Pandolf, Givoni, Goldman 1977 (J Appl Physiol 43:577-581, pages from memory), watts; terrain factor 1. */
export function pandolfW({ bodyKg: W, loadKg: L, speedMS: V, gradePercent: G }: Walk): number {
  return 1.5 * W + 2 * (W + L) * (L / W) ** 2 + (W + L) * (1.5 * V ** 2 + 0.35 * V * G);
}

/** Santee et al. 2001, downhill correction to subtract from Pandolf, watts; signed grade, not below −12 %. */
export function santeeW({ bodyKg: W, loadKg: L, speedMS: V, gradePercent: G }: Walk): number {
  return (G * (W + L) * V) / 3.5 - ((W + L) * (G + 6) ** 2) / W + (25 - V ** 2);
}
