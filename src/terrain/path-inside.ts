import { join } from 'node:path';
import { EngineError } from '../errors.ts';
import { quote } from '../ingest/quote.ts';
import { message } from '../message.ts';

/**
 * A path written in a catalogue of tiles (VRT, STAC), which may name only what lies in the catalogue's own folder.
 * @throws EngineError `dem-catalogue`: absolute paths, `..`, other addresses and GDAL's virtual file systems.
 */
export function pathInside(folder: string, written: string): string {
  const path = written.replace(/^\.\//, '');
  const isOutside =
    path === '' ||
    // biome-ignore lint/suspicious/noControlCharactersInRegex: a path with one of these is an attempt
    /^[\\/~]|^[A-Za-z][\w+.-]*:|[\\\u0000-\u001f]/.test(path) ||
    path.split('/').includes('..');
  if (isOutside)
    throw new EngineError(
      'dem-catalogue',
      message`it names the tile ${quote(written)}, which lies outside its own folder: put the tiles beside it and write their relative paths`,
    );
  return join(folder, path);
}
