// A number in a field: what is typed stays as it is typed, "54." on the way to "54.5"; a value from elsewhere (undo, another
// file) takes its place.

export function asTyped(typed: string, value: number | null | undefined, read: (text: string) => number | null, show: (value: number) => string = String): string {
  if (read(typed) === (value ?? null)) return typed;
  return value == null ? '' : show(value);
}
