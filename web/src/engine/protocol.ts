/** A question to the engine: arguments of the command line, files it shall find, files it shall write. */
export interface Asked {
  id: number;
  base: string;
  compiled: WebAssembly.Module;
  args: string[];
  files: Record<string, Uint8Array | string>;
  wanted: string[];
}

/** Comes before the first question: what the worker needs besides the compiled module can be fetched while that is made. */
export interface Begin {
  begin: string; // the base
}

/** What came of it. Codes as the command line's: 0 done, 1 the input is at fault, 2 wrong usage, 3 our fault. */
export interface Answer {
  id: number;
  code: number;
  out: string;
  err: string;
  written: Record<string, string>;
  milliseconds: number;
}
