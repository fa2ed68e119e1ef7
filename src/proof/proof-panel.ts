import { worthSentence } from '../appraisal/worth.js';
import { outletRows } from '../book/green-figures.js';
import type { Layout } from '../layout/layout.js';
import type { GreenContent } from '../page/book-content.js';
import type { UnitSystem } from '../units.js';
import { escaped } from './html.js';

const puttPart = `<h2>Putt</h2>
<fieldset><legend>a click on the green sets</legend>
<label><input type="radio" name="sets" value="ball" checked> the ball</label>
<label><input type="radio" name="sets" value="hole"> the hole</label>
<label><input type="radio" name="sets" value="spout"> pours water</label>
<label><input type="radio" name="sets" value="rest"> where a ball came to rest</label>
</fieldset>
<p class="enlarge"><button type="button" aria-pressed="false" data-enlarges>enlarge the green</button></p>
<dl class="figures">
<div><dt>aim</dt><dd data-shows="aim">–</dd></div>
<div><dt>pace</dt><dd data-shows="pace">–</dd></div>
</dl>
<dl class="facts" data-shows="facts"></dl>
<dl class="facts">
<div><dt>ball</dt><dd data-shows="ball">–</dd></div>
<div><dt>hole</dt><dd data-shows="hole">–</dd></div>
</dl>
<p class="said" role="status" data-shows="said"></p>
<h2>Water</h2>
<p class="enlarge"><button type="button" data-clears>clear</button></p>
<p class="said" role="status" data-shows="poured"></p>
<ul class="water-rows" data-shows="water"></ul>
<h2>Station</h2>
<p class="enlarge"><label><input type="checkbox" name="station"> four tees about the hole</label>
<label><select name="step" aria-label="from the hole to each tee"><option value="1">one pace out</option><option value="2">two paces out</option><option value="3">three paces out</option></select></label></p>
<p class="said" role="status" data-shows="stationed"></p>
<ul class="water-rows" data-shows="station"></ul>
STATION_PAGES<div class="rolls"><h2>Measured balls</h2>
<p class="said" role="status" data-shows="rolled">Set ball and hole as they were, then tap where the ball came to rest.</p>
<fieldset><legend>it was let go</legend>
<label><input type="radio" name="by" value="r" checked> by a ramp, pointed straight at it</label>
<label><input type="radio" name="by" value="p"> by a putter at the aim above</label>
<label>the ramp lets it go at <input name="release" size="8" maxlength="12" autocomplete="off" placeholder="RELEASE"></label>
</fieldset>
<form class="typed"><label>or it rolled <input name="rolled" size="16" maxlength="40" autocomplete="off" placeholder="9ft 2in, 4 in left"></label> <button>add</button></form>
<p class="enlarge"><button type="button" data-drops>take the last away</button></p>
<ul class="water-rows" data-shows="rolls"></ul></div>
<p class="keys">Keys: <kbd>b</kbd> takes the ball, <kbd>h</kbd> the hole, <kbd>w</kbd> the water’s mark, which <kbd>Enter</kbd> pours at, <kbd>c</kbd> clears, <kbd>m</kbd> the mark of a ball at rest, which <kbd>Enter</kbd> adds; the arrow keys move it STEP, with <kbd>Shift</kbd> FINE; <kbd>s</kbd> sets a station about the hole; <kbd>z</kbd> enlarges; <kbd>n</kbd> and <kbd>p</kbd> turn to the next and the previous green.</p>
<noscript><p class="said">Putts need scripts; the pages do not.</p></noscript>`;

const distancesPart = `<h2>Distances</h2>
<p class="said" role="status" data-shows="place">A click on the hole tells what lies ahead from there.</p>
<dl class="facts" data-shows="distances"></dl>
<p class="keys">The arrow keys move the place, with <kbd>Shift</kbd> finely.</p>`;

/** Where most of the water leaves: each outlet with its share, where several take turns. */
const drainagePart = (green: GreenContent | null, units: UnitSystem): string[] => {
  const rows =
    green === null || green.worth.worth === 'outline' ? [] : outletRows(green.reading, units);
  if (rows.length === 0) return [];
  return [
    '<h2>Drainage</h2>',
    '<dl class="facts" data-shows="outlets">',
    ...rows.map(
      ([name, words]) => `<div><dt>${escaped(name)}</dt><dd>${escaped(words)}</dd></div>`,
    ),
    '</dl>',
  ];
};

/** What the green's survey is worth, and all that was noted of it: the pages beside it have room for less. */
const surveyPart = (green: GreenContent | null): string[] =>
  green === null
    ? []
    : [
        '<h2>Survey</h2>',
        `<p class="said">${escaped(worthSentence(green.worth))}</p>`,
        '<ul class="water-rows" data-shows="survey">',
        ...green.worth.notes.map((note) => `<li>${escaped(note)}</li>`),
        '</ul>',
      ];

/** What the panel beside a green's pages tells. */
export interface Panel {
  readonly layout: Layout;
  readonly units: UnitSystem;
  readonly found: GreenContent | null;
  /** The green on which putts are asked for; null where none are. */
  readonly putts: GreenContent | null;
  /** Whether distances are asked for on a drawing of the hole. */
  readonly isMeasured: boolean;
}

const puttsIn = ({ layout, units }: Panel): string => {
  const metric = units === 'metric';
  return puttPart
    .replace(
      'STATION_PAGES',
      layout.pages.station === undefined
        ? ''
        : '<p class="links"><a href="/" data-station hidden>its pages, to print</a></p>\n',
    )
    .replace('RELEASE', metric ? '1.83 m/s' : '6 ft/s')
    .replace('STEP', metric ? '25 cm' : 'a foot')
    .replace('FINE', metric ? '2 cm' : 'an inch');
};

export const panelOf = (panel: Panel): string => {
  const { layout, units, found, putts, isMeasured } = panel;
  return [
    `<aside class="putt" aria-label="${putts !== null ? 'Putt' : 'Distances'}">`,
    ...(putts !== null ? [puttsIn(panel)] : []),
    ...(layout.use === 'committee' ? [] : drainagePart(putts, units)),
    ...surveyPart(found),
    ...(isMeasured ? [distancesPart] : []),
    '</aside>',
  ].join('\n');
};
