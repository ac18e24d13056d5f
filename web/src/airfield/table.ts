// The open table runways.csv as the user dropped it, kept on this device: too large for what keeps the rest.

const STORE = 'files';
const NAME = 'runways.csv';
const MOST_BYTES = 60 * 1024 * 1024;

function store<T>(mode: IDBTransactionMode, ask: (files: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('glidewright', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const database = opening.result;
      const transaction = database.transaction(STORE, mode);
      const request = ask(transaction.objectStore(STORE));
      transaction.oncomplete = () => { database.close(); resolve(request.result); };
      transaction.onabort = () => { database.close(); reject(transaction.error); };
    };
  });
}

/** None where nothing was dropped yet, or the browser keeps nothing. */
export async function tableKept(): Promise<Uint8Array | undefined> {
  try {
    const kept: unknown = await store('readonly', (files) => files.get(NAME));
    return kept instanceof Uint8Array ? kept : undefined;
  } catch {
    return undefined;
  }
}

/** False where the browser does not keep it: it then serves until the page closes. */
export async function keepTable(bytes: Uint8Array): Promise<boolean> {
  if (bytes.length > MOST_BYTES) return false;
  try {
    await store('readwrite', (files) => files.put(bytes, NAME));
    return true;
  } catch {
    return false;
  }
}
