/** Pictures of single commands: one putt, what a survey is worth, what moved, a course as its map was settled. */
export const PICTURE_WORDS = {
  'putt-picture.title': 'One putt',
  'putt-picture.length': '{length} putt',
  'putt-picture.aim': 'aim {aim}',
  'putt-picture.aim-known': 'aim {aim}, {doubt} either way by the survey',
  'putt-picture.pace': "pace {pace} · in at {clock} o'clock",
  'putt-picture.short': 'no launch reaches the hole',
  'putt-picture.never-stops': 'no pace holds this putt: the slowest arrival is drawn',
  'putt-picture.leaves-green': 'the path leaves the surveyed ground',
  'putt-picture.alt': 'A putt of {length} seen from above: aim {aim}, pace {pace}.',

  'survey-picture.title': 'What this survey is worth',
  'survey-picture.verdict': 'Verdict: {worth} ({reasons})',
  'survey-picture.points':
    '{count} points on {area}, {apart} apart; {covered} % of the ground covered, {level} % of it under 0.9 %.',
  'survey-picture.points-noise':
    '{count} points on {area}, {apart} apart, noise {noise}; {covered} % of the ground covered, {level} % of it under 0.9 %.',
  'survey-picture.too-few': 'Too few points to fit a surface to.',
  'survey-picture.slope':
    'Slope known to {slope} % (standard deviation); direction of fall known on {known} % of the ground over 0.9 %.',
  'survey-picture.point': 'point surveyed',
  'survey-picture.contours': 'contours every {interval}',
  'survey-picture.north': 'N',
  'survey-picture.outlier': 'outlier',
  'survey-picture.doubtful': 'direction of fall not known',
  'survey-picture.bare': 'not surveyed',
  'survey-picture.hollow': 'closed hollow',
  'survey-picture.step-key': 'step between strips',
  'survey-picture.step': 'step {height}',

  'moved.title': '{green}: what moved',
  'moved.green': 'Hole {number}, {name}',
  'moved.two': 'Two surveys',
  'moved.hole': 'hole {number}',
  'moved.nothing':
    'Nothing moved beyond the uncertainty of both surveys (one standard deviation of the difference: {sd}).',
  'moved.area':
    '{area} of {green} moved beyond the uncertainty of both surveys (a false alarm on about one green in 20).',
  'moved.lay-lower': 'The newer survey lay {size} lower as a whole; that is taken off.',
  'moved.lay-higher': 'The newer survey lay {size} higher as a whole; that is taken off.',
  'moved.lies-lower':
    'The newer survey lies {size} lower as a whole: another benchmark? --level takes that off.',
  'moved.lies-higher':
    'The newer survey lies {size} higher as a whole: another benchmark? --level takes that off.',
  'moved.unknown': '{area} are surveyed too thinly to tell.',
  'moved.rose': '{area} round {place} rose by {mean} on average, {most} at most (± {sd}).',
  'moved.sank': '{area} round {place} sank by {mean} on average, {most} at most (± {sd}).',
  'moved.no-tables': 'No table needs to be printed again.',
  'moved.tables': 'Tables to print again: {list}.',
  'moved.key-rose': 'rose: tinted, strokes upright',
  'moved.key-sank': 'sank: bare, strokes level',
  'moved.alt-nothing': '{title}: nothing moved',
  'moved.alt': '{title}: {count} regions moved',

  'course-picture.alt': 'Map of {title}',
  'course-picture.nothing': 'Nothing in doubt',
  'course-picture.look': 'Look at',
  'course-picture.decided': 'Decided',
  'course-picture.hole': 'hole {number}: {words}',
  'course-picture.more': '… and {count} lines more, in the listing',
  'course-picture.scale-imperial': '{length} yards; north is up',
  'course-picture.scale-metric': '{length} metres; north is up',
} as const;
