// SPDX-License-Identifier: Apache-2.0

/** Where in a file something is wrong, as far as it is known. */
export interface Place {
  file: string;
  line: number | null;
  column: number | null;
  byte: number | null;
}

/** What the server refused, in its own words. */
export class Refusal extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly place: Place | null = null,
  ) {
    super(message);
  }
}

export interface Finding {
  level: 'fault' | 'warning' | 'note';
  where: string;
  what: string;
  do: string;
  /** For drawings to point at: `hits` from 1, `notes` by index. */
  at?: { track?: number; hits?: number[]; notes?: number[] };
}

export type Fields = Record<string, unknown>;

export interface Asking {
  signal?: AbortSignal;
  /** Told what is being done while the answer is computed. */
  doing?: (what: string) => void;
}

interface Problem {
  error: string;
  place: Place | null;
}

async function refusal(response: Response): Promise<Refusal> {
  const problem = (await response.json().catch(() => null)) as Problem | null;
  return new Refusal(response.status, problem?.error ?? response.statusText, problem?.place);
}

async function fetched(path: string, how: RequestInit): Promise<Response> {
  let response: Response;
  try {
    response = await fetch(path, how);
  } catch (error) {
    if (how.signal?.aborted) throw error;
    throw new Refusal(0, 'the workbench does not answer; is `combwright workbench` still running?');
  }
  if (!response.ok) throw await refusal(response);
  return response;
}

/** The lines of a body as they come. */
async function* lines(body: ReadableStream<Uint8Array>): AsyncGenerator<string> {
  const reader = body.pipeThrough(new TextDecoderStream() as TransformStream<Uint8Array, string>);
  let rest = '';
  const chunks = reader.getReader();
  for (;;) {
    const { value, done } = await chunks.read();
    if (done) break;
    const parts = (rest + value).split('\n');
    rest = parts.pop() ?? '';
    yield* parts;
  }
  if (rest) yield rest;
}

async function streamed<T>(response: Response, doing: (what: string) => void): Promise<T> {
  for await (const line of lines(response.body!)) {
    const said = JSON.parse(line) as { doing?: string; answer?: T } & Partial<Problem>;
    if (said.doing !== undefined) doing(said.doing);
    else if (said.error !== undefined) throw new Refusal(400, said.error, said.place ?? null);
    else return said.answer as T;
  }
  throw new Refusal(0, 'the workbench broke off its answer');
}

async function whole<T>(response: Response, signal?: AbortSignal): Promise<T> {
  try {
    return (await response.json()) as T;
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new Refusal(0, 'the workbench broke off its answer');
  }
}

/**
 * The answer to a question of docs/workbench.md. Throws Refusal; an aborted question throws as
 * fetch does.
 */
export async function ask<T>(question: string, fields: Fields, asking: Asking = {}): Promise<T> {
  const response = await fetched(`/api/${question}`, {
    method: 'POST',
    headers: {
      'Content-Type': 'application/json',
      ...(asking.doing ? { Accept: 'application/x-ndjson' } : {}),
    },
    body: JSON.stringify(fields),
    signal: asking.signal,
  });
  const streams = response.headers.get('Content-Type')?.startsWith('application/x-ndjson');
  return streams && asking.doing
    ? streamed<T>(response, asking.doing)
    : whole<T>(response, asking.signal);
}

/** The same where the answer is bytes: sound, a drawing, a file. */
export async function askBytes(
  question: string,
  fields: Fields,
  signal?: AbortSignal,
): Promise<Blob> {
  const response = await fetched(`/api/${question}`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(fields),
    signal,
  });
  return response.blob();
}

/** What GET gives: `look<Desk>('desk')`. */
export async function look<T>(path: string, signal?: AbortSignal): Promise<T> {
  const response = await fetched(`/api/${path}`, { signal });
  return (await response.json()) as T;
}

/** A file of the folder and its version. */
export interface Sheet {
  text: string;
  version: string;
}

function bare(etag: string | null): string {
  return (etag ?? '').replaceAll('"', '');
}

export async function readSheet(name: string): Promise<Sheet> {
  const response = await fetched(`/api/files/${encodeURIComponent(name)}`, {});
  return { text: await response.text(), version: bare(response.headers.get('ETag')) };
}

/**
 * Writes a file if it still has the version known, or is not there and none is. Gives the new
 * version. Status 412 if another hand changed it.
 */
export async function writeFile(
  name: string,
  contents: string | Blob,
  known = '',
): Promise<string> {
  const response = await fetched(`/api/files/${encodeURIComponent(name)}`, {
    method: 'PUT',
    headers: known ? { 'If-Match': `"${known}"` } : {},
    body: contents,
  });
  return bare(response.headers.get('ETag'));
}
