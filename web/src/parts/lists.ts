// Lists that are never changed in place.

/** With some of the fields of one entry otherwise. */
export const withAt = <T>(list: T[], at: number, more: Partial<T>): T[] => list.map((one, i) => (i === at ? { ...one, ...more } : one));

/** Without one entry. */
export const without = <T>(list: T[], at: number): T[] => list.filter((_, i) => i !== at);
