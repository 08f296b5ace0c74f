import type { Context } from '../../app/context.ts';
import { addRoutes } from '../../app/routes.ts';
import { EngineError } from '../../errors.ts';
import { sentRoutes, type uploadedPairs } from '../../http/upload.ts';
import { decodeText } from '../../ingest/decode.ts';
import { pointerLine } from '../../ingest/json-text.ts';
import { noteClause } from '../../text/notes.ts';
import { statedChanges } from '../../text/stated-words.ts';
import type { UnitSystem } from '../../units.ts';
import { faultText } from '../fault.ts';
import { rowOfRoute } from './route-words.ts';
import type { FileResult } from './upload-results.tsx';

type Pair = Awaited<ReturnType<typeof uploadedPairs>>['pairs'][number];

const NOTHING = { routes: [], isNew: false, changes: [], sameLine: [], notes: [] };

/** A file that was refused before anything was made of it. */
export const refusedFile = (fileName: string, fault: string): FileResult => ({
  ...NOTHING,
  fileName,
  fault,
  waits: null,
});

/** What is wrong, at the file that it is wrong in, which may be the one beside the route. */
function faultOf(error: unknown, { route, beside }: Pair, units: UnitSystem): FileResult {
  const text = faultText(error, units);
  const { file, line, pointer } = error instanceof EngineError ? error.place : {};
  if (beside === null || file !== beside.fileName) return refusedFile(route.fileName, text);
  const at =
    line === undefined && pointer !== undefined ? pointerLine(decodeText(beside.bytes).text, pointer) : null;
  const fault = at === null ? text : `${text} (line ${at})`;
  return { ...refusedFile(beside.fileName, fault), waits: route.fileName };
}

/** Takes one file, all or nothing. */
export async function takenFile(pair: Pair, context: Context, units: UnitSystem): Promise<FileResult> {
  try {
    const { routes, created, changed, sameLine } = await addRoutes(context, [sentRoutes(pair)]);
    return {
      fileName: pair.route.fileName,
      routes: routes.map((stored) => ({
        id: stored.id,
        name: stored.route.name,
        lacking: rowOfRoute(stored, units).lacking,
      })),
      isNew: created > 0,
      fault: null,
      waits: null,
      changes: changed.flatMap(({ before, now }) => statedChanges(before, now, units)),
      sameLine,
      notes: [...new Set(routes.flatMap(({ route }) => route.notes.map((note) => noteClause(note, units))))],
    };
  } catch (error) {
    return faultOf(error, pair, units);
  }
}
