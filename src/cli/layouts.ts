import type { BindingMethod, Layout } from '../layout/layout.js';
import { loadLayout } from '../layout/layout-file.js';
import { LAYOUT_SCHEMA } from '../layout/layout-schema.js';
import { ownLayouts } from '../layout/own-layouts.js';
import { metresToInches, type UnitSystem } from '../units.js';
import { printJson, printText } from './output.js';

interface LayoutsArguments {
  readonly schema: boolean;
  readonly json: boolean;
  readonly units: UnitSystem;
}

const sizeOf = ({ page }: Layout, units: UnitSystem): string =>
  units === 'metric'
    ? `${page.width} x ${page.height} mm`
    : `${metresToInches(page.width / 1000).toFixed(2)} x ${metresToInches(page.height / 1000).toFixed(2)} in`;

/** What is done with the printed leaves, with the word that layout files have for it. */
const BOUND: Readonly<Record<BindingMethod, string>> = {
  loose: 'loose leaves (loose)',
  'saddle stitch': 'folded and stapled (saddle stitch)',
  perfect: 'glued at the back (perfect)',
  'wire-o': 'punched, on a wire (wire-o)',
  'fold-up': 'one sheet folded small (fold-up)',
};

/** Whom or what a layout is for, by the word that layout files have for it. */
const FOR: Readonly<Record<Layout['use'], string>> = {
  practice: 'practice',
  play: 'play',
  committee: 'the Committee',
};

export const runLayouts = ({ schema, json, units }: LayoutsArguments): void => {
  if (schema) {
    printJson(LAYOUT_SCHEMA);
    return;
  }
  const layouts = ownLayouts().map((name) => loadLayout(name));
  if (json) {
    printJson(
      layouts.map(({ name, title, use, page, green, binding, sheets }) => ({
        name,
        title,
        use,
        width_mm: page.width,
        height_mm: page.height,
        scale: green.scale,
        binding: binding.method,
        sheets: sheets.map((sheet) => sheet.name),
      })),
    );
    return;
  }
  printText(
    layouts
      .map((layout) =>
        [
          `${layout.name}: ${layout.title}`,
          `  page ${sizeOf(layout, units)}, greens 1:${layout.green.scale}, for ${FOR[layout.use]}, ${BOUND[layout.binding.method]}`,
          `  sheets: ${layout.sheets.map((sheet) => sheet.name).join(', ') || 'none'}`,
        ].join('\n'),
      )
      .join('\n'),
  );
};
