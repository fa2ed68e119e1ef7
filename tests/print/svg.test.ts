import sax from 'sax';
import { describe, expect, it } from 'vitest';
import { rule, stroke, text } from '../../src/page/kit/draw.js';
import type { PathStep } from '../../src/page/marks/marks.js';
import { openFonts } from '../../src/print/fonts.js';
import { pathBox } from '../../src/print/path-geometry.js';
import { writeSvg } from '../../src/print/svg.js';
import { NAMES } from './names.js';
import { ownLayout, ownLayoutNames, sampleGreen, samplePage, samplePages } from './sample-pages.js';

const fonts = openFonts();
const pocket = ownLayout('pocket');

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

/** All elements; throws where the XML is not well formed. */
const elementsOf = (svg: string): Element[] => {
  const parser = sax.parser(true, {});
  const elements: Element[] = [];
  parser.onopentag = (tag) =>
    elements.push({ name: tag.name, attributes: tag.attributes as Record<string, string> });
  parser.onerror = (error) => {
    throw error;
  };
  parser.write(svg).close();
  return elements;
};

const stepsOf = (d: string): PathStep[] =>
  [...d.matchAll(/([MLCZ])([^MLCZ]*)/g)].map(
    ([, command, numbers]) =>
      [
        command,
        ...numbers
          .split(/\s+/)
          .filter((v) => v !== '')
          .map(Number),
      ] as unknown as PathStep,
  );

describe('a page as SVG', () => {
  it.each(ownLayoutNames())('%s: is well formed, in millimetres, the same at every run', (name) => {
    const layout = ownLayout(name);
    for (const page of samplePages(layout, 2)) {
      const svg = writeSvg(page, layout.inks, fonts);
      expect(writeSvg(page, layout.inks, openFonts())).toBe(svg);
      const [root] = elementsOf(svg);
      expect(root.attributes.width).toBe(`${layout.page.width}mm`);
      expect(root.attributes.viewBox).toBe(`0 0 ${layout.page.width} ${layout.page.height}`);
    }
  });

  it('draws every mark where it is, to 0.001 mm', () => {
    const page = {
      ...samplePage(0),
      marks: [rule(12.3456, 20, 80, 60.5, stroke(0.3)), text([50, 90], 'H', 'text', 20)],
    };
    const paths = elementsOf(writeSvg(page, pocket.inks, fonts)).filter((e) => e.name === 'path');
    const [line, letter] = paths.map((path) => pathBox(stepsOf(path.attributes.d)));
    expect(line.minX).toBeCloseTo(12.3456, 4);
    expect(line.maxY).toBeCloseTo(60.5, 4);
    // The letter stands on its baseline, as high as the typeface draws it.
    const high = fonts.text.font.glyphForCodePoint(72).bbox.maxY / 1000;
    expect(letter.maxY).toBeCloseTo(90, 3);
    expect(letter.maxY - letter.minY).toBeCloseTo(high * 20 * (25.4 / 72), 3);
  });

  it('says its words to those who do not see it', () => {
    const names = Object.values(NAMES).flat();
    const marks = names.map((name, i) => text([10, 10 + i * 6], name, 'text', 9));
    const svg = writeSvg({ ...samplePage(0), marks }, pocket.inks, fonts);
    const labels = elementsOf(svg).flatMap((e) => e.attributes['aria-label'] ?? []);
    expect(labels.slice(1)).toEqual(names);
    const green = writeSvg(
      samplePage(0, 107.95, 177.8, [sampleGreen('7', 480)]),
      pocket.inks,
      fonts,
    );
    expect(elementsOf(green).some((e) => e.attributes['aria-label'] === 'Green 7')).toBe(true);
  });

  it('two pages can stand in one document: their names do not meet', () => {
    const ids = [0, 1].map((i) =>
      elementsOf(
        writeSvg(samplePage(i, 107.95, 177.8, [sampleGreen('1', 480)]), pocket.inks, fonts),
      ).flatMap((e) => e.attributes.id ?? []),
    );
    expect(ids[0].length).toBeGreaterThan(1);
    expect(ids[0].filter((id) => ids[1].includes(id))).toEqual([]);
  });
});
