import { inflateSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { packedStream } from '../../src/print/deflated.js';

it('holds of a packed content no more than its bytes', () => {
  const { packed } = packedStream('0 0 m 1 1 l S\n'.repeat(40));
  expect(inflateSync(packed).toString()).toContain('1 1 l S');
  // A view of a longer buffer would hold all of it as long as the stream is remembered.
  expect(packed.buffer.byteLength).toBe(packed.length);
});
