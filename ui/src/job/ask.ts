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

/** What a connection that breaks in the middle of an answer comes to. */
async function unbroken<T>(work: () => Promise<T>, signal?: AbortSignal): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (signal?.aborted || error instanceof Refusal) throw error;
    throw new Refusal(0, 'the workbench broke off its answer');
  }
}

interface Said<T> extends Partial<Problem> {
  doing?: string;
  answer?: T;
  status?: number;
  type?: string;
  bytes?: number;
}

/** An answer in lines: told what is being done, it gives the answer, or the bytes that follow. */
async function streamed<T>(response: Response, doing: (what: string) => void): Promise<T | Blob> {
  const reader = response.body!.getReader();
  const decoder = new TextDecoder();
  let rest = new Uint8Array();
  for (;;) {
    const end = rest.indexOf(10);
    if (end < 0) {
      const { value, done } = await reader.read();
      if (done) throw new Error('no last line');
      const both = new Uint8Array(rest.length + value.length);
      both.set(rest);
      both.set(value, rest.length);
      rest = both;
      continue;
    }
    const said = JSON.parse(decoder.decode(rest.subarray(0, end))) as Said<T>;
    rest = rest.slice(end + 1);
    if (said.doing !== undefined) doing(said.doing);
    else if (said.error !== undefined)
      throw new Refusal(said.status ?? 400, said.error, said.place ?? null);
    else if (said.bytes !== undefined)
      return bytesOf(reader, rest, { count: said.bytes, type: said.type ?? '' });
    else return said.answer as T;
  }
}

async function bytesOf(
  reader: ReadableStreamDefaultReader<Uint8Array<ArrayBuffer>>,
  first: Uint8Array<ArrayBuffer>,
  { count, type }: { count: number; type: string },
): Promise<Blob> {
  const parts = [first];
  let size = first.length;
  while (size < count) {
    const { value, done } = await reader.read();
    if (done) throw new Error('fewer bytes than were told');
    parts.push(value);
    size += value.length;
  }
  return new Blob(parts, { type });
}

function post(question: string, fields: Fields, asking: Asking): Promise<Response> {
  return fetched(`/api/${question}`, {
    method: 'POST',
    headers: {
      'Content-Type': 'application/json',
      ...(asking.doing ? { Accept: 'application/x-ndjson' } : {}),
    },
    body: JSON.stringify(fields),
    signal: asking.signal,
  });
}

const inLines = (response: Response) =>
  response.headers.get('Content-Type')?.startsWith('application/x-ndjson') ?? false;

/**
 * The answer to a question of docs/workbench.md. Throws Refusal; an aborted question throws as
 * fetch does.
 */
export async function ask<T>(question: string, fields: Fields, asking: Asking = {}): Promise<T> {
  const response = await post(question, fields, asking);
  return unbroken(
    async () =>
      (inLines(response) ? await streamed<T>(response, asking.doing!) : await response.json()) as T,
    asking.signal,
  );
}

/**
 * The same where the answer is bytes: sound, a drawing, a file. Asked for in lines, so that the work
 * stops where nobody waits for it any more.
 */
export async function askBytes(
  question: string,
  fields: Fields,
  { signal, doing = () => {} }: Asking = {},
): Promise<Blob> {
  const response = await post(question, fields, { signal, doing });
  return unbroken(
    async () =>
      inLines(response) ? ((await streamed(response, doing)) as Blob) : await response.blob(),
    signal,
  );
}

/** What GET gives: `look<Desk>('desk')`. */
export async function look<T>(path: string, signal?: AbortSignal): Promise<T> {
  const response = await fetched(`/api/${path}`, { signal });
  return unbroken(async () => (await response.json()) as T, signal);
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
  return unbroken(async () => ({
    text: await response.text(),
    version: bare(response.headers.get('ETag')),
  }));
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
