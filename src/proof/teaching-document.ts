import { boxOf } from '../geometry.js';
import { holeIds } from '../page/book-pages.js';
import { onPaper, paperLength } from '../page/green/ground-frame.js';
import type { Fonts } from '../print/fonts.js';
import { drawMarks } from '../print/svg.js';
import { documentOf, escaped } from './html.js';
import type { Proof, ProofState } from './proof-book.js';
import { addressOf } from './proof-documents.js';
import { RELIEF_STEP } from './relief.js';
import { STAGE, type TeachingGreen, teachingGreen } from './teaching-layers.js';

const mm = (value: number): string => `${Number(value.toFixed(3))}`;

/** The shade of the ground lies over the grades, which it darkens, and below all lines. */
const RELIEF_DEPTH = 2;

/** The layers from the lowest to the highest, each a group that is shown or not. */
const stageOf = (
  { frame, layers }: TeachingGreen,
  outline: Parameters<typeof boxOf>[0],
  relief: string | null,
  draw: (marks: TeachingGreen['layers'][number]['marks'], name: string) => string,
): string => {
  const box = boxOf(outline);
  const [x, y] = onPaper(frame, box.minX, box.maxY);
  // The picture is of whole pixels.
  const pixels = (metres: number): string =>
    mm(paperLength(frame, Math.ceil(metres / RELIEF_STEP) * RELIEF_STEP));
  const picture =
    relief === null
      ? ''
      : `<g class="relief" hidden><image href="${relief}" x="${mm(x)}" y="${mm(y)}" width="${pixels(box.maxX - box.minX)}" height="${pixels(box.maxY - box.minY)}" preserveAspectRatio="none"/></g>`;
  const ordered = layers
    .map((layer, k) => ({ layer, k }))
    .sort((a, b) => a.layer.depth - b.layer.depth);
  const groups = (isBelow: boolean): string[] =>
    ordered
      .filter(({ layer }) => layer.depth < RELIEF_DEPTH === isBelow)
      .map(
        ({ layer, k }) =>
          `<g class="layer" data-layer="${layer.name}" data-step="${k}">${draw(layer.marks, layer.name)}</g>`,
      );
  // Words lie over all drawings.
  const words = layers.map(
    (layer, k) =>
      `<g class="layer words" data-step="${k}">${layer.words
        .map(
          ({ at, words: said, sign }) =>
            `<g class="upright" data-at="${at.map(mm).join(',')}">${sign === undefined ? '' : draw([sign], 'sign')}<text x="${mm(at[0])}" y="${mm(at[1])}" dx="2.2" dy="1.5">${escaped(said)}</text></g>`,
        )
        .join('')}</g>`,
  );
  return [
    `<svg class="stage" viewBox="0 0 ${STAGE} ${STAGE}" role="img" aria-label="the green in layers">`,
    `<g class="turned" data-middle="${STAGE / 2}">`,
    ...groups(true),
    picture,
    ...groups(false),
    ...words,
    '</g>',
    '</svg>',
  ].join('\n');
};

const button = (does: string, words: string, key: string): string =>
  `<button type="button" data-does="${does}">${words}&nbsp;<kbd>${key}</kbd></button>`;

/** A green to teach from: the whole screen, one layer after the other; null where there is no such green. */
export const teachingDocument = (
  proof: Proof,
  fonts: Fonts,
  state: ProofState,
  holeId: string,
): string | null => {
  const { book, layout, surfaceOf } = proof.source;
  const green = proof.greenOf(state, holeId);
  if (green === null || layout.use === 'committee') return null;
  const shown = teachingGreen({ green, surface: surfaceOf(holeId), layout, units: book.units });
  const definitions: string[] = [];
  const stage = stageOf(
    shown,
    green.outline,
    green.worth.worth === 'outline'
      ? null
      : escaped(`/relief?${new URLSearchParams({ hole: holeId })}`),
    (marks, name) => {
      const drawn = drawMarks(marks, `t-${name}-`, layout.inks, fonts);
      definitions.push(...drawn.definitions);
      return drawn.body;
    },
  );
  const ids = holeIds(book).filter((id) => proof.greenOf(state, id) !== null);
  const beside = (by: number): string =>
    escaped(
      addressOf('/teach', state, {
        hole: ids[(ids.indexOf(holeId) + by + ids.length) % ids.length],
      }),
    );
  const steps = shown.layers.map(
    ({ title, told }, k) =>
      `<li data-step="${k}"><button type="button" data-to="${k}"><b>${escaped(title)}</b></button><span>${escaped(told)}</span></li>`,
  );
  const stands = shown.stands.map(
    ({ name, degrees }) => `<li data-degrees="${degrees}">${escaped(name)}</li>`,
  );
  return documentOf(
    `${holeId} ${green.name}: the lesson`,
    ['/proof.css', '/teach.css'],
    [
      `<body class="teach" data-next="${beside(1)}" data-previous="${beside(-1)}">`,
      `<svg class="clips" aria-hidden="true" width="0" height="0"><defs>${definitions.join('\n')}</defs></svg>`,
      `<main class="wall" tabindex="-1">${stage}</main>`,
      '<aside class="desk" aria-label="Lesson">',
      `<h1>${escaped(holeId)} ${escaped(green.name)}</h1>`,
      '<p class="told" role="status" data-shows="told"></p>',
      '<p class="stand" data-shows="stand"></p>',
      `<ol class="steps">${steps.join('')}</ol>`,
      `<ul class="stands" hidden>${stands.join('')}</ul>`,
      '<p class="does">',
      button('back', 'back', '←'),
      button('on', 'on', '→'),
      button('stand', 'stand elsewhere', 't'),
      button('turn-left', 'turn left', ','),
      button('turn-right', 'turn right', '.'),
      ...(green.worth.worth === 'outline' ? [] : [button('relief', 'relief', 'r')]),
      button('whole', 'whole screen', 'f'),
      '</p>',
      `<p class="links"><a href="${escaped(addressOf('/', state, { hole: holeId }))}">to the pages</a>, <a href="${beside(-1)}">previous green</a>&nbsp;<kbd>p</kbd>, <a href="${beside(1)}">next green</a>&nbsp;<kbd>n</kbd></p>`,
      '</aside>',
      '<script type="module" src="/browser/teach.js"></script>',
      '</body>',
    ].join('\n'),
  );
};
