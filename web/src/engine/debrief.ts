// What `glidewright debrief --json` prints (docs/schema/debrief.json), as far as the page itself needs it.

export interface Attempt {
  index: number;
  kind: string;
  outcome: string;
  touchdown: { along_ft: number; low95_ft: number; high95_ft: number } | null;
  grades: { standard: string; verdict: string; probability_met: number | null }[];
  findings: { weight: string; sentence: string }[];
  lesson: string;
}

export interface Debrief {
  schema: string;
  log: { format: string; fixes: number; quality: { grade: string; notes: string[] } };
  attempts: Attempt[];
  cautions: string[];
}
