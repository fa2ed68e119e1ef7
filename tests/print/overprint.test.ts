import { describe, expect, it } from 'vitest';
import { fillPath, rectSteps, stroke, text } from '../../src/page/kit/draw.js';
import { DARK, type Mark, PAPER, TINT } from '../../src/page/marks/marks.js';
import { drawnContent } from '../../src/print/content.js';
import { startFontBook } from '../../src/print/font-embedding.js';
import { openFonts } from '../../src/print/fonts.js';
import type { ColourModel } from '../../src/print/inks.js';
import { ownLayout } from './sample-pages.js';

/**
 * Which marks print over what lies below: solid dark alone. Paper that is drawn over dark must knock it out,
 * or it does not show on the press (ISO 32000-1, 8.6.7).
 */

const fonts = openFonts();
const { inks } = ownLayout('pocket');
const box = rectSteps(10, 10, 5, 5);

/** Whether each mark that is painted prints over what lies below. */
const over = (marks: readonly Mark[], model: ColourModel = 'spot'): boolean[] => {
  const content = drawnContent(marks, {
    fonts,
    book: startFontBook(fonts),
    inks,
    model,
    height: 100,
  });
  let state = false;
  const saved: boolean[] = [];
  const painted: boolean[] = [];
  for (const line of content.split('\n')) {
    if (line === 'q') saved.push(state);
    if (line === 'Q') state = saved.pop()!;
    if (line === '/Overprint gs') state = true;
    if (line === '/Knockout gs') state = false;
    if (/^(?:S|f\*?|B\*?)$/.test(line) || line.startsWith('BT')) painted.push(state);
  }
  return painted;
};

describe('overprint', () => {
  it('is for solid dark alone', () => {
    expect(over([fillPath(box, DARK)])).toEqual([true]);
    expect(over([fillPath(box, { ink: 'dark', tone: 0.5 })])).toEqual([false]);
    expect(over([fillPath(box, TINT)])).toEqual([false]);
    expect(over([fillPath(box, PAPER)])).toEqual([false]);
    expect(over([fillPath(box, DARK), fillPath(box, PAPER), fillPath(box, DARK)])).toEqual([
      true,
      false,
      true,
    ]);
  });

  it('is off where a fill or its edge is not solid dark', () => {
    expect(over([fillPath(box, DARK, { stroke: stroke(0.3, PAPER) })])).toEqual([false]);
    expect(over([fillPath(box, PAPER, { stroke: stroke(0.3) })])).toEqual([false]);
    expect(over([fillPath(box, DARK, { stroke: stroke(0.3) })])).toEqual([true]);
  });

  it('is off for the halo of a word, on for the word', () => {
    expect(over([fillPath(box, DARK), text([20, 20], 'A', 'text', 8, { halo: 0.5 })])).toEqual([
      true,
      false,
      true,
    ]);
  });

  it('is back after a clip as it was before', () => {
    const clipped: Mark = { kind: 'clip', steps: box, marks: [fillPath(box, TINT)] };
    expect(over([fillPath(box, DARK), clipped, fillPath(box, DARK)])).toEqual([true, false, true]);
    expect(over([clipped, fillPath(box, DARK)])).toEqual([false, true]);
  });

  it('is nothing that a screen or a grey printer knows', () => {
    expect(over([fillPath(box, DARK)], 'screen')).toEqual([false]);
    expect(over([fillPath(box, DARK)], 'grey')).toEqual([false]);
    expect(over([fillPath(box, DARK)], 'cmyk')).toEqual([true]);
  });
});
