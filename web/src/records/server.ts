// Asks the server of this page for its records; says in words what went wrong, and what is safe.
import { capital } from '../parts/words';
import type { Here } from './types';

/** What the server refused, or that it did not answer. */
export class Refusal extends Error {
  constructor(
    message: string,
    public status: number,
  ) {
    super(message);
  }
}

const GONE = 'The server does not answer. What it has acknowledged is safe; what you typed is still here: try again when it is back.';

/** What went wrong, as a sentence. */
export const sentence = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** The same of a look at the records: where the session has ended, the page asks to sign in again. */
export function sentenceOfLook(error: unknown): string {
  if (error instanceof Refusal && error.status === 401) window.dispatchEvent(new Event('glidewright-signed-out'));
  return sentence(error);
}

async function asked(path: string, init: RequestInit = {}): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(`./api/${path}`, init);
  } catch {
    throw new Refusal(GONE, 0);
  }
  if (answer.ok) return answer;
  const said: unknown = await answer.json().catch(() => ({}));
  const words = said !== null && typeof said === 'object' && 'error' in said ? String(said.error) : `The server answered ${answer.status}.`;
  throw new Refusal(capital(words) + (words.endsWith('.') ? '' : '.'), answer.status);
}

export async function get<T>(path: string): Promise<T> {
  return (await asked(path)).json() as Promise<T>;
}

/** `by`: who does it, where nobody signs in. */
export async function post<T = unknown>(path: string, body: unknown, by: string): Promise<T> {
  const where = `${path}${path.includes('?') ? '&' : '?'}by=${encodeURIComponent(by)}`;
  const bytes = body instanceof Blob;
  const answer = await asked(where, {
    method: 'POST',
    headers: { 'X-Glidewright': 'page', 'Content-Type': bytes ? 'application/octet-stream' : 'application/json' },
    body: bytes ? body : JSON.stringify(body ?? {}),
  });
  return answer.json() as Promise<T>;
}

/** From plain files, or a server without records: there are none. */
export async function here(): Promise<Here> {
  try {
    const found = await get<Here & { schema?: string }>('here');
    return found.schema === 'glidewright.server/1' ? found : { records: false };
  } catch (error) {
    if (error instanceof Refusal && error.status === 503) throw error;
    return { records: false };
  }
}
