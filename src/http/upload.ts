import type { FastifyRequest } from 'fastify';
import type { SentRoutes } from '../app/routes.ts';
import { EngineError } from '../errors.ts';
import { decodeText } from '../ingest/decode.ts';
import { INGEST_LIMITS } from '../ingest/limits.ts';
import { readRouteAttributes } from '../ingest/route-attributes.ts';
import { message } from '../message.ts';

/** Of a form. The files’ sizes are counted together below. */
export const FORM_LIMITS = {
  files: 100,
  parts: 200,
  fieldSize: 16 * 1024,
  headerPairs: 50,
  fileSize: INGEST_LIMITS.bodyBytes,
};
/** Boundaries and headers of the parts. */
const FORM_OVERHEAD_BYTES = 256 * 1024;
/** Time for the answer to reach a client that is still sending. */
const LINGER_MS = 1000;
const ATTRIBUTES_ENDING = /\.route\.json$/i;

interface Part {
  /** The client's name without folders; pairs the files and names routes, never a path. */
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

const tooLarge = (): EngineError =>
  new EngineError('body-too-large', 'the files together are over 10 MiB: send them in several requests', {
    limit: INGEST_LIMITS.bodyBytes,
  });

async function partsOf(request: FastifyRequest, takesFields: boolean) {
  const parts: Part[] = [];
  const fields = new URLSearchParams();
  let total = 0;
  for await (const part of request.parts()) {
    if (part.type === 'field') {
      const reason = 'a part of the form is not a file: send files with their file names';
      if (!takesFields) throw new EngineError('bad-request', reason);
      fields.append(part.fieldname, String(part.value));
      continue;
    }
    const chunks: Buffer[] = [];
    for await (const chunk of part.file as AsyncIterable<Buffer>) {
      total += chunk.length;
      if (total > INGEST_LIMITS.bodyBytes) throw tooLarge();
      chunks.push(chunk);
    }
    if (part.file.truncated) throw tooLarge();
    const fileName = (part.filename ?? '').slice(-4096).split(/[/\\]/).at(-1) ?? '';
    parts.push({ fileName, bytes: Buffer.concat(chunks) });
  }
  return { parts, fields };
}

/** Refuses a form that goes on beyond the limit, whatever its parts look like to the parser. Never resolves. */
function overflow(request: FastifyRequest): Promise<never> {
  return new Promise((_, reject) => {
    let total = 0;
    request.raw.on('data', (chunk: Buffer) => {
      total += chunk.length;
      if (total <= INGEST_LIMITS.bodyBytes + FORM_OVERHEAD_BYTES) return;
      reject(tooLarge());
      // Nobody reads an endless answer's question to its end.
      setTimeout(() => request.raw.destroy(), LINGER_MS).unref();
    });
  });
}

/** `peak.route.json` and `peak.gpx` belong together. */
const stem = (fileName: string): string => fileName.replace(/(\.route\.json|\.[A-Za-z0-9]{1,8})$/i, '');

export interface Pair {
  readonly route: Part;
  readonly attributesFile: Part | null;
}

const TWICE = 'two files of attributes have the same name: give each route its own';
const ALONE =
  'a file of attributes has no route of the same name beside it: NAME.route.json belongs to NAME.gpx';

function paired(parts: readonly Part[]) {
  const isBeside = ({ fileName }: Part) => ATTRIBUTES_ENDING.test(fileName);
  const faults: EngineError[] = [];
  const attributes = new Map<string, Part>();
  for (const part of parts.filter(isBeside)) {
    const file = part.fileName;
    if (attributes.has(stem(file))) faults.push(new EngineError('bad-request', TWICE, { file }));
    attributes.set(stem(file), part);
  }
  const pairs = parts
    .filter((part) => !isBeside(part))
    .map((route) => {
      const attributesFile = attributes.get(stem(route.fileName)) ?? null;
      attributes.delete(stem(route.fileName));
      return { route, attributesFile };
    });
  const alone = [...attributes.values()].map(
    ({ fileName: file }) => new EngineError('bad-attribute', ALONE, { file }),
  );
  return { pairs, faults: [...faults, ...alone] };
}

/** @throws EngineError where the attributes cannot be read. */
export function sentRoutes({ route, attributesFile }: Pair): SentRoutes {
  return {
    ...route,
    attributes:
      attributesFile === null
        ? null
        : readRouteAttributes(decodeText(attributesFile.bytes).text, attributesFile.fileName),
  };
}

/**
 * The parts of a multipart form.
 * @throws EngineError `bad-request` on a broken form, `body-too-large`.
 */
export async function uploadedForm(request: FastifyRequest, takesFields: boolean) {
  try {
    return await Promise.race([partsOf(request, takesFields), overflow(request)]);
  } catch (error) {
    // What is still to come is read and dropped, so that the client gets to read the answer.
    request.raw.unpipe();
    request.raw.resume();
    if (error instanceof EngineError) throw error;
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (/_LIMIT$/.test(code)) {
      const limit = FORM_LIMITS.files;
      const reason = message`the form has too many parts: send at most ${limit} files at once`;
      throw new EngineError('body-too-large', reason, { limit });
    }
    request.log.info({ err: error }, 'multipart form refused');
    throw new EngineError('bad-request', 'the multipart form is broken or ends too early: send it again');
  }
}

/** The route files of a multipart form, each to be taken or refused by itself; `faults`: attributes that belong to none. */
export const uploadedPairs = async (request: FastifyRequest) =>
  paired((await uploadedForm(request, false)).parts);

export type Pairs = Awaited<ReturnType<typeof uploadedPairs>>;

/**
 * The route files of a multipart form, each with its attributes.
 * @throws EngineError as `uploadedForm`, `empty-body`, `bad-attribute`.
 */
export async function uploadedFiles(request: FastifyRequest): Promise<SentRoutes[]> {
  const { pairs, faults } = await uploadedPairs(request);
  const files = pairs.map(sentRoutes);
  const [fault] = faults;
  if (fault !== undefined) throw fault;
  if (files.length === 0) throw new EngineError('empty-body', 'the form holds no route file: add one');
  return files;
}
