import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Question } from '../src/engine/engine';
import type { Answer } from '../src/engine/protocol';
import { PlanAsking, type Asks, type Part } from '../src/plan/asking';

/** A worker that answers when it is told to, in the order asked. */
class Slow implements Asks {
  asked: Question[] = [];
  cancelled = 0;
  #waiting: ((answer: Answer) => void)[] = [];
  ask(question: Question): Promise<Answer> {
    this.asked.push(question);
    return new Promise((resolve) => this.#waiting.push(resolve));
  }
  cancel(): void {
    this.cancelled++;
    for (const resolve of this.#waiting.splice(0)) resolve(answerOf('', -1));
  }
  async answer(out: string, code = 0): Promise<void> {
    this.#waiting.shift()?.(answerOf(out, code));
    await vi.advanceTimersByTimeAsync(0);
  }
}
const answerOf = (out: string, code: number): Answer => ({ id: 0, code, out, err: '', written: {}, milliseconds: 0 });

let near: Slow, far: Slow, told: [Part, string][], asking: PlanAsking;
beforeEach(() => {
  vi.useFakeTimers();
  near = new Slow();
  far = new Slow();
  told = [];
  asking = new PlanAsking(near, () => far, (part, answer) => told.push([part, answer.out]));
});
afterEach(() => vi.useRealTimers());

const move = (wind: string) => asking.change({ args: ['--wind', wind], files: {} });
const windOf = (question: Question | undefined) => question?.args[question.args.indexOf('--wind') + 1];
const isWhole = (question: Question) => question.args.includes('--flights');

test('the picture comes first, then its odds, then the whole plan', async () => {
  move('270/10');
  await near.answer('picture');
  expect(near.asked[0]?.args).toContain('--no-odds');
  await vi.advanceTimersByTimeAsync(100);
  expect(far.asked).toHaveLength(1);
  expect(far.asked[0]?.args).toContain('--quick');
  expect(far.asked[0]?.args).not.toContain('--no-odds');
  await far.answer('odds');
  await vi.advanceTimersByTimeAsync(300);
  expect(far.asked.map(isWhole)).toEqual([false, true]);
  await far.answer('whole');
  expect(told).toEqual([['picture', 'picture'], ['odds', 'odds'], ['whole', 'whole']]);
});

test('of the moves made while a picture is drawn only the last is asked for', async () => {
  for (const wind of ['270/10', '270/11', '270/12', '270/13']) move(wind);
  await near.answer('10');
  await near.answer('13');
  expect(near.asked.map(windOf)).toEqual(['270/10', '270/13']);
  expect(told.map(([, out]) => out)).toEqual(['10', '13']);
});

test('odds and whole plans of conditions that were left are not shown', async () => {
  move('270/10');
  await near.answer('10');
  await vi.advanceTimersByTimeAsync(100);
  move('270/11');
  await far.answer('odds of 10');
  expect(told.map(([part]) => part)).toEqual(['picture']);
  expect(far.cancelled).toBe(0); // it would take as long to begin anew
});

test('a whole plan under way is given up when the hand moves again, and the new one is made', async () => {
  move('270/10');
  await near.answer('10');
  await vi.advanceTimersByTimeAsync(400);
  await far.answer('odds of 10');
  expect(far.asked.some(isWhole)).toBe(true);
  move('270/11');
  expect(far.cancelled).toBe(1);
  await near.answer('11');
  await vi.advanceTimersByTimeAsync(400);
  await far.answer('odds of 11');
  await far.answer('whole of 11');
  expect(told.at(-1)).toEqual(['whole', 'whole of 11']);
  expect(told.filter(([part]) => part === 'whole')).toHaveLength(1);
});

test('where the picture took as long as a rest, no few flights are flown before the many', async () => {
  move('270/10');
  await vi.advanceTimersByTimeAsync(800); // the engine starts
  await near.answer('picture');
  await vi.advanceTimersByTimeAsync(10);
  expect(far.asked.map(isWhole)).toEqual([true]);
});

test('what is refused has no odds, and conditions told again are not asked for again', async () => {
  move('150/25');
  await near.answer('refused', 1);
  move('150/25');
  await vi.advanceTimersByTimeAsync(200);
  expect(near.asked).toHaveLength(1);
  expect(far.asked).toHaveLength(0);
});
