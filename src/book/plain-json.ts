/** What plain JSON would leave out or make equal. */
const told = (_: string, value: unknown): unknown =>
  typeof value === 'number' && !Number.isFinite(value)
    ? `number ${value}`
    : value instanceof Map || value instanceof Set
      ? [value.constructor.name, ...value]
      : ArrayBuffer.isView(value)
        ? ['bytes', Buffer.from(value.buffer, value.byteOffset, value.byteLength).toString('hex')]
        : value;

type Replace = (key: string, value: unknown) => unknown;

/** JSON of plain data that differs wherever the data does; `first` may put other values in the place of some. */
export const plainJson = (data: unknown, first: Replace = (_, value) => value): string =>
  JSON.stringify(data, (key, value) => told(key, first(key, value)));
