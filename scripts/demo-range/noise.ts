const GRADIENTS: readonly (readonly [number, number])[] = [
  [1, 0],
  [Math.SQRT1_2, Math.SQRT1_2],
  [0, 1],
  [-Math.SQRT1_2, Math.SQRT1_2],
  [-1, 0],
  [-Math.SQRT1_2, -Math.SQRT1_2],
  [0, -1],
  [Math.SQRT1_2, -Math.SQRT1_2],
];

function hashCell(column: number, row: number, seed: number): number {
  let h = Math.imul(column, 0x27d4eb2d) ^ Math.imul(row, 0x165667b1) ^ Math.imul(seed, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

function corner(column: number, row: number, seed: number, dx: number, dy: number): number {
  const [gx, gy] = GRADIENTS[hashCell(column, row, seed) & 7] ?? [0, 0];
  return gx * dx + gy * dy;
}

const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

/** Gradient noise (Perlin 2002, from memory), about -0.7 to 0.7, one feature a unit of x and y. */
function gradientNoise(x: number, y: number, seed: number): number {
  const column = Math.floor(x);
  const row = Math.floor(y);
  const dx = x - column;
  const dy = y - row;
  const u = fade(dx);
  const north = corner(column, row, seed, dx, dy) * (1 - u) + corner(column + 1, row, seed, dx - 1, dy) * u;
  const south =
    corner(column, row + 1, seed, dx, dy - 1) * (1 - u) +
    corner(column + 1, row + 1, seed, dx - 1, dy - 1) * u;
  return north + (south - north) * fade(dy);
}

/** Fractal sum of `octaves` of gradient noise, each half as wide and `roughness` as high as the last. */
export function fractalNoise(x: number, y: number, seed: number, octaves: number, roughness = 0.5): number {
  let sum = 0;
  let height = 1;
  let scale = 1;
  for (let octave = 0; octave < octaves; octave++) {
    sum += height * gradientNoise(x * scale, y * scale, seed + octave);
    height *= roughness;
    scale *= 2;
  }
  return sum;
}

/** Fractal noise folded at zero, so that its high places are sharp: 0 to about 1. */
export function ridgedNoise(x: number, y: number, seed: number, octaves: number): number {
  let sum = 0;
  let height = 0.5;
  let scale = 1;
  for (let octave = 0; octave < octaves; octave++) {
    const folded = 1 - Math.abs(gradientNoise(x * scale, y * scale, seed + octave)) * 1.6;
    sum += height * folded * folded;
    height *= 0.5;
    scale *= 2;
  }
  return sum;
}
