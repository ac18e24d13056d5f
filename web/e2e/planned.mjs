// How the stories and the measurement know the whole plan from the quick one that follows the hand: by its flights.

/// As many as the page asks for (src/plan/asking.ts).
export const FLIGHTS = '24000';
export const planned = (page) => page.locator('.tools .note', { hasText: '2,000 flights' }).waitFor();
