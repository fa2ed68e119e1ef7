import { describe, expect, it } from 'vitest';
import { requireNamesSet } from '../../src/book/load-notes.js';
import type { Course } from '../../src/course/course.js';
import { openFonts } from '../../src/print/fonts.js';

const courseOf = (title: string, name: string, imprint = {}): Course =>
  ({
    file: 'links/course.yaml',
    title,
    setting: 'by the sea',
    imprint,
    holes: [{ id: '7', name }],
  }) as unknown as Course;

describe('names that no face can set', () => {
  const fonts = openFonts();
  it('are told with the file and the hole, before anything is computed', () => {
    expect(() => requireNamesSet(courseOf('Links', 'Long Ebb'), fonts)).not.toThrow();
    expect(() => requireNamesSet(courseOf('Links', 'Ebb 中'), fonts)).toThrow(
      /^links\/course\.yaml, hole 7: .*中/,
    );
    expect(() => requireNamesSet(courseOf('中', 'Ebb'), fonts)).toThrow(
      /^links\/course\.yaml, title: /,
    );
    const imprint = { buyer: null, contact: ['Here', '中'] };
    expect(() => requireNamesSet(courseOf('Links', 'Ebb', imprint), fonts)).toThrow(
      /^links\/course\.yaml, contact: /,
    );
  });
});
