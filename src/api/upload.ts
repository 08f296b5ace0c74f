import type { FastifyRequest } from 'fastify';
import { EngineError } from '../errors.ts';
import { decodeText } from '../ingest/decode.ts';
import { INGEST_LIMITS } from '../ingest/limits.ts';
import { readRouteAttributes } from '../ingest/route-attributes.ts';
import type { SentRoutes } from '../library.ts';

/** Of a form. The files’ sizes are counted together below. */
export const FORM_LIMITS = {
  files: 100,
  parts: 200,
  fieldSize: 1024,
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

function tooLarge(): EngineError {
  const limit = INGEST_LIMITS.bodyBytes;
  return new EngineError(
    'body-too-large',
    'the files together are over 10 MiB: send them in several requests',
    { limit },
  );
}

async function partsOf(request: FastifyRequest): Promise<Part[]> {
  const parts: Part[] = [];
  let total = 0;
  for await (const part of request.parts()) {
    if (part.type === 'field') {
      throw new EngineError(
        'bad-request',
        'a part of the form is not a file: send files with their file names',
      );
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
  return parts;
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

function paired(parts: readonly Part[]): SentRoutes[] {
  const attributes = new Map<string, Part>();
  for (const part of parts) {
    if (!ATTRIBUTES_ENDING.test(part.fileName)) continue;
    if (attributes.has(stem(part.fileName))) {
      throw new EngineError(
        'bad-request',
        'two files of attributes have the same name: give each route its own',
        {
          file: part.fileName,
        },
      );
    }
    attributes.set(stem(part.fileName), part);
  }
  const routes = parts
    .filter(({ fileName }) => !ATTRIBUTES_ENDING.test(fileName))
    .map(({ fileName, bytes }): SentRoutes => {
      const beside = attributes.get(stem(fileName));
      attributes.delete(stem(fileName));
      return {
        bytes,
        fileName,
        attributes:
          beside === undefined ? null : readRouteAttributes(decodeText(beside.bytes).text, beside.fileName),
      };
    });
  const [alone] = attributes.values();
  if (alone !== undefined) {
    throw new EngineError(
      'bad-attribute',
      'a file of attributes has no route of the same name beside it: NAME.route.json belongs to NAME.gpx',
      { file: alone.fileName },
    );
  }
  return routes;
}

/**
 * The route files of a multipart form, each with its attributes.
 * @throws EngineError `bad-request` on a broken form, `body-too-large`, `empty-body`, `bad-attribute`.
 */
export async function uploadedFiles(request: FastifyRequest): Promise<SentRoutes[]> {
  let parts: Part[];
  try {
    parts = await Promise.race([partsOf(request), overflow(request)]);
  } catch (error) {
    // What is still to come is read and dropped, so that the client gets to read the answer.
    request.raw.unpipe();
    request.raw.resume();
    if (error instanceof EngineError) throw error;
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (/_LIMIT$/.test(code)) {
      throw new EngineError(
        'body-too-large',
        `the form has too many parts: send at most ${FORM_LIMITS.files} files at once`,
        {
          limit: FORM_LIMITS.files,
        },
      );
    }
    request.log.info({ err: error }, 'multipart form refused');
    throw new EngineError('bad-request', 'the multipart form is broken or ends too early: send it again');
  }
  const files = paired(parts);
  if (files.length === 0) throw new EngineError('empty-body', 'the form holds no route file: add one');
  return files;
}
