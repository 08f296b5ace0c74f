import type { RouteAttributes } from '../ingest/attributes.ts';
import { cleanName } from '../ingest/names.ts';
import { checkRouteAttributes } from '../ingest/route-attributes.ts';
import { mergePatch } from './merge-patch.ts';

/**
 * What is stated of a route after a merge patch.
 * @throws EngineError `bad-attribute`, `bad-text` or `name-too-long`, with the pointer.
 */
export function statedAfter(stored: RouteAttributes, patch: unknown): RouteAttributes {
  const patched = checkRouteAttributes(mergePatch(stored, patch), '');
  const cleaned = patched.name == null ? null : cleanName(patched.name, '/name');
  // A name of nothing but blanks states none; null stays null.
  return cleaned === null ? patched : { ...patched, name: cleaned === '' ? null : cleaned };
}
