import { readdirSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { boxOf, type Point } from '../../src/geometry.js';
import type { Layout } from '../../src/layout/layout.js';
import { parseLayout } from '../../src/layout/load-layout.js';
import {
  circleSteps,
  fillPath,
  hatch,
  ringSteps,
  rule,
  stroke,
  strokePath,
  text,
} from '../../src/page/kit/draw.js';
import { DARK, type Mark, type Page } from '../../src/page/marks/marks.js';

const FOLDER = fileURLToPath(new URL('../../layouts/', import.meta.url));

export const ownLayoutNames = (): string[] =>
  readdirSync(FOLDER)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => basename(name, '.yaml'))
    .sort();

export const ownLayout = (name: string): Layout =>
  parseLayout(readFileSync(`${FOLDER}${name}.yaml`, 'utf8'), `layouts/${name}.yaml`);

/** Pages with every kind of mark, for tests of the writers; the ground on them is invented. */

export const blob = (depth: number, width: number): Point[] =>
  Array.from({ length: 60 }, (_, i) => {
    const a = (i / 60) * 2 * Math.PI;
    const r = 1 + 0.06 * Math.cos(3 * a);
    return [(width / 2) * r * Math.cos(a), depth / 2 + (depth / 2) * r * Math.sin(a)];
  });

/** A green's image at a scale, with its upper left corner at (10, 20) mm. */
export const sampleGreen = (id: string, scale: number, ground = blob(30, 22)): Mark => {
  const box = boxOf(ground);
  const mm = 1000 / scale;
  const outline = ringSteps(
    ground.map(([x, y]) => [10 + (x - box.minX) * mm, 20 + (box.maxY - y) * mm]),
  );
  return {
    kind: 'group',
    role: 'green-image',
    alt: `Green ${id}`,
    ground: { id, outline, width: box.maxX - box.minX, height: box.maxY - box.minY },
    marks: [
      {
        kind: 'clip',
        steps: outline,
        marks: [
          fillPath(circleSteps(30, 45, 14), { ink: 'tint', tone: 0.4 }),
          hatch(circleSteps(30, 45, 9), 30, 0.7, stroke(0.1)),
        ],
      },
      strokePath(outline, stroke(0.35)),
      text([30, 46], 'A', 'text-bold', 9, { align: 'centre', halo: 0.4 }),
    ],
  };
};

export const samplePage = (
  index: number,
  width = 107.95,
  height = 177.8,
  marks: readonly Mark[] = [],
): Page => ({
  id: `page-${index + 1}`,
  title: `Page ${index + 1}`,
  label: `${index + 1}`,
  width,
  height,
  marks: [
    text([width / 2, 14], `Page ${index + 1}`, 'title-bold', 15, { align: 'centre' }),
    rule(10, 16, width - 10, 16, stroke(0.3, DARK)),
    ...marks,
  ],
});

export const samplePages = (layout: Layout, count: number): Page[] =>
  Array.from({ length: count }, (_, i) =>
    samplePage(i, layout.page.width, layout.page.height, [
      sampleGreen(String(i + 1), layout.green.scale, blob(20, 14)),
    ]),
  );
