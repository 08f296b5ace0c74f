import { EngineError } from '../../src/errors.ts';
import { openGeotiffTile } from '../../src/terrain/geotiff-tile.ts';
import { blockCounts, type Tile } from '../../src/terrain/tile.ts';

/** All of a tile, or why it is refused. */
export type WholeTile =
  | { readonly tile: Tile; readonly heightsM: Float64Array; readonly badBlocks: number }
  | { readonly code: string; readonly message: string };

/** More than any file here has: a header that claims more is not read whole. */
const MOST_POSTINGS = 4_000_000;

/**
 * Every posting of a GeoTIFF, row by row, NaN where void or in a block that cannot be read; `heightsM` is empty where the
 * header claims a grid that is not worth reading whole.
 * @throws whatever is no refusal
 */
export async function readWhole(path: string): Promise<WholeTile> {
  let tile: Tile;
  try {
    tile = await openGeotiffTile(path);
  } catch (error) {
    if (error instanceof EngineError) return { code: error.code, message: error.message };
    throw error;
  }
  if (tile.width * tile.height > MOST_POSTINGS) return { tile, heightsM: new Float64Array(0), badBlocks: 0 };
  const heightsM = new Float64Array(tile.width * tile.height).fill(Number.NaN);
  const { across, down } = blockCounts(tile);
  let badBlocks = 0;
  for (let blockY = 0; blockY < down; blockY += 1) {
    for (let blockX = 0; blockX < across; blockX += 1) {
      const block = await tile.readBlock(blockX, blockY).catch(() => null);
      if (block === null) {
        badBlocks += 1;
        continue;
      }
      const columns = Math.min(tile.blockWidth, tile.width - blockX * tile.blockWidth);
      const rows = Math.min(tile.blockHeight, tile.height - blockY * tile.blockHeight);
      for (let row = 0; row < rows; row += 1)
        heightsM.set(
          block.subarray(row * tile.blockWidth, row * tile.blockWidth + columns),
          (blockY * tile.blockHeight + row) * tile.width + blockX * tile.blockWidth,
        );
    }
  }
  return { tile, heightsM, badBlocks };
}
