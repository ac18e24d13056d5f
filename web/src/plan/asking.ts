// What a plan is asked for, and when: the picture with every move of the hand, the odds when it pauses, the whole plan when
// it rests.

import type { Question } from '../engine/engine';
import type { Answer } from '../engine/protocol';

export interface Asks {
  ask(question: Question): Promise<Answer>;
  cancel(): void;
}
/** Cue, path and band; the same with odds from a few flights; and what the command line would say. */
export type Part = 'picture' | 'odds' | 'whole';
export type AskedPlan = Required<Pick<Question, 'args' | 'files'>>;

const PAUSES_MS = 60;
const RESTS_MS = 300;
// A tenth of what the program flies: the page has one thread and narrower vectors, and is to answer in a second.
const FLIGHTS = '24000';
const CARD = '/card.html';

/**
 * Pictures come from a worker that never does anything longer, odds and whole plans from another: whoever moves a slider
 * again waits for none of them. What is told of conditions that no longer hold is left out, pictures apart, which follow
 * the hand as they come.
 */
export class PlanAsking {
  #last = '';
  #next: AskedPlan | undefined;
  #drawing = false;
  #number = 0; // of the conditions that hold
  #changedAt = 0;
  #whole = false; // is being reckoned
  #timers: ReturnType<typeof setTimeout>[] = [];

  constructor(
    private near: Asks,
    private far: () => Asks,
    private tell: (part: Part, answer: Answer) => void,
  ) {}

  change(plan: AskedPlan): void {
    const same = JSON.stringify(plan);
    if (same === this.#last) return;
    this.#last = same;
    this.#number++;
    this.#changedAt = performance.now();
    this.#next = plan;
    this.stop();
    if (!this.#drawing) void this.#draw();
  }

  /** Nothing more is asked until something changes. */
  stop(): void {
    for (const timer of this.#timers) clearTimeout(timer);
    this.#timers = [];
    if (!this.#whole) return;
    this.#whole = false;
    this.far().cancel();
  }

  async #draw(): Promise<void> {
    this.#drawing = true;
    while (this.#next) {
      const plan: AskedPlan = this.#next;
      const number = this.#number;
      this.#next = undefined;
      const answer = await this.near.ask({ args: ['brief', ...plan.args, '--json', '--quick', '--no-odds'], files: plan.files });
      if (answer.code === -1) continue;
      this.tell('picture', answer);
      if (number === this.#number) this.#goOn(plan, answer.code === 0);
    }
    this.#drawing = false;
  }

  /** Odds and the whole plan of a picture that is drawn. */
  #goOn(plan: AskedPlan, offered: boolean): void {
    const since = performance.now() - this.#changedAt;
    if (offered && since < RESTS_MS) this.#timers.push(setTimeout(() => void this.#odds(plan), PAUSES_MS - since));
    this.#timers.push(setTimeout(() => void this.#wholePlan(plan), RESTS_MS - since));
  }
  #odds(plan: AskedPlan): Promise<void> {
    return this.#fromFar('odds', { args: ['brief', ...plan.args, '--json', '--quick'], files: plan.files });
  }
  async #wholePlan(plan: AskedPlan): Promise<void> {
    this.#whole = true;
    const number = this.#number;
    await this.#fromFar('whole', { args: ['brief', ...plan.args, '--json', '--flights', FLIGHTS, '--card', CARD], files: plan.files, wanted: [CARD] });
    if (number === this.#number) this.#whole = false;
  }
  async #fromFar(part: Part, question: Question): Promise<void> {
    const number = this.#number;
    const answer = await this.far().ask(question);
    if (number === this.#number && answer.code !== -1) this.tell(part, answer);
  }
}
