/** x times x. `**`, `Math.hypot` and the like are left out of the demo: engines may round them differently. */
export const square = (x: number): number => x * x;
