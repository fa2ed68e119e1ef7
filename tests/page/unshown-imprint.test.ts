import { describe, expect, it } from 'vitest';
import type { Imprint } from '../../src/course/course.js';
import { unshownOfImprint } from '../../src/page/front/unshown-imprint.js';
import { ownLayout } from '../print/sample-pages.js';

const NOTHING = {
  ...{ edition: null, buyer: null, publisher: null, copyright: null, contact: [], surveyed: null },
  ...{ price: null, isbn: null, addOn: null, made: null, logo: null, about: null },
} as const satisfies Imprint;

describe('what of an imprint a layout has no place for', () => {
  const sold = { ...NOTHING, publisher: 'Us', logo: { file: 'us.svg', width: 24 } };

  it('is told of a layout without imprint page and picture', () => {
    expect(unshownOfImprint(ownLayout('a6'), sold)).toEqual([
      expect.stringMatching(/^layout a6 has no imprint page: who sells .* are not printed; add/),
      expect.stringMatching(/^layout a6 has no place for the picture us\.svg/),
    ]);
    expect(unshownOfImprint(ownLayout('a6'), { ...NOTHING, edition: '2' })).toEqual([]);
  });

  it('is nothing where both have a place, be it on a cover of its own', () => {
    for (const name of ['pocket', 'pocket-wire', 'pocket-glued']) {
      expect(unshownOfImprint(ownLayout(name), sold), name).toEqual([]);
    }
  });
});
