/** The sheet that is printed first, and the pages before changed leaves. */
export const SHEET_WORDS = {
  'first.title': 'Print this first',
  'first.back-title': 'Print this first, back',
  'first.head': '{layout}: how to print and bind it',
  'first.landscape': 'landscape',
  'first.portrait': 'portrait',
  'first.one-side':
    '{number}. Print this sheet alone (page 1 of the file) on {paper}, {lies}, on one side, at 100 % or “actual size”. Switch off “fit to page”.',
  'first.long-edge':
    '{number}. Print this sheet alone (pages 1 and 2 of the file) on {paper}, {lies}, on both sides, turned over on the long edge, at 100 % or “actual size”. Switch off “fit to page”.',
  'first.short-edge':
    '{number}. Print this sheet alone (pages 1 and 2 of the file) on {paper}, {lies}, on both sides, turned over on the short edge, at 100 % or “actual size”. Switch off “fit to page”.',
  'first.ruler':
    '{number}. Lay a ruler on both bars. Each is {length} mm long between its ends. If one is not, the printer changes the scale: greens would be wrong, and a green image could be larger than the Rules allow.',
  'first.light':
    '{number}. Hold the sheet against the light. The cross of the other side should stand in the small ring of this side (1 mm) everywhere. Within the large ring (2 mm) the book still works; beyond it, try the other edge for turning over, or other paper.',
  'first.rest':
    '{number}. If the bars and rings are right, print the rest of the file in the same way.',
  'first.trim': 'Trim each sheet at the corner marks, and keep the sheets in their order.',
  'first.cut':
    'Cut each sheet at the corner marks (where there are none, halve it each way). Take its leaves from left to right, the upper row first, then the next sheet.',
  'first.pile':
    'Keep all sheets in one pile, the first on top, and cut the whole pile at the corner marks (where there are none, halve it each way).',
  'first.piles':
    'Lay the {count} small piles on each other: from left to right, the upper row first, the first pile on top.',
  'first.pairs':
    'Cut each sheet at the corner marks between its pairs of pages (where there are none, halve it). Take the pairs from left to right, the upper row first, then the next sheet. A piece without print is not needed.',
  'first.fold':
    'Fold each piece at the dashed ticks, and put each into the one before it: the cover is outermost.',
  'first.staple':
    'Staple twice through the fold from outside. Then trim the three open edges at the corner marks.',
  'first.trim-one': 'Trim the sheet at its corner marks, where there are any.',
  'first.fold-half': 'With the cover facing you, fold the lower half back behind the upper half.',
  'first.fold-fan':
    'Fold the strip to and fro like a fan, one panel wide, so that the cover stays on top.',
  'first.read-strip':
    'Read the strip from the cover to the right, turn it over and read on; then open it out for the rest.',
  'first.glue':
    'For a glued back, clamp the leaves with their backs level, roughen the backs, glue them and let them dry under weight.',
  'first.punch':
    'Punch the binding edge: left on odd pages, right on even ones. A clear strip is left for the holes.',
  'first.hold':
    'Hold the leaves together with two staples or a ring at the binding edge: left on odd pages, right on even ones.',
  'first.put': 'Put each leaf where the page after this sheet says.',
  'first.bar-alt': 'A bar that measures {length} mm at full size',
  'first.sample': 'The tones differ, strokes stand apart; this is 6 pt type.',
  'first.back': 'The back of the first sheet. Hold it against the light.',
  'first.size': 'Sheet {width} x {height} in, {width_mm} x {height_mm} mm.',

  'changes.title': 'What has changed',
  'changes.since-last': 'what has changed since the last edition',
  'changes.since': 'what has changed since {edition}',
  'changes.document': '{title}: what has changed',
  'changes.list': '{what}: {holes}.',
  'changes.new': 'New in the book',
  'changes.survey': 'New survey of the green',
  'changes.outline': 'Edge of the green',
  'changes.locations': 'Hole locations',
  'changes.tees': 'Tees',
  'changes.line': 'Line of play',
  'changes.map': 'Hazards, fairway or landmarks',
  'changes.ground': 'Heights along the hole',
  'changes.speed': 'Green speed',
  'changes.worth': 'What the survey is worth',
  'changes.names': 'Name, par or stroke index',
  'changes.notes': 'Notes',
  'changes.new-short': 'new',
  'changes.survey-short': 'new survey',
  'changes.outline-short': 'edge of the green',
  'changes.locations-short': 'hole locations',
  'changes.tees-short': 'tees',
  'changes.line-short': 'line of play',
  'changes.map-short': 'hazards and landmarks',
  'changes.ground-short': 'heights',
  'changes.speed-short': 'green speed',
  'changes.worth-short': 'worth of the survey',
  'changes.names-short': 'name, par or index',
  'changes.notes-short': 'notes',
  'changes.book-title': 'The title is another.',
  'changes.book-units': 'The units are others.',
  'changes.book-use': 'The condition of use is another.',
  'changes.book-layout': 'The layout is another.',
  'changes.holes': '{count} holes',
  'changes.page': '{count} of {pages} pages is changed',
  'changes.pages': '{count} of {pages} pages are changed',
  'changes.page-new': '{count} of {pages} pages is changed, {new} of them new',
  'changes.pages-new': '{count} of {pages} pages are changed, {new} of them new',
  'changes.page-lost': '{count} page left out',
  'changes.pages-lost': '{count} pages left out',
  'changes.gone': 'No longer in the book: {holes}.',
  'changes.order': 'Pages stand in another order.',
  'changes.cover-last': 'Changed since the last edition: {list}',
  'changes.cover': 'Changed since {edition}: {list}',
  'changes.head-last': 'changed since the last edition',
  'changes.head': 'changed since {edition}',
  'changes.head-short': 'changed',
  'changes.head-what': '{changed}: {what}',
  'changes.front': 'page {front}',
  'changes.both': 'pages {front} and {back}',
  'changes.leaf': 'leaf {leaf} ({pages})',
  'changes.in-place': 'Put in the place of the old leaf: {leaves}.',
  'changes.at-front': 'Leaf {leaf} ({pages}) is put in at the front.',
  'changes.behind': 'Leaf {leaf} ({pages}) is put in behind leaf {before} of the new book.',
  'changes.replaces': 'Leaf {leaf} ({pages}) takes the place of the old leaf {old}.',
  'changes.out': 'Old leaves that are taken out: {leaves}.',
  'changes.renumbered':
    'Leaves that stay keep their page numbers, which the new book counts otherwise.',
  'changes.stapled':
    'Of a stapled book cut the old leaf off 4 mm from the fold, and glue the new one to the strip that is left.',
  'changes.glued':
    'Of a glued book cut the old leaf off 4 mm from the back, and glue the new one to the strip that is left.',
} as const;
