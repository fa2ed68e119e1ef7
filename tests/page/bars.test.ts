import { expect, it } from 'vitest';
import { elementsOf, giveBars, takeBars } from '../../src/page/front/bars.js';

it('bars that an earlier run encoded are taken over, and only new ones are kept', () => {
  const made = elementsOf('9780306406157', null);
  const withAddOn = elementsOf('9780306406157', '12');
  expect(withAddOn.widths.length).toBeGreaterThan(made.widths.length);
  // Other files of tests share what is known.
  const kept = new Map(giveBars());
  expect([...kept.keys()]).toEqual(expect.arrayContaining(['9780306406157', '9780306406157 12']));
  takeBars(kept);
  expect(giveBars()).toBeNull();
  expect(elementsOf('9780306406157', null)).toBe(made);
  const told = { widths: [1, 2, 3], isLong: [true, false] };
  takeBars(new Map([...kept, ['9781861972712', told]]));
  expect(elementsOf('9781861972712', null)).toBe(told);
  expect(giveBars()).toBeNull();
  elementsOf('9780131103627', null);
  expect(giveBars()!.size).toBe(kept.size + 2);
});
